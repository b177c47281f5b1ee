/** Studies that look like real ones, with figures made up to fill pictures and tables; nothing is checked against them. */
import { rational, whole } from "../../src/quantity/rational.ts";
import { NO_TACTIC } from "../../src/scenario/tactic.ts";
import type {
  Comparison,
  DoseResult,
  Growth,
  GrowthStep,
  MadeUpTo,
  PrimeStudy,
  Tactic,
  TacticCurve,
  TacticResult,
} from "../../src/study/results.ts";

const BY_HAND = { byHandPerMin: whole(240), belts: false };
const ALL = { which: "all" } as const;

const SETTLED = 600;
const HORIZON = 240;

interface Sketch {
  readonly id: string;
  readonly parts: Partial<Tactic>;
  readonly settles: number | null;
  readonly loss: number;
  readonly handled: number;
  readonly peak: number;
  readonly late?: number;
  readonly beatenBy?: string;
  readonly notes?: TacticResult["notes"];
}

const SKETCHES: readonly Sketch[] = [
  {
    id: "stocked",
    parts: { prefill: { ...BY_HAND, amounts: { among: ALL, amount: null }, while: "running" } },
    settles: 1.6,
    loss: 120,
    handled: 1920,
    peak: 2233,
  },
  {
    id: "tail-stocked",
    parts: { prefill: { ...BY_HAND, amounts: { among: { which: "last", count: 8 }, amount: null }, while: "running" } },
    settles: 9.6,
    loss: 980,
    handled: 640,
    peak: 2233,
  },
  {
    id: "half-stocked",
    parts: { prefill: { ...BY_HAND, amounts: { among: ALL, amount: 40 }, while: "stopped" } },
    settles: 13.2,
    loss: 1204,
    handled: 960,
    peak: 2233,
    beatenBy: "tail-stocked",
  },
  {
    id: "low-level",
    parts: { lowLevel: { level: 20, among: ALL, forMin: null } },
    settles: 11.5,
    loss: 1260,
    handled: 0,
    peak: 760,
  },
  {
    id: "metered",
    parts: { metered: { factor: rational("1.05") } },
    settles: 14.8,
    loss: 1500,
    handled: 0,
    peak: 2229,
    beatenBy: "low-level",
  },
  {
    id: "boosted",
    parts: { boost: { factor: rational("1.2"), forMin: whole(10) } },
    settles: 19.9,
    loss: 1480,
    handled: 0,
    peak: 2340,
    beatenBy: "low-level",
    notes: [{ note: "boost-limited", belt: "main.through-1", factor: rational("1.25") }],
  },
  {
    id: "second-feed",
    parts: { secondFeed: { share: rational("0.3"), at: null, forMin: whole(10) } },
    settles: 18.6,
    loss: 1900,
    handled: 0,
    peak: 2229,
    beatenBy: "low-level",
  },
  {
    id: "tail-first",
    parts: { stagger: { first: "tail", everyMin: rational("1/3") } },
    settles: 22.4,
    loss: 3210,
    handled: 0,
    peak: 2240,
    late: 2.2,
    beatenBy: "none",
  },
  {
    id: "held-until-full",
    parts: { hold: { until: "all-full", release: "together", everyMin: whole(0) } },
    settles: 3.2,
    loss: 1920,
    handled: 0,
    peak: 2233,
    late: 3.1,
  },
  {
    id: "far-end-first",
    parts: { farEndFirst: { until: "tail-full" } },
    settles: null,
    loss: 1600,
    handled: 0,
    peak: 1990,
  },
  { id: "none", parts: {}, settles: 22, loss: 2254, handled: 0, peak: 2233, beatenBy: "low-level" },
];

export interface ComparisonOptions {
  readonly id?: (id: string) => string;
  readonly title?: string;
  readonly winner?: string;
}

