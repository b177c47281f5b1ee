/** What a result says of a plant as a whole: who waits for what and why, what jams, what batches and limits do. */
import type { Exact } from "./result.ts";

/** One reason for which a machine waits: items it lacks, or a product it has no room for. */
export interface Wait {
  readonly state: "starved" | "blocked";
  /** The kind it lacks, or the kind for which there is no room. Where it lacks several at once, each counts in full. */
  readonly item: string;
  /** Over the horizon. */
  readonly minutes: number;
  /** Share of the settled period; `null` where settling is not proved. */
  readonly settled_share: number | null;
  /** Of the settled wait; `null` where it does not wait once settled, or that is not known. */
  readonly cause: Cause | null;
}

/** Traced from the waiting machine from element to element to the one that gives way to none. */
export interface Cause {
  readonly code: CauseCode;
  /** The feed, belt, machine or limit at which it begins. */
  readonly element: string;
  /** The kind that is short there, or in the way. */
  readonly item: string;
  /** Machines on the way from the waiting one to the cause, and what each waits for. */
  readonly via: readonly { readonly machine: string; readonly state: "starved" | "blocked"; readonly item: string }[];
  /** Machines that take their full need of the short kind before it comes here. */
  readonly served_first: readonly string[];
}

/**
 * `short-feed`: a feed gives all it has. `belt`: a belt carries all it can. `slow-machine`: a machine never waits and
 * makes or takes too little. `jam`: an item that nobody takes is in the way. `outlet`: nothing takes the product.
 * `unsettled`: it is not known.
 */
export type CauseCode = "short-feed" | "belt" | "slow-machine" | "jam" | "outlet" | "circular";

/** What holds the plant's settled output below its full one, most lost products first. */
export interface Bottleneck {
  readonly code: CauseCode;
  readonly element: string;
  readonly item: string;
  /** Machines of the final stage that it holds up. */
  readonly machines: readonly string[];
  /** Products per minute that they make less than at full speed. */
  readonly lost_per_min: number;
}

/** An item that stands at the head of a belt for ever. */
export interface Jam {
  readonly item: string;
  /** The belt at whose head it stands, and the element there that does not take it. */
  readonly belt: string;
  readonly at: string;
  readonly since_min: number;
  /** Machines starved for ever behind it, with what they wait for. */
  readonly starved: readonly { readonly machine: string; readonly item: string }[];
  readonly stops_plant: boolean;
}

/** A line that carries several kinds: what it is offered of each, and what can be taken. */
export interface Mix {
  readonly line: string;
  readonly jams: boolean;
  readonly kinds: readonly MixKind[];
  /**
   * By how much the share of the kind nearest to its limit may rise, as a share of it, before it holds up the line;
   * 0 where nothing may, `null` where no kind ever holds it up (each has somewhere to go).
   */
  readonly margin: Exact | null;
}

export interface MixKind {
  readonly item: string;
  readonly offered_per_min: Exact;
  /** What machines on the line can take while all others have enough; `null`: an outlet takes any rate. */
  readonly takeable_per_min: Exact | null;
}

/** An ordered divider whose first outlet is slower than what comes: it takes that belt's rate out of the flow. */
export interface RateCut {
  readonly divider: string;
  readonly belt: string;
  readonly cut_per_min: Exact;
  readonly taken_per_min: Exact | null;
  readonly passed_on_per_min: Exact | null;
  readonly arriving_per_min: Exact | null;
  /** `false`: less arrives than the belt could take, so nothing is passed on steadily. */
  readonly is_full: boolean | null;
}

/** A feed's vehicles and its surge buffer. */
export interface BatchResult {
  readonly feed: string;
  readonly every_min: Exact | null;
  readonly items: number | null;
  /** `null` without a surge buffer. */
  readonly surge: SurgeResult | null;
  /** Whether no machine fed from it waits for its items between two vehicles, once settled. */
  readonly runs_through: boolean | null;
  /** Minutes of a settled cycle for which unloading is held up, and for which a vehicle waits for the one before it. */
  readonly held_up_min: number | null;
  readonly vehicle_waits_min: number | null;
}

export interface SurgeResult {
  readonly room: number;
  readonly peak: number;
  readonly settled_low: number | null;
  readonly settled_high: number | null;
  /** Room with which unloading is never held up once settled; `null` where it is not known. */
  readonly needed: number | null;
}

export interface LimitResult {
  readonly what: "hold-up" | "dwell";
  /** `null` for the whole plant. */
  readonly place: string | null;
  /** `null` for every kind. */
  readonly item: string | null;
  /** Items or minutes. */
  readonly limit: number;
  readonly peak: number;
  readonly peak_at_min: number | null;
  /** Hold-up: minutes above the limit over the horizon, and the share of the settled period. */
  readonly over_min: number | null;
  /** Dwell: items taken after longer than the limit over the horizon, and items that lie longer at its end. */
  readonly over_items: number | null;
  readonly lying_over: number | null;
  readonly settled_over_share: number | null;
}

/** Where items lie. */
export interface HoldUpPlace {
  /** A line's belts, a group's infeed or outfeed buffers, a feed's surge buffer. */
  readonly place: string;
  readonly part: "belts" | "infeed" | "outfeed" | "surge";
  readonly item: string;
  /** At the horizon's end, or over the sampled part of a settled period on average. */
  readonly settled: number;
  /** The most seen in the samples. */
  readonly peak: number;
}
