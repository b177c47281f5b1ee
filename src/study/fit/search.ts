/**
 * The least χ² within bounds, without derivatives, since counts go in steps: by dividing rectangles, over the whole range first,
 * then from there and from the file's own values again and again within ever smaller boxes, turned and stretched to the
 * curvature so that a narrow valley of values that make up for one another is as wide as it is long.
 */
import { betterAfter, type Curvature, curvatureAt, straightStep } from "./curvature.ts";
import { lookIn } from "./look-in.ts";
import { chiSquare, type Problem, sharesOf, sumOfSquares, valuesAt } from "./problem.ts";

export interface Found {
  readonly values: readonly number[];
  readonly chiSquare: number;
  /** Of the places that the search was begun from, how many led to a fit as good. */
  readonly starts: number;
  readonly agreeing: number;
}

/** Of the number of unknowns: looks over the whole range, and round a point. */
const OVERALL_LOOKS = [0, 40, 120, 260, 480, 800];
const LOCAL_LOOKS = [0, 10, 24, 40, 60, 80];
const MOST_ROUNDS = 12;
/** Halfwidths of boxes, in steps that change χ² by 1: the first, and one too small to matter. */
const FIRST_BOX = 3;
const LAST_BOX = 0.02;
/** No data tell fits apart that are nearer than this in χ². */
const AS_GOOD = 3.84;

/** @param starts besides what a look over the whole range finds */
export function minimise(problem: Problem, starts: readonly (readonly number[])[]): Found {
  const first = lookOver(problem);
  const ends = [first, ...starts].map((start) => {
    const values = rounder(problem, wholesBeside(problem, polish(problem, start)));
    return { values, chiSquare: chiSquare(problem, values) };
  });
  const best = ends.reduce((a, b) => (b.chiSquare < a.chiSquare ? b : a));
  const agreeing = ends.filter((end) => end.chiSquare <= best.chiSquare + AS_GOOD).length;
  return { ...best, starts: ends.length, agreeing };
}

/** The best of a look over the whole range between the bounds. */
function lookOver(problem: Problem): number[] {
  const count = problem.dimensions.length;
  const box = problem.dimensions.map(() => 1);
  const at = (shares: readonly number[]): number[] => valuesAt(problem, shares);
  const none = box.map(() => 0);
  return at(lookIn((shares) => chiSquare(problem, at(shares)), none, box, looksFor(OVERALL_LOOKS, count)));
}

function looksFor(looks: readonly number[], count: number): number {
  return looks[count] ?? looks.at(-1) ?? 0;
}

/** From a point downhill, until nothing better lies near. */
function polish(problem: Problem, start: readonly number[]): number[] {
  let here = valuesAt(problem, sharesOf(problem, start));
  let halfWidth = FIRST_BOX;
  for (let round = 0; round < MOST_ROUNDS && halfWidth >= LAST_BOX && here.length > 0; round++) {
    const curvature = curvatureAt(problem, here);
    if (curvature === null || sumOfSquares(curvature.residuals) === 0) break;
    here = betterAfter(problem, here, straightStep(curvature)) ?? here;
    const around = lookRound(problem, here, curvature, halfWidth);
    if (around === null || around.reach < halfWidth / 2) halfWidth /= 3;
    here = around?.values ?? here;
  }
  return here;
}

/** Within a box turned to the curvature; `null` where it has nothing better. */
export function lookRound(
  problem: Problem,
  here: readonly number[],
  { axes }: Pick<Curvature, "axes">,
  halfWidth: number,
) {
  const from = sharesOf(problem, here);
  const at = (point: readonly number[]): number[] =>
    valuesAt(
      problem,
      from.map((share, i) => share + axes.reduce((sum, axis, a) => sum + (axis[i] ?? 0) * (point[a] ?? 0), 0)),
    );
  const box = axes.map(() => halfWidth);
  const point = lookIn(
    (one) => chiSquare(problem, at(one)),
    box.map((width) => -width),
    box,
    looksFor(LOCAL_LOOKS, axes.length),
  );
  const values = at(point);
  if (chiSquare(problem, values) >= chiSquare(problem, here)) return null;
  return { values, reach: Math.max(...point.map(Math.abs)) };
}

/** Whole numbers tried one up and one down, each with the others as they are and as they would make up for it. */
export function wholesBeside(problem: Problem, start: readonly number[]): number[] {
  const whole = problem.dimensions.flatMap(({ isWhole }, i) => (isWhole ? [i] : []));
  let here = [...start];
  for (let round = 0; round < MOST_ROUNDS && whole.length > 0; round++) {
    const better = offsets(whole.length)
      .flatMap((by) => {
        const moved = here.map((value, i) => value + (by[whole.indexOf(i)] ?? 0));
        return [moved, madeUpFor(problem, here, moved)];
      })
      .map((values) => valuesAt(problem, sharesOf(problem, values)))
      .reduce((a, b) => (chiSquare(problem, b) < chiSquare(problem, a) ? b : a), here);
    if (better === here) break;
    here = better;
  }
  return here;
}

/** Every combination of −1, 0 and 1. */
function offsets(count: number): number[][] {
  return Array.from({ length: count }).reduce<number[][]>(
    (before) => before.flatMap((some) => [-1, 0, 1].map((by) => [...some, by])),
    [[]],
  );
}

/** The decimals moved so as to make up for a move of the whole numbers, as far as residuals are straight lines. */
function madeUpFor(problem: Problem, from: readonly number[], moved: readonly number[]): number[] {
  const free = problem.dimensions.flatMap(({ isWhole }, i) => (isWhole ? [] : [i]));
  if (free.length === 0) return [...moved];
  const part: Problem = {
    dimensions: free.flatMap((i) => problem.dimensions[i] ?? []),
    residuals: (values) => problem.residuals(moved.map((value, i) => values[free.indexOf(i)] ?? value)),
  };
  const start = free.map((i) => from[i] ?? 0);
  const curvature = curvatureAt(part, start);
  const better = curvature === null ? start : (betterAfter(part, start, straightStep(curvature)) ?? start);
  return moved.map((value, i) => better[free.indexOf(i)] ?? value);
}

/** Of values that fit as well, those with the fewest digits: the counts don't tell the others. */
function rounder(problem: Problem, start: readonly number[]): number[] {
  let here = [...start];
  for (const [i, { lower, upper, isWhole, grain }] of problem.dimensions.entries()) {
    if (isWhole) continue;
    const now = chiSquare(problem, here);
    const first = Math.floor(Math.log10(upper - lower));
    for (let power = first; 10 ** power > grain; power--) {
      const step = 10 ** power;
      const value = Number((Math.round((here[i] ?? 0) / step) * step).toFixed(Math.max(0, -power)));
      const tried = here.with(i, value);
      if (value < lower || value > upper || chiSquare(problem, tried) > now) continue;
      here = tried;
      break;
    }
  }
  return here;
}
