/** The fit itself: the search, how well each unknown is told by the counts, and the fitted run. */
import { exact, rational } from "../../quantity/rational.ts";
import { writeScenario } from "../../scenario/write.ts";
import { curvatureAt, uncertaintyOf } from "./curvature.ts";
import type { FitPlan } from "./fit-given.ts";
import type { Fit, FitCurves, FitDone, FittedUnknown, Told } from "./fit-results.ts";
import { type Model, modelOf, type Predicted, readied, settingsOf } from "./model.ts";
import type { Observed } from "./observed.ts";
import { chiSquare, type Problem } from "./problem.ts";
import { CHI_SQUARE_95, type Profile, profileOf } from "./profile.ts";
import { type Found, minimise } from "./search.ts";
import { settled, type Unknown, written } from "./unknowns.ts";

type Plan = Extract<FitPlan, { ok: true }>;

/** Where a profile comes upon a better fit, the search begins again there. */
const MOST_SEARCHES = 3;

export function fitted(plan: Plan, onRun: (runs: number) => void): FitDone {
  const { model: given, observed, own, errors } = plan;
  const { unknowns } = given;
  let runs = 0;
  const model = modelOf(given, observed, () => {
    runs++;
    onRun(runs);
  });
  const problem = problemOf(model, unknowns, observed, errors);
  const starts = [unknowns.map(({ lower, upper }, i) => within(own[i] ?? null, lower, upper))];
  const search = (from: readonly (readonly number[])[]): Found => keptOwn(problem, minimise(problem, from), own);
  let found = search(starts);
  let told = howTold(problem, found);
  for (let searches = 1; searches < MOST_SEARCHES && told.better !== null; searches++) {
    found = search([...starts, told.better]);
    told = howTold(problem, found);
  }

  const settings = settingsOf(unknowns, found.values);
  const ready = readied(given, settings);
  const predicted = model(found.values);
  if (!ready.ok || predicted === null) throw new Error("no values between the bounds give a line that can be run");
  const { variance, freedom } = told;
  const fit: Fit = {
    title: ready.scenario.title,
    seed: ready.scenario.seed,
    tick_s: exact(ready.prepared.program.tickS),
    unknowns: unknowns.map((unknown, i) =>
      unknownResult(unknown, i, { model, problem, found, told, own: own[i] ?? null, unknowns }),
    ),
    correlations: told.correlations,
    chi_square: found.chiSquare,
    degrees_of_freedom: freedom,
    reduced: freedom > 0 ? found.chiSquare / freedom : null,
    widened_by: Math.sqrt(variance),
    // Mean and variance of χ² are its degrees of freedom and twice that.
    fits: found.chiSquare <= freedom + 2 * Math.sqrt(2 * Math.max(0, freedom)),
    starts: found.starts,
    agreeing: found.agreeing,
    runs,
    times_min: observed.timesMin.map((time) => time.valueOf()),
    series: observed.series.map(({ name, counts }, s) => ({
      name,
      error: errors[s] ?? 1,
      observed: counts,
      fitted: predicted[s] ?? [],
    })),
  };
  return { fit, curves: curvesOf(plan, found.values), scenario: writeScenario(ready.scenario) };
}

function problemOf(
  model: Model,
  unknowns: readonly Unknown[],
  { series }: Observed,
  errors: readonly number[],
): Problem {
  return {
    dimensions: unknowns.map((unknown) => {
      const { lower, upper, kind } = unknown;
      const isWhole = kind === "count";
      return {
        lower,
        upper,
        isWhole,
        grain: isWhole ? 1 : (upper - lower) / 50_000,
        snap: (value) => settled(unknown, value),
      };
    }),
    residuals: (values) => {
      const predicted = model(values);
      if (predicted === null) return null;
      return series.flatMap(({ counts }, s) =>
        counts.flatMap((count, row) => (count === null ? [] : ((predicted[s]?.[row] ?? 0) - count) / (errors[s] ?? 1))),
      );
    },
  };
}

function within(own: number | null, lower: number, upper: number): number {
  return own !== null && own >= lower && own <= upper ? own : (lower + upper) / 2;
}

/** Of values that fit as well, the file's own. */
function keptOwn(problem: Problem, found: Found, own: readonly (number | null)[]): Found {
  const values = own.reduce<readonly number[]>((before, stated, i) => {
    const { lower, upper } = problem.dimensions[i] ?? { lower: 0, upper: 0 };
    if (stated === null || stated < lower || stated > upper) return before;
    const kept = before.with(i, stated);
    return chiSquare(problem, kept) <= found.chiSquare ? kept : before;
  }, found.values);
  return { ...found, values };
}

interface HowTold {
  readonly freedom: number;
  /** Of the residuals, in units of the expected one; at least 1. */
  readonly variance: number;
  readonly standardErrors: readonly (number | null)[];
  readonly correlations: Fit["correlations"];
  readonly profiles: readonly Profile[];
  /** Values that a profile came upon and that fit better; `null` where there are none. */
  readonly better: readonly number[] | null;
}

