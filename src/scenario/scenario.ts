/**
 * A scenario as read: plain data with exact quantities in canonical units (items per minute, minutes, seconds for the
 * tick, metres). Lists keep the order of the file, which settles every tie in the model.
 */
import type { Ways } from "../quantity/counts.ts";
import type { Rational } from "../quantity/rational.ts";
import type { LengthUnit } from "../quantity/units.ts";
import type { Costs } from "./costs.ts";
import type { Layout } from "./layout.ts";
import type { Means } from "./means.ts";
import type { Random } from "./random-elements.ts";
import type { Tactic } from "./tactic.ts";

export interface Scenario {
  readonly title: string;
  /** How long to simulate; where the file leaves it open, the least that shows all that is stated. */
  readonly horizonMin: Rational;
  /** Until the line has settled: `horizonMin` is lengthened by `withHorizon`. */
  readonly horizonIsAuto: boolean;
  readonly tickS: Rational | "auto";
  /** Names the random streams; without random elements it changes nothing. */
  readonly seed: string;
  readonly feeds: readonly Feed[];
  readonly machines: readonly MachineGroup[];
  readonly lines: readonly Line[];
  readonly outlets: readonly Outlet[];
  readonly limits: Limits;
  readonly floor: Floor;
  /** In which the file states most of its lengths and speeds, for what is written of them; all values here are metric. */
  readonly lengthUnit: LengthUnit;
  readonly random: Random;
  /** What the plant is meant to make, which its size is worked out from; nothing else asks for it. */
  readonly wanted: readonly WantedRate[];
  readonly means: Means;
  /** `null`: none are stated, and nothing is said about money. */
  readonly costs: Costs | null;
  readonly tactics: readonly Tactic[];
}

export interface Feed {
  readonly id: string;
  /** The kinds it feeds and in which proportion, in file order; one entry for a feed of one kind. */
  readonly items: readonly ItemCount[];
  /** How several kinds follow one another: as evenly as whole items allow, or each kind in one block of its count. */
  readonly order: "spread" | "blocks";
  /**
   * At least one step; the first starts at 0, the others later and later. A steady feed has exactly one, a batch feed one
   * at the rate of unloading.
   */
  readonly profile: readonly FeedStep[];
  /** The share of what is needed that it gives, where the file says so in place of a rate; `profile` follows from it. */
  readonly ofNeed: Rational | null;
  /** Vehicles unloaded one after another; `null` feeds all the time. */
  readonly batch: Batch | null;
  /** Room of the surge buffer between the feed and its line, items; `null` for none. */
  readonly surge: number | null;
}

/** A vehicle that comes before the last one is empty waits; one that has waited a whole interval puts off those after it. */
export interface Batch {
  readonly everyMin: Rational;
  readonly items: number;
  /** When the first one comes. */
  readonly firstMin: Rational;
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
  /** Of each member: the floor's for machines where the group states none. */
  readonly footprint: Footprint;
}

export interface ItemCount {
  readonly item: string;
  readonly count: number;
}

export interface WantedRate {
  readonly item: string;
  readonly perMin: Rational;
}

export interface BeltSpec {
  readonly ratePerMin: Rational;
  /** Room, items. */
  readonly capacity: number;
  readonly transitMin: Rational;
  /** Where the file states the belt in metres; `null` for one stated by capacity and transit, which cannot be drawn to scale. */
  readonly metres: BeltMetres | null;
}

/** Metres, and metres per minute. */
export interface BeltMetres {
  readonly lengthM: Rational;
  readonly speedMPerMin: Rational;
  readonly pitchM: Rational;
}

/** `null` is a direct hand-over: no belt, no room, no delay. */
export type BeltOrNone = BeltSpec | null;

export type LineOf<L extends Layout> = Extract<Line, { readonly layout: L }>;

export type Line = ChainLine | TreeLine | LoopLine | LanesLine | CustomLine;

