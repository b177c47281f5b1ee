/**
 * A network compiled for the engine: whole numbers in typed arrays, elements addressed by index within their kind.
 *
 * Connections, feeds, machines and so on keep the order of the network. A list of lists (`Lists`) holds list i in
 * `values[start[i]] … values[start[i + 1] - 1]`. Where a field may be absent, -1 stands for none.
 */
import type { Rational } from "../quantity/rational.ts";
import type { Network } from "./network.ts";
import type { RandomProgram } from "./random-program.ts";

export interface Lists {
  readonly start: Int32Array;
  readonly values: Int32Array;
}

export { DIVIDER, EVEN, FEED, LAST_FIRST, MACHINE, MERGE, ORDERED, OUTLET } from "./kinds.ts";

export interface Program {
  readonly network: Network;
  readonly tickS: Rational;
  readonly itemCount: number;

  /** The sweep: kind and index of each element, in order. */
  readonly sweepKind: Uint8Array;
  readonly sweepIndex: Int32Array;

  /**
   * A pace is the ideal schedule of one rated element: an interval of `whole + rest / parts` ticks, 0 ≤ rest < parts.
   * Feeds come first, then their vehicles, belt entries, belt exits and machine cycles.
   */
  readonly pace: {
    readonly count: number;
    readonly whole: Int32Array;
    readonly rest: Int32Array;
    readonly parts: Int32Array;
  };

  readonly connection: {
    readonly count: number;
    /** 1 at `connection * itemCount + item` where the item is let in. */
    readonly allows: Uint8Array;
    readonly belt: Int32Array;
    readonly toKind: Uint8Array;
    readonly toIndex: Int32Array;
  };

  readonly belt: {
    readonly count: number;
    /** Places: the stated room, and where a belt has just room for what is under way, one more at its entrance. */
    readonly capacity: Int32Array;
    readonly room: Int32Array;
    readonly transitTicks: Int32Array;
    /** Where the belt's ring of `capacity` places begins. */
    readonly ring: Int32Array;
    readonly places: number;
    readonly entryPace: Int32Array;
    readonly exitPace: Int32Array;
    readonly connection: Int32Array;
    /** Index in `places` of where its items lie. */
    readonly at: Int32Array;
    /** Places in the sweep of the elements in whose turns items come onto it and leave it. */
    readonly giver: Int32Array;
    readonly taker: Int32Array;
  };

  /** Where items lie on belts: lines, then surge buffers by their feeds. */
  readonly places: readonly { readonly id: string; readonly isSurge: boolean }[];

  readonly feed: {
    readonly count: number;
    /** The kinds in the order in which they follow one another, over and over. */
    readonly sequence: Lists;
    /** Items a vehicle brings; 0 for a feed without vehicles, whose vehicle pace stands still. */
    readonly batchItems: Int32Array;
    readonly hasVehicles: boolean;
    /** Tick of the first vehicle. */
    readonly firstVehicle: Int32Array;
    /** The connection it feeds; -1 for none. */
    readonly connection: Int32Array;
    /** 1 where a merge takes from the feed in its own turn. */
    readonly pulled: Uint8Array;
    /** Steps of all feeds in order of their first tick. */
    readonly steps: readonly FeedStepTicks[];
  };

  readonly divider: {
    readonly count: number;
    /** The inlet's belt; -1 where items are handed over directly. */
    readonly inletBelt: Int32Array;
    readonly outlets: Lists;
    /** ORDERED or EVEN. */
    readonly rule: Uint8Array;
  };

  readonly merge: {
    readonly count: number;
    /** Inlet connections. */
    readonly inlets: Lists;
    /** For each inlet in `inlets`, the feed that hands over directly; -1 for a belt. */
    readonly inletFeed: Int32Array;
    readonly outlet: Int32Array;
    readonly even: Uint8Array;
  };

  readonly machine: {
    readonly count: number;
    /** In the sweep. */
    readonly place: Int32Array;
    readonly pace: Int32Array;
    /** Buffers: infeeds `infeed[m] … outfeed[m] - 1`, outfeeds `outfeed[m] … infeed[m + 1] - 1`. */
    readonly infeed: Int32Array;
    readonly outfeed: Int32Array;
    /** At `machine * itemCount + item`: the infeed buffer for the item, or -1. */
    readonly bufferFor: Int32Array;
    readonly inletBelts: Lists;
  };

  readonly buffer: {
    readonly count: number;
    readonly item: Int32Array;
    readonly capacity: Int32Array;
    /** Items one cycle takes or makes. */
    readonly perCycle: Int32Array;
    readonly ring: Int32Array;
    readonly places: number;
    /** Index in `groups` of the infeed or outfeed buffers of its machine group that hold its kind. */
    readonly group: Int32Array;
    readonly groups: readonly BufferGroup[];
    /** Connections that an outfeed buffer feeds; an empty list lets the products leave by themselves. */
    readonly outlets: Lists;
  };

  readonly limits: readonly CompiledLimit[];
  /** By kind: the longest dwell that keeps to its limit; more than any run lasts where there is none. */
  readonly dwellLimit: Float64Array;

  readonly outlet: {
    readonly count: number;
    /** The kind it takes; -1 for all. */
    readonly item: Int32Array;
    readonly inletBelts: Lists;
  };

  /** `null` where nothing is left to chance. */
  readonly random: RandomProgram | null;
}

export interface BufferGroup {
  /** The machine group, or a machine that belongs to none. */
  readonly place: string;
  readonly part: "infeed" | "outfeed";
  readonly item: string;
}

/** At most so many items of a kind on the belts of a place and in these buffers (all of that kind) together. */
export interface CompiledLimit {
  readonly item: number;
  readonly most: number;
  /** Whether it holds for the whole plant, whose count is at hand. */
  readonly isPlant: boolean;
  /** Index in `places`; -1 for none. */
  readonly place: number;
  readonly buffers: Int32Array;
}

/** From tick `tick` on, feed `feed` runs at this pace; `parts` 0 stops it. */
export interface FeedStepTicks {
  readonly feed: number;
  readonly tick: number;
  readonly whole: number;
  readonly rest: number;
  readonly parts: number;
}
