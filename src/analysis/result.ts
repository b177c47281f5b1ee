/**
 * The result: what `--json` prints and every report is made from. Times are minutes, rates items per minute. An exact
 * value is a string that fraction.js reads back; a measured one is a number; what did not happen is `null`.
 */

import type { Chance, Replications } from "./chance-results.ts";
import type { Exact } from "./exact.ts";
import type { FragileShare, HangsOnTick } from "./fragile-results.ts";
import type { LossMoney } from "./money.ts";
import type {
  BatchResult,
  Bottleneck,
  HoldUpPlace,
  Jam,
  LimitResult,
  Mix,
  OutletResult,
  RateCut,
  Wait,
} from "./plant-results.ts";

export type { Exact };

export interface Result {
  readonly title: string;
  readonly tick_s: Exact;
  readonly horizon_min: number;
  readonly seed: string;
  /** Only where something is left to chance: what the run is worth. Nothing is proved then. */
  readonly chance?: Chance;
  /** Only where it was run several times. All else is of the run that made the median number of products. */
  readonly replications?: Replications;
  readonly settling: PlantSettling;
  readonly output: PlantOutput;
  /** Only where the file says what a product is worth; with replications of their mean loss. */
  readonly money?: LossMoney;
  readonly lines: readonly LineResult[];
  readonly machines: readonly MachineResult[];
  readonly belts: readonly BeltResult[];
  readonly hold_up: HoldUp;
  readonly dwell: Dwell;
  readonly feeds: readonly FeedResult[];
  /** Where items leave the plant by a line; products that no line takes leave by themselves. */
  readonly outlets: readonly OutletResult[];
  /** Empty where every final machine runs all the time; `null` where the long-run rates are only measured. */
  readonly bottlenecks: readonly Bottleneck[] | null;
  /** `null` where no recurrence proves that anything stands for ever. */
  readonly jams: readonly Jam[] | null;
  /** Of each line that carries several kinds. */
  readonly mixes: readonly Mix[];
  /** Ordered dividers that take the rate of a slower belt out of a flow. */
  readonly cuts: readonly RateCut[];
  /** Feeds with vehicles or surge buffers. */
  readonly batches: readonly BatchResult[];
  /** What the plant's own limits allow, and what there was. */
  readonly limits: readonly LimitResult[];
  /** The flow solution beside the simulation; `null` where it does not apply. */
  readonly flow: FlowResult | null;
  /** Why there is no flow solution; `null` where there is one. */
  readonly no_flow: string | null;
  /** Machines whose share hangs on a tie; left out where there are none. */
  readonly fragile_shares?: readonly FragileShare[];
  /** Where machines' rates hang on the tick, or could and no finer one was looked at; left out elsewhere. */
  readonly hangs_on_tick?: HangsOnTick;
  /** Each stated figure a twentieth less and more; left out under chance, and where the runs would take long. */
  readonly sensitivity?: readonly Sensitivity[];
  readonly warnings: readonly string[];
}

/**
 * `recurrence`: the whole state recurred, so the rates are exact and proved. `flow`: exact rates of the flow solution,
 * with which the simulation agrees. `measured`: the mean over the last part of the horizon; under
 * chance, of machines and output, over all that comes after the ramp-up.
 */
export type Basis = "recurrence" | "flow" | "measured";

/**
 * When an output keeps up for good with shares of what it settles at: in every later stretch, however long, it makes at
 * least that much, less a small leeway (see keeping-up.ts). Times and loss count from `counted_from_min`. All are `null`
 * where it has not settled within the horizon; shares also where it settles at nothing.
 */
export interface Settling {
  /** Full output: from here it makes neither less nor more. */
  readonly time_min: number | null;
  /** Of `within_tolerance_min`, which is `to_95_min`. */
  readonly tolerance: number;
  readonly within_tolerance_min: number | null;
  readonly to_50_min: number | null;
  readonly to_90_min: number | null;
  readonly to_95_min: number | null;
  readonly to_99_min: number | null;
  /** The last change of a feed's profile; 0 without one, and where it stops for good. */
  readonly counted_from_min: number;
  /** From here, seen from the start, the products come to the tick as one period before, for good: the proof; or `null`. */
  readonly pattern_from_min: number | null;
  /** The first finished cycle, seen from the start. */
  readonly first_product_min: number | null;
}

export interface PlantSettling extends Settling {
  readonly proved: boolean;
  readonly basis: Basis;
  /** When the flow solution has the output settled; `null` without one. */
  readonly flow_time_min: Exact | null;
  /** Period of the recurrence. */
  readonly period_min: number | null;
  /** 1: full output is all of it; less: this share, since buffers go on moving for long, or since the rate is measured. */
  readonly full_share: number;
  /** Buffers that still fill or drain at the horizon's end. */
  readonly still_changing: readonly StillChanging[];
  /** Of a profile, those before its last change that settle before they end. */
  readonly stretches: readonly StretchResult[];
}

/** Between two changes of a feed's profile. Times and loss count from its beginning. */
export interface StretchResult {
  readonly from_min: number;
  readonly until_min: number;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly to_95_min: number | null;
  readonly time_min: number | null;
  /** Products, cycles counted as far as done. */
  readonly made: number;
  readonly ramp_up_loss: number | null;
}

export interface StillChanging {
  /** Machine id, with the item after a dot where it takes several kinds. */
  readonly buffer: string;
  /** Positive while it fills, negative while it drains. */
  readonly rate_per_min: Exact;
  /** `null`: not before anything else changes it. */
  readonly done_at_min: number | null;
}

