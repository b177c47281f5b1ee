/**
 * A scenario as read: plain data with exact quantities in canonical units (items per minute, minutes, seconds for the
 * tick, metres). Lists keep the order of the file, which settles every tie in the model.
 */
import type { Rational } from "../quantity/rational.ts";
import type { Tactic } from "./tactic.ts";

export interface Scenario {
  readonly title: string;
  readonly horizonMin: Rational;
  readonly tickS: Rational | "auto";
  /** Names the random streams; without random elements it changes nothing. */
  readonly seed: string;
  readonly feeds: readonly Feed[];
  readonly machines: readonly MachineGroup[];
  readonly lines: readonly Line[];
  readonly outlets: readonly Outlet[];
  readonly tactics: readonly Tactic[];
}

export interface Feed {
  readonly id: string;
  readonly item: string;
  /** At least one step; the first starts at 0, the others later and later. A steady feed has exactly one. */
  readonly profile: readonly FeedStep[];
}

export interface FeedStep {
  readonly fromMin: Rational;
  readonly ratePerMin: Rational;
}

/** `count` equal machines but for their speeds. */
export interface MachineGroup {
  readonly id: string;
  /** The machines' own ids: `id` alone where the file states no count, else `id-1` … `id-count`. */
  readonly members: readonly string[];
  /** Cycle time at 100 % speed. */
  readonly cycleMin: Rational;
  readonly takes: readonly ItemCount[];
  readonly makes: readonly ItemCount[];
  /** Room for each kind taken, in the order of `takes`; never less than one cycle takes. */
  readonly infeed: readonly ItemCount[];
  /** Room for each kind made, in the order of `makes`; never less than one cycle makes. */
  readonly outfeed: readonly ItemCount[];
  /** One speed for each member, 1 for 100 %. */
  readonly speeds: readonly Rational[];
}

export interface ItemCount {
  readonly item: string;
  readonly count: number;
}

export interface BeltSpec {
  readonly ratePerMin: Rational;
  /** Room, items. */
  readonly capacity: number;
  readonly transitMin: Rational;
  /** Metres, where the file states the belt's length. */
  readonly lengthM: Rational | null;
}

/** `null` is a direct hand-over: no belt, no room, no delay. */
export type BeltOrNone = BeltSpec | null;

export type Line = ChainLine | CustomLine;

export interface ChainLine {
  readonly id: string;
  readonly layout: "chain";
  /** Feeds, by id. */
  readonly from: readonly string[];
  /** Machine groups, single machines or outlets, by id, in feeding order. */
  readonly to: readonly string[];
  readonly belt: BeltOrNone;
  readonly branch: BeltOrNone;
  readonly dividers: "even" | "through-first" | "branch-first";
  readonly end: "stop";
}

export interface CustomLine {
  readonly id: string;
  readonly layout: "custom";
  readonly dividers: readonly Junction[];
  readonly merges: readonly Junction[];
  /** In file order, which is also the order of a divider's outlets and a merge's inlets. */
  readonly belts: readonly CustomBelt[];
}

export type Rule = "even" | "ordered";

export interface Junction {
  readonly id: string;
  readonly rule: Rule;
}

export interface CustomBelt {
  readonly id: string;
  /** A feed, a machine, or a divider or merge of the same line, by id. */
  readonly from: string;
  /** A machine, an outlet, or a divider or merge of the same line, by id. */
  readonly to: string;
  /** Kinds the belt's entrance lets pass; `null` for all. */
  readonly only: readonly string[] | null;
  readonly belt: BeltOrNone;
}

export interface Outlet {
  readonly id: string;
  readonly item: string;
}
