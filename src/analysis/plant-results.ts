/** What a result says of a plant as a whole: who waits for what and why, what jams, what batches and limits do. */
import type { Exact } from "./exact.ts";

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
  /** The feed, belt, machine, line or outlet at which it begins. */
  readonly element: string;
  /** Others of which the same is to be said: feeds that give all they have, machines that run all the time; at most 20. */
  readonly alike: readonly string[];
  /** The kind that is short there, or in the way. */
  readonly item: string;
  /** Machines on the way from the waiting one to the cause, and what each waits for; the nearest, at most 20. */
  readonly via: readonly { readonly machine: string; readonly state: "starved" | "blocked"; readonly item: string }[];
  /** Machines that take their full need of the short kind before it comes here, at most 20. */
  readonly served_first: readonly string[];
  /** Ordered dividers and merges on the way at which others come first; only where there are any. */
  readonly decided_by?: readonly string[];
  /** Only of `taken-off`: the outlet by which the kind leaves. */
  readonly outlet?: string;
}

/**
 * `short-feed`: a feed gives all it has. `slow-unloading`: its vehicles are unloaded more slowly than they bring. `taken-off`:
 * a divider lets some of the kind go on to an outlet, though it is wanted. `belt`: a belt carries all it can, or nearly, where items come to it by fits and
 * starts. `slow-machine`: a machine never waits and makes or takes too little. `at-times`: a machine that waits at other
 * times makes or takes too little while it runs. `mix`: on a line of several kinds another
 * one is in the way, since more of it comes than is taken. `jam`: it is in the way for ever. `outlet`: no outlet takes the
 * product. `circular`: machines wait for one another.
 */
export type CauseCode =
  | "short-feed"
  | "slow-unloading"
  | "taken-off"
  | "belt"
  | "slow-machine"
  | "at-times"
  | "mix"
  | "jam"
  | "outlet"
  | "circular";

/** What holds the plant's settled output below its full one, most lost products first. */
export interface Bottleneck {
  readonly code: CauseCode;
  readonly element: string;
  /** Others of which the same is to be said, equal machines among them; at most 20. */
  readonly alike: readonly string[];
  readonly item: string;
  /** Only of `taken-off`: the outlet by which the kind leaves. */
  readonly outlet?: string;
  /** Machines of the final stage that it holds up. */
  readonly machines: readonly string[];
  /** Products per minute that they make less than at full speed. */
  readonly lost_per_min: number;
  /** What it brings to relieve it alone, by a run; not where no run was made. */
  readonly cure?: Cure;
}

/** The element and those alike made faster: the whole plant run again. */
export interface Cure {
  /** `full-speed`: machines that the file slows down run at 100 %. `half-more`: half as fast, or half as much, again. */
  readonly change: "full-speed" | "half-more";
  /** The plant's output then, and how much more that is. */
  readonly settled_per_min: Exact;
  readonly gain_per_min: Exact;
  /** What holds the plant below its full output then; `null`: nothing does. */
  readonly next: Pick<Bottleneck, "code" | "element" | "alike" | "item" | "outlet"> | null;
}

/** An item that stands at the head of a belt for ever, while others wait behind it for ever. */
export interface Jam {
  readonly line: string;
  readonly item: string;
  /** The belt at whose head it stands (without one, the feed or machine that hands it over), and who does not take it. */
  readonly belt: string;
  readonly at: string;
  /** Other belts of the line at whose heads the kind stands likewise, at most 20. */
  readonly also: readonly string[];
  /** `true`: its buffer for the kind is full. `false`: it never takes the kind. */
  readonly is_full: boolean;
  /** `null` where it stands at no belt's head. */
  readonly since_min: number | null;
  /** Machines starved for ever behind it, with what they wait for. */
  readonly starved: readonly { readonly machine: string; readonly item: string }[];
  /** Machines blocked for ever behind it. */
  readonly blocked: readonly string[];
  /**
   * On a line of several kinds: dividers that send the kind on past the last machine that takes it; without any, those that
   * part it among machines; at most 20.
   */
  readonly dividers: readonly { readonly divider: string; readonly takes_turns: boolean }[];
  readonly stops_plant: boolean;
}

/** A line that carries several kinds: what it is offered of each, and what can be taken. */
export interface Mix {
  readonly line: string;
  /** `null` where it is not proved. */
  readonly jams: boolean | null;
  readonly kinds: readonly MixKind[];
  /** The kind whose share may rise least before it holds up the line; `null` where none ever does. */
  readonly nearest: string | null;
  /**
   * By how much that share may rise, as a share of it, the others falling in proportion; 0 where nothing may, or nothing
   * can be promised, `null` where no kind ever holds up the line.
   */
  readonly margin: Exact | null;
  /** What the margin rests on (see mixes.ts). */
  readonly rule: MixRule;
}