export function comparisonSample(options: ComparisonOptions = {}): {
  comparison: Comparison;
  curves: readonly TacticCurve[];
} {
  const name = (id: string): string => (id === "none" ? id : (options.id?.(id) ?? id));
  const curves = SKETCHES.map((sketch) => ({ ...curveOf(sketch), id: name(sketch.id) }));
  const made = curves.map((curve) => madeUpTo(curve));
  const base = made.at(-1) ?? { min_10: null, min_30: null, min_60: null };
  const less = (a: number | null, b: number | null): number | null => (a === null || b === null ? null : a - b);
  return {
    comparison: {
      title: options.title ?? "Twenty-four tray sealers on one chained belt (invented)",
      seed: "1",
      tick_s: "1/50",
      horizon_min: HORIZON,
      settled_per_min: SETTLED,
      feed_ends: false,
      priority: "loss",
      winner: name(options.winner ?? "stocked"),
      best_without_reserve: null,
      best_with_hands: null,
      best_with_other_means: null,
      nothing_qualifies: false,
      equal_within_items: 24,
      counted_up_to_min: 480,
      stops: { machine: "sealer-1", feeds: ["portioner"], from_min: 5, to_min: 10 },
      tactics: SKETCHES.map((sketch, index): TacticResult => {
        const own = made[index] ?? base;
        return {
          id: name(sketch.id),
          does: { ...NO_TACTIC, ...sketch.parts, id: name(sketch.id) },
          settled_per_min: SETTLED,
          slower_for_good: false,
          stops_at_min: null,
          settling_min: sketch.settles,
          proved: sketch.settles !== null && sketch.id !== "second-feed",
          to_95_min: sketch.settles === null ? null : sketch.settles * 0.55,
          ramp_up_loss: sketch.settles === null ? null : sketch.loss,
          items_handled: sketch.handled,
          first_product_min: 0.1 + (sketch.late ?? 0),
          hold_up_peak: sketch.peak,
          hold_up_settled: sketch.peak - 4,
          over_limit_min: null,
          over_limit_items: null,
          limits_broken: [],
          over_limit_item_min: 0,
          reserve_kept: sketch.id === "low-level" ? 0.28 : 1,
          bridges_less_min: sketch.id === "low-level" ? 2.4 : 0,
          asks_for:
            sketch.handled > 0
              ? [{ what: "hands", isGranted: true, items: sketch.handled, while: "running", ratePerMin: whole(240) }]
              : [],
          granted: true,
          same_as: [],
          made_while_stopped: { machine: 3900 - sketch.loss, feeds: 3300 - sketch.loss },
          made: own,
          made_more: {
            min_10: less(own.min_10, base.min_10),
            min_30: less(own.min_30, base.min_30),
            min_60: less(own.min_60, base.min_60),
          },
          by_hand: sketch.handled > 0,
          undominated: sketch.beatenBy === undefined && sketch.settles !== null,
          beaten_by: sketch.beatenBy === undefined ? null : name(sketch.beatenBy),
          notes: sketch.notes ?? [],
        };
      }),
    },
    curves,
  };
}

/** Rises to the settled output along a power of the time left, with the loss asked for; swings if it never settles. */
function curveOf({ id, settles, loss, late = 0 }: Sketch): TacticCurve {
  const step = 0.1;
  const timesMin = Array.from({ length: 1200 }, (_, i) => (i + 1) * step);
  const rise = Math.max(0.1, (settles ?? 8) - late);
  const power = Math.max(0.05, (SETTLED * rise) / Math.max(1, loss - SETTLED * late) - 1);
  const outputPerMin = timesMin.map((t) => {
    const left = Math.min(1, Math.max(0, 1 - (t - step / 2 - late) / rise));
    const swing = settles === null ? 0.9 + 0.06 * Math.sin(t / 3) : 1;
    return t <= late ? 0 : SETTLED * (1 - left ** power) * swing;
  });
  let sum = 0;
  const made = outputPerMin.map((rate) => {
    sum += rate * step;
    return Math.floor(sum);
  });
  return { id, timesMin, outputPerMin, made };
}

