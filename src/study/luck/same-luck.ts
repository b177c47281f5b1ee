/** From runs on the same luck to what they say: figures of each replication up to and after one common end, and their differences. */
import { TOLERANCE } from "../../analysis/settling.ts";
import { levelForEach, levelOfLook } from "../../analysis/statistics/best-of.ts";
import { mean } from "../../analysis/statistics/moments.ts";
import { stopsAreEnough } from "../../analysis/stops.ts";
import type { LuckFigure, LuckFigureName, SameLuck, VariantTime } from "../luck-results.ts";
import { keepsUpFromMin } from "../replications/mean-curve.ts";
import { cutOf } from "../replications/ramp-up-ends.ts";
import type { ReplicationGrid } from "../replications/replication.ts";
import { perMinOf, stopsOf } from "../replications/replications-figures.ts";
import type { VariantRun } from "../variant-outcome.ts";
import { compareFigure, type Entrant, paired, type Values } from "./paired-figures.ts";

export interface LuckVariant {
  readonly id: string;
  /** By replication, as many as of the others. */
  readonly runs: readonly VariantRun[];
}

export interface LuckStudied {
  readonly luck: SameLuck;
  /** Mean products up to each point, by variant. */
  readonly meanMade: readonly Float64Array[];
  /** Likely to make less in the long run than the baseline, or told to: their stock bridges less of what stops. */
  readonly seemsSlower: readonly string[];
  /** A figure among some of the variants alone. */
  readonly among: (figure: LuckFigureName, ids: readonly string[]) => LuckFigure;
  /** A pair of variants compared in one figure, a less b, at the level of comparisons with the leader. */
  readonly toldBetter: (figure: LuckFigureName, a: string, b: string) => "a" | "b" | null;
}

/** @throws RangeError for fewer than two replications, or no variants */
export function studySameLuck(
  variants: readonly LuckVariant[],
  grid: ReplicationGrid,
  { seed, baseline, look = 1 }: { readonly seed: string; readonly baseline: string | null; readonly look?: number },
): LuckStudied {
  const n = variants[0]?.runs.length ?? 0;
  if (n < 2) throw new RangeError(`${n} replications are too few`);
  const level = levelOfLook(look);
  const meanMade = variants.map(({ runs }) => meanOf(runs.map(({ made }) => made)));
  const end = commonEnd(variants, meanMade, grid);
  const { stepMin, markEvery } = grid;
  const marks = Math.floor(grid.points / markEvery);
  const fromMin = end.mark * markEvery * stepMin;
  const toMin = marks * markEvery * stepMin;
  const upTo = (run: VariantRun, mark: number): number => madeAt(run, mark, grid);

  const madePerMin = (from: number) =>
    variants.map(({ runs }) =>
      runs.map((run) => (upTo(run, marks) - upTo(run, from)) / ((marks - from) * markEvery * stepMin)),
    );
  const settled = madePerMin(end.mark);
  const means = settled.map(mean);
  const base = variants.findIndex(({ id }) => id === baseline);
  const against = base >= 0 ? (means[base] ?? 0) : Math.max(...means);
  // What stops is no reference.
  const reference = against > 0 && base >= 0 ? base : means.indexOf(Math.max(...means));
  // By the later half alone: on the same luck even what a line catches up after its ramp-up is told apart.
  const later = madePerMin(Math.floor((end.mark + marks) / 2));
  const slower = slowerForGood(later, reference, levelForEach(level, later.length - 1));
  const seems = slowerForGood(later, reference, SEEMS);
  const lost = variants.map(({ runs }) => runs.map((run) => against * fromMin - upTo(run, end.mark)));
  const held = variants.map(({ runs }) => runs.map((run) => mean(run.held.subarray(end.mark))));
  const evenness = variants.map(({ runs }) => runs.map((run) => run.evenness));

  const figures = new Map<LuckFigureName, readonly Values[]>([
    ["ramp_up_loss", lost],
    ["settled_output_per_min", settled],
    ["hold_up_settled", held],
    ...(evenness.flat().some((index) => index !== null) ? [["evenness_at_half_feed", evenness] as const] : []),
  ]);
  const entrants = (values: readonly Values[]): Entrant[] =>
    variants.map(({ id, runs }, v) => ({
      id,
      values: values[v] ?? [],
      leads: !slower[v] && (means[v] ?? 0) > 0,
      noInterval: stopsAreEnough(stopsOf(runs, grid)) ? null : "too few stops",
    }));
  return {
    luck: {
      n,
      seed,
      look,
      level,
      counted_from_min: fromMin,
      counted_up_to_min: toMin,
      without_end: end.without,
      against_per_min: against,
      times: variants.map(
        ({ id, runs }, v): VariantTime => ({
          id,
          to_95_min: end.without.includes(id) ? null : to95(runs, means[v] ?? 0, grid),
          ramp_up_loss_min: against > 0 ? mean(lost[v] ?? []) / against : null,
          later_less_per_min: mean(later[reference] ?? []) - mean(later[v] ?? []),
        }),
      ),
      tolerance: TOLERANCE,
      stops: stopsOf(variants[Math.max(0, base)]?.runs ?? [], grid),
      baseline,
      slower_for_good: variants.flatMap(({ id }, v) => (slower[v] ? [id] : [])),
      figures: [...figures].map(([figure, values]) =>
        compareFigure(entrants(values), { figure, better: betterOf(figure), baseline }, level),
      ),
    },
    meanMade,
    seemsSlower: variants.flatMap(({ id }, v) => (seems[v] || slower[v] ? [id] : [])),
    among: (figure, ids) =>
      compareFigure(
        entrants(figures.get(figure) ?? []).filter(({ id }) => ids.includes(id)),
        { figure, better: betterOf(figure), baseline },
        level,
      ),
    toldBetter: (figure, a, b) => {
      const valuesOf = (id: string): Values => figures.get(figure)?.[variants.findIndex((one) => one.id === id)] ?? [];
      const told = paired(valuesOf(a), valuesOf(b), levelForEach(level, variants.length - 1))?.told ?? null;
      return told === null ? null : told === betterOf(figure) ? "a" : "b";
    },
  };
}