function howTold(problem: Problem, { values, chiSquare: least }: Found): HowTold {
  const count = problem.residuals(values)?.length ?? 0;
  const freedom = count - problem.dimensions.length;
  const variance = freedom > 0 ? Math.max(1, least / freedom) : 1;
  const curvature = curvatureAt(problem, values);
  const nothing = values.map(() => null);
  const { standardErrors, correlations } =
    curvature === null
      ? { standardErrors: nothing, correlations: values.map(() => nothing) }
      : uncertaintyOf(problem, curvature, variance);
  const limit = CHI_SQUARE_95 * variance;
  const profiles = values.map((_, i) => profileOf(problem, values, i, standardErrors[i] ?? null, limit));
  const better = profiles
    .flatMap(({ points }) => points)
    .filter((point) => point.chiSquare < least - 1e-6)
    .sort((a, b) => a.chiSquare - b.chiSquare)[0];
  return {
    freedom,
    variance,
    standardErrors,
    correlations,
    profiles,
    better: better?.values ?? null,
  };
}

interface Around {
  readonly model: Model;
  readonly problem: Problem;
  readonly found: Found;
  readonly told: HowTold;
  readonly own: number | null;
  readonly unknowns: readonly Unknown[];
}

function unknownResult(unknown: Unknown, i: number, around: Around): FittedUnknown {
  const { found, told, own } = around;
  const value = settled(unknown, found.values[i] ?? 0);
  const { points, low, high } = told.profiles[i] ?? { points: [], low: null, high: null };
  const how = howUnknownIsTold(unknown, i, low, high, around);
  const error = told.standardErrors[i] ?? null;
  const linear = error === null ? 0 : Math.sqrt(CHI_SQUARE_95) * error;
  // χ² of whole numbers goes in steps: the last within the limit is too near, but where the errors are small beside a step.
  const isWhole = unknown.kind === "count";
  const step = isWhole && linear >= 0.5 ? 1 : 0;
  const reach = isWhole ? step * Math.ceil(linear) : linear;
  return {
    path: unknown.path,
    unit: unknown.unit,
    lower: unknown.lower,
    upper: unknown.upper,
    own,
    value,
    text: written(unknown, value),
    standard_error: how === "pinned" || how === "one-sided" ? error : null,
    range_95: [
      low && Math.max(unknown.lower, Math.min(low - step, value - reach)),
      high && Math.min(unknown.upper, Math.max(high + step, value + reach)),
    ],
    told: how,
    with: how === "combination" || how === "one-sided" ? makingUp(i, around) : [],
    profile: points.map((point) => ({ value: point.value, chi_square: point.chiSquare })),
  };
}

const LOOKS_ALONE = 12;

function howUnknownIsTold(
  { lower, upper }: Unknown,
  i: number,
  low: number | null,
  high: number | null,
  { model, problem, found, told }: Around,
): Told {
  if (low !== null && high !== null) return "pinned";
  if (low !== null || high !== null) return "one-sided";
  const here = model(found.values);
  const alone = Array.from({ length: LOOKS_ALONE + 1 }, (_, n) =>
    found.values.with(i, lower + (n / LOOKS_ALONE) * (upper - lower)),
  );
  const isSame = (values: readonly number[]): boolean => {
    const other = model(values);
    return here !== null && other !== null && same(here, other);
  };
  if (alone.every(isSame)) return "alone-no-matter";
  const most = found.chiSquare + CHI_SQUARE_95 * told.variance;
  return alone.some((values) => chiSquare(problem, values) > most) ? "combination" : "untold";
}

function same(a: Predicted, b: Predicted): boolean {
  return a.every((series, s) => series.every((count, row) => count === b[s]?.[row]));
}

/** Of its range, that another must move for it to count as making up. */
const MOVED = 0.05;

function makingUp(i: number, { told, found, unknowns }: Around): string[] {
  const points = told.profiles[i]?.points ?? [];
  return unknowns.flatMap(({ path, lower, upper }, j) => {
    const most = Math.max(...points.map(({ values }) => Math.abs((values[j] ?? 0) - (found.values[j] ?? 0))));
    return j !== i && most > MOVED * (upper - lower) ? [path] : [];
  });
}

/** Points of the curves that pictures show. */
const CURVE_POINTS = 240;

function curvesOf({ model: given, observed }: Plan, values: readonly number[]): FitCurves {
  const last = observed.timesMin.at(-1) ?? rational("0");
  const timesMin = Array.from({ length: CURVE_POINTS + 1 }, (_, n) => last.mul(BigInt(n)).div(BigInt(CURVE_POINTS)));
  const curves = modelOf(given, { timesMin, series: observed.series })(values) ?? [];
  return { timesMin: timesMin.map((time) => time.valueOf()), series: curves };
}
