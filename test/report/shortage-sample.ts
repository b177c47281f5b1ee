/** Studies of short feeds that look like real ones, with figures made up to fill pictures and tables. */
import type {
  Dip,
  DipCurve,
  DipResult,
  LevelResult,
  Shortage,
  VariantId,
  VariantResult,
} from "../../src/study/shortage/shortage-results.ts";

const TITLE = "Tray sealers on one chained belt (invented)";
const NEED = 30;

function variants(): VariantResult[] {
  const plain = (id: VariantId, does: VariantResult["does"]): VariantResult => ({
    id,
    does,
    trees: [],
    kept: [],
    ideal_ways: [],
    loops: [],
    ends_left_out: [],
  });
  return [
    plain("as-written", "even"),
    plain("branch-first", "branch-first"),
    plain("through-first", "through-first"),
    { ...plain("tree", null), trees: ["main"] },
  ];
}

export interface ShortageGiven {
  readonly machines?: number;
  readonly percents?: readonly number[];
  /** By variant: what it makes of the feed, as a share of what is in proportion. */
  readonly yields?: readonly number[];
  /** Variants whose output swings below 75 % of the feed. */
  readonly swinging?: readonly VariantId[];
}

const TENTHS = [100, 90, 80, 70, 60, 50, 40, 30, 20, 10];

/** Machines m-1 … of a line `main`, served in their order or, as a tree, all alike. */
export function shortageSample(given: ShortageGiven = {}): Shortage {
  const { machines = 4, percents = TENTHS, yields = [1, 1, 1, 1], swinging = [] } = given;
  const ids = Array.from({ length: machines }, (_, i) => `sealer-${i + 1}`);
  return {
    title: TITLE,
    seed: "1",
    horizon_min: 240,
    feeds: [{ id: "dock", rate_per_min: String(NEED * machines), batch_items: null }],
    full_per_min: String(NEED * machines),
    products: ["tray"],
    variants: variants(),
    unequal_needs: [],
    levels: percents.map((percent) => {
      const ideal = (NEED * machines * percent) / 100;
      return {
        level: percent === 100 ? "1" : `${percent}/100`,
        batches: [],
        ideal_per_min: ideal,
        recommended: "as-written",
        best_without_reserve: null,
        equal_within_items: machines,
        counted_up_to_min: 480,
        variants: variants().map(({ id }, v) => {
          const made = ideal * (yields[v] ?? 1);
          return levelResult(id, ids, made, percent, swinging.includes(id) && percent < 75);
        }),
      };
    }),
  };
}

function levelResult(
  id: VariantId,
  ids: readonly string[],
  made: number,
  percent: number,
  swings: boolean,
): LevelResult {
  const served = made / NEED;
  const share = (place: number): number => {
    if (id === "tree") return served / ids.length;
    return Math.max(0, Math.min(1, served - (id === "through-first" ? ids.length - 1 - place : place)));
  };
  const shares = ids.map((_, place) => share(place));
  const total = shares.reduce((all, one) => all + one, 0);
  const jain = total === 0 ? null : total ** 2 / (ids.length * shares.reduce((all, one) => all + one * one, 0));
  const offered = (NEED * ids.length * percent) / 100;
  const minutes = id === "tree" ? 0.5 : 4 + percent / 10;
  const exact = (value: number): string => String(Number(value.toFixed(9)));
  return {
    id,
    basis: "recurrence",
    settled_per_min: exact(made),
    settled_by_item_per_min: { tray: exact(made) },
    feeds: [{ id: "dock", offered_per_min: exact(offered), settled_per_min: exact(made) }],
    share_of_full: made / (NEED * ids.length),
    settling_min: made === 0 ? null : minutes,
    stops_at_min: made === 0 ? minutes : null,
    proved: true,
    hold_up_settled: 90 * served,
    ramp_up_loss: 40,
    to_95_min: 3,
    slower_for_good: false,
    reserve_kept: 1,
    bridges_less_min: 0,
    limits_broken: [],
    over_limit_min: null,
    over_limit_items: null,
    fluctuation: {
      period_min: swings ? 6.5 : 0.1,
      window_min: 0.4,
      low_per_min: made * (swings ? 0.8 : 1),
      high_per_min: made * (swings ? 1.25 : 1),
      swings,
    },
    jain: jain === null ? null : exact(jain),
    jain_line: jain === null ? null : "main",
    lines: [{ id: "main", machines: ids, jain: jain === null ? null : exact(jain) }],
    machines: ids.map((machine, place) => ({
      id: machine,
      line: "main",
      needs_per_min: String(NEED),
      full_products_per_min: String(NEED),
      share: exact(shares[place] ?? 0),
    })),
    starving: ids.filter((_, place) => (shares[place] ?? 0) < 0.999),
  };
}

/** A dip to 50 % from 120 to 150 min. */
export function dipSample(): { dip: Dip; curves: DipCurve[] } {
  const results = variants().map(({ id }, v): DipResult => {
    return {
      id,
      settled_per_min: "120",
      proved: true,
      settled_before: true,
      stops_without_min: null,
      stops_at_min: null,
      made_without: 28_000,
      made: 28_000 - 1800 + v,
      lost: 1800 - v,
      lowest_per_min: 60 - v,
      lowest_at_min: 131,
      recovery_min: id === "tree" ? 0.5 : 14 - 2 * v,
      within_tolerance_min: id === "tree" ? 0.6 : 13.5 - 2 * v,
      hold_up_before: 340,
      hold_up_settled: id === "branch-first" ? 280 : 340,
      limits_broken_without: null,
      limits_broken: null,
    };
  });
  const { levels: _, ...head } = shortageSample();
  const timesMin = Array.from({ length: 300 }, (_, i) => 105 + i / 4);
  return {
    dip: { ...head, dip: { level: "1/2", from_min: 120, for_min: 30 }, withheld: 1800, results },
    curves: results.map(({ id, recovery_min: recovery }) => ({
      id,
      timesMin,
      outputPerMin: timesMin.map((time) => {
        const back = Math.min(1, Math.max(0, (time - 150) / (recovery ?? 1)));
        return time < 120 ? 120 : 60 + (60 * Math.floor(back * 4)) / 4;
      }),
    })),
  };
}