function madeUpTo({ timesMin, made }: TacticCurve): MadeUpTo {
  const at = (minutes: number): number | null => made[timesMin.findIndex((t) => t >= minutes - 1e-6)] ?? null;
  return { min_10: at(10), min_30: at(30), min_60: at(60) };
}

export function primeSample(): PrimeStudy {
  const dose = (own: Partial<DoseResult> & { id: string }): DoseResult => ({
    reaches: true,
    dose: 1,
    unit: { counts: "seconds-held" },
    stops_at_min: null,
    settling_min: 6,
    to_95_min: 4.9,
    ramp_up_loss: 700,
    items_handled: 0,
    reserve_kept: 1,
    over_limit_item_min: 0,
    asks_for: [],
    granted: true,
    one_less: null,
    by_hand: false,
    runs: 7,
    ...own,
  });
  return {
    title: "Eight cartoners on one chained belt (invented)",
    goals: { within_min: 5, loss_below: null, handled_below: null },
    by_means: false,
    baseline_stops_at_min: null,
    baseline_to_95_min: 16.8,
    baseline_loss: 720,
    best: "stocked",
    best_without_reserve: null,
    best_with_hands: null,
    best_with_other_means: null,
    feed_ends: false,
    tactics: [
      dose({
        id: "stocked",
        dose: 76,
        unit: { counts: "items-in-each" },
        ramp_up_loss: 130,
        items_handled: 608,
        by_hand: true,
        one_less: { dose: 75, stops_at_min: null, settling_min: 7, to_95_min: 5.1, ramp_up_loss: 142 },
      }),
      dose({
        id: "low-level",
        dose: 80,
        unit: { counts: "items-of-room" },
        one_less: { dose: 79, stops_at_min: null, settling_min: 7, to_95_min: 5.04, ramp_up_loss: 160 },
      }),
      dose({
        id: "boosted",
        reaches: false,
        dose: 12,
        unit: { counts: "per-cent-more-feed", for_min: 10 },
        to_95_min: 13.9,
        ramp_up_loss: 515,
      }),
      dose({ id: "metered", dose: 0, unit: { counts: "per-cent-over-need" } }),
      dose({
        id: "far-end-first",
        reaches: false,
        dose: null,
        unit: { counts: "seconds-far-end-first" },
        settling_min: null,
        to_95_min: null,
        ramp_up_loss: null,
      }),
    ],
  };
}

/** @param tooSmallFrom machines; `null`: never */
export function growthSample(from = 2, to = 40, tooSmallFrom: number | null = 31): Growth {
  const sizes = Array.from({ length: to - from + 1 }, (_, i): GrowthStep => {
    const machines = from + i;
    const small = tooSmallFrom !== null && machines >= tooSmallFrom;
    const settles = machines === 37 ? null : 0.037 * machines ** 2 + (small ? 9 : 0.7);
    return {
      machines,
      needs_per_min: String(25 * machines),
      feed_per_min: String(25 * machines),
      full_per_min: String(25 * machines),
      settled_per_min: String(25 * (small ? tooSmallFrom - 1 : machines)),
      settling_min: settles,
      stops_at_min: null,
      proved: machines % 9 !== 0,
      within_tolerance_min: settles === null ? null : 0.02 * machines ** 2 + 0.4,
      ramp_up_loss: settles === null ? null : Math.round(92 * machines + machines ** 2 / 5),
      hold_up_settled: 92 * machines - 12,
      slower_for_good: small && settles !== null,
      limits_broken: [],
      tightest_belt: "main.through-1",
      tightest_rate_per_min: String(25 * ((tooSmallFrom ?? to + 1) - 1)),
      headroom_per_min: String(25 * ((tooSmallFrom ?? to + 1) - 1 - machines)),
    };
  });
  return {
    title: "Twenty-four tray sealers on one chained belt (invented)",
    group: "sealer",
    sizes,
    worth_up_to: tooSmallFrom === null ? to : tooSmallFrom - 1,
    too_small:
      tooSmallFrom === null ? null : { belt: "main.through-1", from_machines: tooSmallFrom, rate_per_min: "750" },
  };
}