export interface ChainLine {
  readonly id: string;
  readonly layout: "chain";
  /** Feeds, and machine groups or single machines whose products it collects, by id, in the order in which they join. */
  readonly from: readonly string[];
  /** Machine groups, single machines or outlets, by id, in feeding order. */
  readonly to: readonly string[];
  readonly belt: BeltOrNone;
  readonly branch: BeltOrNone;
  /** Stretches of the collecting belt from merge to merge. */
  readonly collect: BeltOrNone;
  readonly dividers: "even" | "through-first" | "branch-first" | "weighted";
  /** How the collecting side's merges serve the belt and the machine that joins it. */
  readonly merges: "even" | "belt-first" | "joining-first";
  readonly end: ChainEnd;
}

/** What becomes of items that pass the last consumer: they pile up, leave, or go back to a merge at the head. */
export type ChainEnd =
  | { readonly kind: "stop" }
  | { readonly kind: "outlet"; readonly outlet: string }
  | { readonly kind: "return"; readonly belt: BeltSpec };

/** What trees and loops state alike: dividers share the flow out by the machines' needs. */
interface SharedLine {
  readonly id: string;
  /** As a chain's. */
  readonly from: readonly string[];
  /** Machine groups and single machines, or outlets alone, by id, in the order in which the dividers' outlets lead to them. */
  readonly to: readonly string[];
  /** From divider to divider. */
  readonly belt: BeltOrNone;
  /** From a divider to its machine or to a merge of several before it, and from there. */
  readonly branch: BeltOrNone;
  readonly collect: BeltOrNone;
  readonly merges: ChainLine["merges"];
  /** How many outlets the site's dividers can have. */
  readonly ways: Ways;
}

/** Even dividers one below the other, so that each machine has its share of the flow at once. */
export interface TreeLine extends SharedLine {
  readonly layout: "tree";
}

/** A tree with more outlets than are wanted; what leaves by the spare ones goes back before the first divider. */
export interface LoopLine extends SharedLine {
  readonly layout: "loop";
  readonly return: BeltSpec;
}

/** Incoming lanes evened out over outgoing ones: each is parted evenly, and each gathers its part of all. */
export interface LanesLine {
  readonly id: string;
  readonly layout: "lanes";
  /** Feeds, machine groups and single machines, by id; each feed and each machine is an incoming lane. */
  readonly from: readonly string[];
  /** Machine groups, single machines and outlets, by id; each machine and each outlet ends an outgoing lane. */
  readonly to: readonly string[];
  /** Of the incoming lanes, between their dividers, and of the outgoing lanes. */
  readonly belt: BeltOrNone;
  /** From a lane's dividers across to an outgoing lane's merge. */
  readonly branch: BeltOrNone;
  /** How many outlets the site's dividers can have. */
  readonly ways: Ways;
  /** Of each incoming lane; `null` where dividers make just as many parts as there are outgoing lanes. */
  readonly return: BeltSpec | null;
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
  /** Of a weighted divider, which is an even one with so many turns for each of its belts in their order. */
  readonly weights?: readonly number[];
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

/** What may lie on the line at once, and for how long. */
export interface Limits {
  readonly holdUp: readonly HoldUpLimit[];
  readonly dwell: readonly DwellLimit[];
}

export interface HoldUpLimit {
  /** A line (its belts), a machine or group (its buffers) or a feed (its surge buffer); `null` for the whole plant. */
  readonly place: string | null;
  readonly item: string;
  readonly most: number;
}

export interface DwellLimit {
  /** `null` for every kind. */
  readonly item: string | null;
  readonly limitMin: Rational;
}

/** What stands on the floor takes up so much of it: `length` along the belt that leads to it, `width` across. */
export interface Footprint {
  readonly lengthM: Rational;
  readonly widthM: Rational;
}

export const LENGTHS = ["from-grid", "as-stated"] as const;
export type Lengths = (typeof LENGTHS)[number];

/** By which the floor area of a layout is counted. */
export interface Floor {
  readonly machine: Footprint;
  readonly divider: Footprint;
  readonly merge: Footprint;
  /** Width of a belt. */
  readonly beltM: Rational;
  /** Left free along every row. */
  readonly aisleM: Rational;
  /** Of the belts of layouts that are drawn up: as the way on the grid is, or all as the file states one. */
  readonly lengths: Lengths;
}
