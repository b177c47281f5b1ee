/**
 * How far an unknown can go before the fit gets worse by more than a limit, the others fitted again at every step: the
 * profile of χ². For one unknown the limit of 95 % is 3.84, the quantile of χ² with one degree of freedom (W. H. Press and
 * others, Numerical Recipes, ch. 15, "Confidence limits on estimated model parameters"; from memory).
 */
import { betterAfter, type Curvature, curvatureAt, straightStep } from "./curvature.ts";
import { chiSquare, type Problem, sharesOf, valuesAt, withFixed } from "./problem.ts";
import { lookRound, wholesBeside } from "./search.ts";

export const CHI_SQUARE_95 = 3.84;

export interface ProfilePoint {
  readonly value: number;
  readonly chiSquare: number;
  /** Of all unknowns, this one's own included. */
  readonly values: readonly number[];
}

export interface Profile {
  /** Rising in value, the fit itself among them. */
  readonly points: readonly ProfilePoint[];
  /** Where the limit is passed; `null` where it is not between the bounds. */
  readonly low: number | null;
  readonly high: number | null;
}

const MOST_STEPS = 16;
const REFINEMENTS = 5;

/** @param step about how far to go at first, such as the standard error; `null` where nothing is known */
export function profileOf(
  problem: Problem,
  best: readonly number[],
  unknown: number,
  step: number | null,
  limit: number,
): Profile {
  const dimension = problem.dimensions[unknown];
  const own = best[unknown] ?? 0;
  const start = { value: own, chiSquare: chiSquare(problem, best), values: best };
  if (dimension === undefined) return { points: [start], low: null, high: null };
  const { lower, upper, grain } = dimension;
  const others = best.length > 1 ? curvatureAt(withFixed(problem, unknown, own), best.toSpliced(unknown, 1)) : null;
  const profiled = { problem, unknown, others };
  const first = Math.max(grain, Math.min(step ?? Infinity, (upper - lower) / 40));
  const side = (towards: number): { points: ProfilePoint[]; end: number | null } =>
    walk(profiled, start, { towards, first: towards > own ? first : -first, limit });
  const [down, up] = [side(lower), side(upper)];
  const points = [...down.points, start, ...up.points].sort((a, b) => a.value - b.value);
  return { points, low: down.end, high: up.end };
}

/** What stays the same along a profile. */
interface Profiled {
  readonly problem: Problem;
  readonly unknown: number;
  /** How residuals answer to the others, at the fit. */
  readonly others: Curvature | null;
}

interface Way {
  /** The bound. */
  readonly towards: number;
  readonly first: number;
  readonly limit: number;
}

function walk(
  profiled: Profiled,
  start: ProfilePoint,
  { towards, first, limit }: Way,
): { points: ProfilePoint[]; end: number | null } {
  const dimension = profiled.problem.dimensions[profiled.unknown];
  const most = start.chiSquare + limit;
  const points: ProfilePoint[] = [];
  let [before, last] = [start, start];
  let step = first;
  const isBeyond = (value: number): boolean => (first > 0 ? value >= towards : value <= towards);
  while (dimension !== undefined && last.value !== towards && points.length < MOST_STEPS) {
    const wanted = points.length === MOST_STEPS - 1 || isBeyond(last.value + step) ? towards : last.value + step;
    const next = fittedWith(profiled, dimension.snap(wanted), last, before);
    points.push(next);
    if (next.chiSquare > most) {
      const end = crossing(profiled, last, next, most, points);
      return { points, end: setByBounds(profiled, end.within) ? null : end.value };
    }
    [before, last] = [last, next];
    step *= 1.5;
  }
  return { points, end: null };
}

/** Of its range, that another is near enough to its bound to be held back by it. */
const AT_BOUND = 0.01;

/** Whether another unknown, which made up for this one, can go no further: then it is not the counts that set the end. */
function setByBounds({ problem, unknown }: Profiled, { values }: ProfilePoint): boolean {
  return problem.dimensions.some(({ lower, upper }, i) => {
    const value = values[i] ?? lower;
    return i !== unknown && Math.min(value - lower, upper - value) <= AT_BOUND * (upper - lower);
  });
}

/** The value at which the limit is passed, and the last point within; of whole numbers the last that keeps to it. */
function crossing(
  profiled: Profiled,
  within: ProfilePoint,
  beyond: ProfilePoint,
  most: number,
  points: ProfilePoint[],
): { readonly value: number; readonly within: ProfilePoint } {
  const dimension = profiled.problem.dimensions[profiled.unknown];
  let [inner, outer] = [within, beyond];
  const refinements = dimension?.isWhole === true ? 20 : REFINEMENTS;
  for (let n = 0; n < refinements && dimension !== undefined; n++) {
    if (Math.abs(outer.value - inner.value) <= dimension.grain) break;
    const middle = fittedWith(profiled, dimension.snap((inner.value + outer.value) / 2), inner, outer);
    if (middle.value === inner.value || middle.value === outer.value) break;
    points.push(middle);
    if (middle.chiSquare > most) outer = middle;
    else inner = middle;
  }
  if (dimension?.isWhole === true) return { value: inner.value, within: inner };
  const share = (most - inner.chiSquare) / (outer.chiSquare - inner.chiSquare);
  return { value: inner.value + Math.min(1, Math.max(0, share)) * (outer.value - inner.value), within: inner };
}

/**
 * The others fitted again, from where they were or, if that is better, where they would be if they went on as between two
 * points: by the curvature, then within a box that is turned to it.
 */
function fittedWith(
  { problem, unknown, others }: Profiled,
  value: number,
  near: ProfilePoint,
  second: ProfilePoint,
): ProfilePoint {
  const rest = withFixed(problem, unknown, value);
  const stayed = near.values.toSpliced(unknown, 1);
  let here = stayed;
  if (near.value !== second.value) {
    const share = (value - near.value) / (near.value - second.value);
    const goneOn = near.values.map((at, i) => at + share * (at - (second.values[i] ?? at))).toSpliced(unknown, 1);
    const allowed = valuesAt(rest, sharesOf(rest, goneOn));
    if (chiSquare(rest, allowed) < chiSquare(rest, stayed)) here = allowed;
  }
  for (let round = 0; round < 2 && others !== null && here.length > 0; round++) {
    const residuals = rest.residuals(here);
    if (residuals !== null) here = betterAfter(rest, here, straightStep(others, residuals)) ?? here;
    const around = lookRound(rest, here, others, round === 0 ? 1 : 0.3);
    if (around === null) break;
    here = [...around.values];
  }
  const values = wholesBeside(rest, here).toSpliced(unknown, 0, value);
  return { value, values, chiSquare: chiSquare(problem, values) };
}