/**
 * `shares`: each kind's rate against what is taken of it. `proportion`: machines take kinds of the line together, so that
 * their proportion must be kept exactly. `dead-end`: a kind can come to where nobody takes it. `outlet`: each kind has an
 * outlet.
 */
export type MixRule = "shares" | "proportion" | "dead-end" | "outlet";

export interface MixKind {
  readonly item: string;
  readonly offered_per_min: Exact;
  /** What machines on the line can take while all others have enough; `null`: an outlet takes any rate. */
  readonly takeable_per_min: Exact | null;
  /** Of that, the most that can be taken beside what comes of kinds that machines take together with it. */
  readonly beside_per_min: Exact | null;
}

/**
 * An ordered divider whose first outlet has a slower belt than its inlet: that belt's rate is taken out of the flow, and the
 * rest passes on.
 */
export interface RateCut {
  readonly divider: string;
  /** The slower belt, and what it carries. */
  readonly belt: string;
  readonly cut_per_min: Exact;
  /** In the long run; `null` where it is not known exactly. */
  readonly arriving_per_min: Exact | null;
  readonly taken_per_min: Exact | null;
  readonly passed_on_per_min: Exact | null;
  readonly state: RateCutState | null;
}

/**
 * `exact`: just the belt's rate is taken. `short`: less arrives than the belt carries, all of it is taken, and nothing is
 * passed on. `uneven`: enough arrives or not, but by fits and starts, so that less is taken than the belt carries and some
 * passes on all the same. `held-up`: what lies behind the belt takes less than the belt carries.
 */
export type RateCutState = "exact" | "short" | "uneven" | "held-up";

/** A feed that has vehicles, a surge buffer or both. */
export interface BatchResult {
  readonly feed: string;
  /** `null` for a feed without vehicles. */
  readonly vehicles: Vehicles | null;
  /** `null` without a surge buffer. */
  readonly surge: SurgeResult | null;
  /** Minutes for which unloading is held up, and for which a vehicle waits for the one before it, over the horizon. */
  readonly held_up_min: number;
  readonly vehicles_wait_min: number;
  /** Once settled; `null` where settling is not proved. */
  readonly cycle: BatchCycle | null;
  /**
   * Room between feed and line with which unloading is never held up once settled: as much as lay in a surge buffer that
   * was never full, else found by further runs. `null` where it is not known.
   */
  readonly needed_room: number | null;
  /** The line takes less than the feed brings, so that no room is enough. */
  readonly brings_too_much: boolean | null;
}

export interface Vehicles {
  readonly every_min: Exact;
  readonly items: number;
  readonly first_min: Exact;
  readonly unloading_per_min: Exact;
  /** Items a minute that they bring on average. */
  readonly bring_per_min: Exact;
}

export interface SurgeResult {
  readonly room: number;
  /** Over the whole run. */
  readonly peak: number;
  readonly settled_low: number | null;
  readonly settled_high: number | null;
}

/** What repeats. */
export interface BatchCycle {
  readonly length_min: number;
  /** Items fed in it. */
  readonly fed: number;
  /** Minutes of it for which unloading is held up, and for which a vehicle waits for the one before it. */
  readonly held_up_min: number;
  readonly vehicles_wait_min: number;
  /** Whether no machine that needs its items, or what is made of them, ever waits for them. */
  readonly runs_through: boolean;
  /** Those that do, most first. */
  readonly waits: readonly { readonly machine: string; readonly item: string; readonly min: number }[];
}

export interface LimitResult {
  readonly what: "hold-up" | "dwell";
  /** `null` for the whole plant. */
  readonly place: string | null;
  /** `null` for every kind. */
  readonly item: string | null;
  /** Items or minutes. */
  readonly limit: number;
  /** The most items held, or the longest that one lay before it was taken or the run ended. */
  readonly peak: number;
  /** Hold-up: when it was first held, minutes above the limit over the horizon, and their share once settled. */
  readonly peak_at_min: number | null;
  readonly over_min: number | null;
  readonly settled_over_share: number | null;
  /** Dwell: items taken after longer than the limit, and items that lie for longer at the end of the horizon. */
  readonly over_items: number | null;
  readonly lying_over: number | null;
}

/** Where items lie. */
export interface HoldUpPlace {
  /** A line's belts, a machine group's infeed or outfeed buffers, a feed's surge buffer. */
  readonly place: string;
  readonly part: "belts" | "infeed" | "outfeed" | "surge";
  readonly item: string;
  /** Mean over one settled period, else at the horizon's end. */
  readonly settled: number;
  /** The most in any of the samples. */
  readonly peak: number;
}

/** Where items leave the plant by a line. */
export interface OutletResult {
  readonly id: string;
  /** The kinds that can come to it. */
  readonly items: readonly OutletItem[];
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  /** Over the horizon. */
  readonly left: number;
}

export interface OutletItem {
  readonly item: string;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
}
