/**
 * A plant's lines expanded into elements. Every layout becomes such a network, and the engine and the flow solution know
 * nothing else. Element ids are unique across the whole network. Lists keep the order of the file, but for `machines`,
 * which stand in the order in which the flow comes to them; the order of `connections` is the order of a divider's
 * outlets, of a merge's inlets, and of a machine's inlets and outlets.
 */
import type { Rational } from "../quantity/rational.ts";
import type { BeltOrNone, DwellLimit, Feed, ItemCount, Rule } from "../scenario/scenario.ts";

export interface Network {
  /** Every item kind that occurs, in order of first mention. */
  readonly items: readonly string[];
  readonly feeds: readonly FeedElement[];
  readonly dividers: readonly DividerElement[];
  readonly merges: readonly MergeElement[];
  readonly machines: readonly MachineElement[];
  readonly outlets: readonly OutletElement[];
  readonly connections: readonly Connection[];
  readonly lines: readonly string[];
  readonly surges: readonly Surge[];
  readonly holdUpLimits: readonly PlaceLimit[];
  readonly dwellLimits: readonly DwellLimit[];
}

/** A feed without its surge buffer, which is an element of its own. */
export type FeedElement = Pick<Feed, "id" | "items" | "order" | "profile" | "batch">;

/** A surge buffer is a belt of no length: a queue, first in, first out, from the feed to its line. */
export interface Surge {
  readonly feed: string;
  readonly connection: string;
}

/**
 * At most so many items of a kind on these connections' belts (all of the plant, of a line or of a surge buffer) and in
 * these machines' buffers together.
 */
export interface PlaceLimit {
  /** `null` for the whole plant. */
  readonly place: string | null;
  readonly item: string;
  readonly most: number;
  readonly connections: readonly string[];
  readonly machines: readonly string[];
}

/** One inlet, two to n outlets, no room of its own. */
export interface DividerElement {
  readonly id: string;
  readonly line: string;
  readonly rule: Rule;
  /** Of an even one whose outlets' turns are not alike: so many for each outlet, in order, without a common factor. */
  readonly weights?: readonly number[];
}

/** Two to n inlets, or one at the hopper of a surge buffer; one outlet, no room of its own. */
export interface MergeElement {
  readonly id: string;
  readonly line: string;
  readonly rule: Rule;
}

export interface MachineElement {
  readonly id: string;
  /** The machine group of the file; itself if left out. */
  readonly group?: string;
  /** The line that feeds it, or `null` where no line reaches it. */
  readonly line: string | null;
  /** Cycle time at this machine's own speed. */
  readonly cycleMin: Rational;
  readonly takes: readonly ItemCount[];
  readonly makes: readonly ItemCount[];
  /** Room for each kind taken, in the order of `takes`. */
  readonly infeed: readonly ItemCount[];
  /** Room for each kind made, in the order of `makes`. */
  readonly outfeed: readonly ItemCount[];
}

export interface OutletElement {
  readonly id: string;
  /** `null` takes every kind. */
  readonly item: string | null;
}

/** From one element to another, by a belt or by direct hand-over. */
export interface Connection {
  readonly id: string;
  readonly line: string;
  readonly from: string;
  readonly to: string;
  /** Kinds let in; `null` for all. */
  readonly only: readonly string[] | null;
  readonly belt: BeltOrNone;
}

/** What one line adds to the network. */
export interface LineElements {
  readonly dividers: readonly DividerElement[];
  readonly merges: readonly MergeElement[];
  readonly connections: readonly Connection[];
}