function betterOf(figure: LuckFigureName): LuckFigure["better"] {
  return figure === "settled_output_per_min" || figure === "evenness_at_half_feed" ? "more" : "less";
}

function meanOf(curves: readonly Float64Array[]): Float64Array {
  return sumOf(curves).map((value) => value / curves.length);
}

function sumOf(curves: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(curves[0]?.length ?? 0);
  for (const curve of curves) for (const [i, value] of curve.entries()) sum[i] = (sum[i] ?? 0) + value;
  return sum;
}

/**
 * One end for all: with ends of their own, a variant whose ramp-up is thought to end early would be charged with less of it, and
 * settled figures would be counted over different luck. The latest is late enough for all.
 */
function commonEnd(
  variants: readonly LuckVariant[],
  meanMade: readonly Float64Array[],
  grid: ReplicationGrid,
): { readonly mark: number; readonly without: readonly string[] } {
  const { stepMin, markEvery, points } = grid;
  const cuts = meanMade.map((made, v) =>
    cutOf(
      perMinOf(made, stepMin),
      (from, to) => (variants[v]?.runs ?? []).map((run) => madeAt(run, to, grid) - madeAt(run, from, grid)),
      grid,
    ),
  );
  return {
    // Without any, each is cut at half of the run.
    mark: cuts.reduce((latest, { mark }) => Math.max(latest, mark ?? 0), 0) || Math.floor(points / markEvery / 2),
    without: variants.flatMap(({ id }, v) => (cuts[v]?.mark === null ? [id] : [])),
  };
}

function madeAt({ made }: VariantRun, mark: number, { markEvery }: ReplicationGrid): number {
  return mark === 0 ? 0 : (made[mark * markEvery - 1] ?? 0);
}

/** So sure, each by itself, must it be that nothing is to be recommended which may cost for good. */
const SEEMS = 0.8;

function slowerForGood(settled: readonly Values[], reference: number, level: number): boolean[] {
  const most = settled[reference] ?? [];
  return settled.map((values, v) => v !== reference && paired(values, most, level)?.told === "less");
}

/** Of the mean curve, against its own settled output; one that keeps up only at the very end is not known to. */
function to95(
  runs: readonly VariantRun[],
  settledPerMin: number,
  { stepMin, points, oneCycle }: ReplicationGrid,
): number | null {
  if (settledPerMin === 0) return null;
  const made = runs.map((run) => run.made);
  const at = keepsUpFromMin({ made, madeSum: sumOf(made), stepMin, settledPerMin, oneCycle }, 1 - TOLERANCE);
  return 2 * at <= stepMin * points ? at : null;
}