export interface Output {
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact | null;
  /** Beside a `null` settled rate: the mean over the last part of the horizon. */
  readonly measured_per_min?: number;
  readonly made: number;
  /** Products that the ramp-up costs for good, against the settled output from `counted_from_min` on; negative: a gain. */
  readonly ramp_up_loss: number | null;
  /** The same in minutes of settled output. */
  readonly ramp_up_loss_min: number | null;
}

export interface PlantOutput extends Output {
  /** The output, product by product; unlike products are added up elsewhere. */
  readonly made_by_item: Readonly<Record<string, number>>;
  /** `null` where the settled output is not known exactly. */
  readonly settled_by_item_per_min: Readonly<Record<string, Exact>> | null;
}

/** A line that feeds machines, and what they make; other lines may feed them, too. */
export interface LineResult {
  readonly id: string;
  readonly machines: readonly string[];
  /** The kinds that it brings them. */
  readonly items: readonly LineItem[];
  readonly settling: Settling;
  readonly output: Output;
}

export interface LineItem {
  readonly item: string;
  /** What its machines take of the kind when they never wait. */
  readonly needs_per_min: Exact;
  /** What it brings them in the long run; `null`, and not measured either, where that cannot be told from other kinds. */
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
}

/** Per minute, when it never waits and in the long run. */
export interface Rates {
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
}

export interface MachineResult {
  readonly id: string;
  /** The first line that feeds it, and all that do. */
  readonly line: string | null;
  readonly lines: readonly string[];
  /** Items taken per minute when it never waits; where it takes several kinds, which are not to be added up, products. */
  readonly needs_per_min: Exact;
  /** At which the file sets it to run; only where that is less than 1. */
  readonly speed?: Exact;
  /** As `needs_per_min`, in the long run. */
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly cycles: Rates;
  /** What it makes, kind by kind; what it takes stands with its infeed buffers. */
  readonly products: readonly (Rates & { readonly item: string })[];
  readonly first_item_min: number | null;
  /** Its own `settling.time_min`. */
  readonly full_rate_from_min: number | null;
  /** Of its own output. */
  readonly settling: Settling;
  readonly ramp_up_loss: number | null;
  readonly infeed: readonly InfeedResult[];
  /** Share of the time spent running; waiting for items counts against the machine. */
  readonly uptime: { readonly ramp_up: number | null; readonly settled: number | null; readonly horizon: number };
  readonly minutes: StateMinutes;
  /** What it waits for over the horizon, infeed kinds first. */
  readonly waits: readonly Wait[];
  readonly made: number;
}

export interface InfeedResult {
  readonly item: string;
  /** What it takes of the kind when the machine never waits, and in the long run. */
  readonly needs_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly capacity: number;
  readonly full_at_min: number | null;
  /** Lowest and highest level over one period once settled; `null` where settling is not proved. */
  readonly settled_low: number | null;
  readonly settled_high: number | null;
}

export interface StateMinutes {
  readonly running: number;
  readonly starved: number;
  readonly blocked: number;
  readonly down: number;
  readonly held: number;
}

export interface BeltResult {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly rate_per_min: Exact;
  /** Where its room lets less through than its rate. */
  readonly at_most_per_min?: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly headroom_per_min: Exact | null;
}

export interface FeedResult {
  readonly id: string;
  /** The kinds it feeds and the share of each. */
  readonly items: readonly { readonly item: string; readonly share: Exact }[];
  /** What it offers at the horizon's end; a batch feed, on average. */
  readonly rate_per_min: Exact;
  /** What the line accepts of it in the long run. */
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly fed: number;
}

export interface HoldUp {
  readonly peak: number;
  readonly peak_at_min: number;
  /** Mean over one settled period, else at the horizon's end. */
  readonly settled: number;
  /** The fewest and the most in that period; where there is none, in the samples of the horizon's last quarter. */
  readonly settled_low: number;
  readonly settled_high: number;
  readonly by_item: Readonly<Record<string, number>>;
  /** By line, machine group and surge buffer, and by kind. */
  readonly by_place: readonly HoldUpPlace[];
  /** For which any of the limits on it is exceeded. */
  readonly over_limit_min: number;
}

export interface Dwell {
  /** Over one settled period where settling is proved, else over the horizon; `null` if no machine took an item. */
  readonly mean_min: number | null;
  /** Over the whole run. */
  readonly longest_min: number | null;
  /** The mean, kind by kind, of those that machines take. */
  readonly by_item_min: Readonly<Record<string, number>>;
  /** Taken after longer than their limit, or lying for longer at the end of the horizon. */
  readonly over_limit_items: number;
}

export interface Sensitivity {
  readonly figure: "feed" | "cycle" | "room" | "belts";
  /** The feed, machine group or line. */
  readonly id: string;
  /** `null`: so changed the line cannot be simulated. */
  readonly less: SensitivityEffect | null;
  readonly more: SensitivityEffect | null;
}

export interface SensitivityEffect {
  readonly settled_per_min: number | null;
  readonly to_95_min: number | null;
  readonly ramp_up_loss: number | null;
  /** Within the same horizon. */
  readonly made: number;
}

export interface FlowResult {
  readonly settled_per_min: Exact;
  readonly settling_min: Exact | null;
  readonly ramp_up_loss: Exact | null;
  /** Left empty where there are more than 200. */
  readonly events: readonly FlowEventResult[];
}

export interface FlowEventResult {
  readonly at_min: Exact;
  readonly what: "full" | "empty" | "feed";
  /** Buffer or feed. */
  readonly where: string;
}
