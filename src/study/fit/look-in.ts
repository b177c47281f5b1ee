/**
 * Dividing rectangles: the least value within a box, without derivatives (DIRECT: D. R. Jones, C. D. Perttunen and B. E.
 * Stuckman, "Lipschitzian optimization without the Lipschitz constant", J. of Optimization Theory and Applications 79, 1993;
 * from memory). The box is cut in thirds along its longest sides, time and again: each time the rectangles that hold the least
 * value if it changes at some same pace everywhere, be that pace great or small. Of those as large and as good the first is
 * cut (J. M. Gablonsky and C. T. Kelley, 2001; from memory). How often sides were cut are whole numbers, so that equal sizes
 * are equal, and the hull runs once over sizes: it ends whatever the values are.
 */

interface Rectangle {
  /** Shares of the box. */
  readonly centre: readonly number[];
  /** How often each side was cut in three; no two differ by more than one. */
  readonly cuts: readonly number[];
  readonly value: number;
}

/** Of the least value, what must be hoped for where the least is already known. */
const HOPED_FOR = 1e-4;

/** @returns the best point of so many looks or somewhat more */
export function lookIn(
  valueAt: (point: readonly number[]) => number,
  lower: readonly number[],
  upper: readonly number[],
  looks: number,
): number[] {
  const pointOf = (centre: readonly number[]): number[] =>
    lower.map((low, i) => low + (centre[i] ?? 0) * ((upper[i] ?? low) - low));
  let done = 0;
  const rectangle = (centre: readonly number[], cuts: readonly number[]): Rectangle => {
    done++;
    return { centre, cuts, value: valueAt(pointOf(centre)) };
  };
  let best = rectangle(
    lower.map(() => 0.5),
    lower.map(() => 0),
  );
  /** By how often sides were cut in all: the larger ones first. */
  const sizes = new Map([[0, [best]]]);
  const keep = (one: Rectangle): void => {
    const size = one.cuts.reduce((sum, cut) => sum + cut, 0);
    const alike = sizes.get(size);
    if (alike === undefined) sizes.set(size, [one]);
    else alike.push(one);
    if (one.value < best.value) best = one;
  };
  while (done < looks && lower.length > 0) {
    for (const [size, one] of worthCutting(sizes, best.value)) {
      sizes.set(size, sizes.get(size)?.filter((other) => other !== one) ?? []);
      for (const part of cut(one, rectangle)) keep(part);
    }
  }
  return pointOf(best.centre);
}

/** The best of each size, from the size that has the best of all to the largest, as far as they lie on the lower hull. */
function worthCutting(sizes: ReadonlyMap<number, readonly Rectangle[]>, least: number): [number, Rectangle][] {
  const hull: { readonly size: number; readonly one: Rectangle; readonly reach: number }[] = [];
  for (const [size, all] of [...sizes].sort(([a], [b]) => b - a)) {
    const [first] = all;
    if (first === undefined) continue;
    const one = all.reduce((a, b) => (b.value < a.value ? b : a));
    const reach = Math.hypot(...one.cuts.map((cuts) => 3 ** -cuts / 2));
    // Smaller and no better than what is larger never holds the least.
    while ((hull.at(-1)?.one.value ?? -Infinity) >= one.value) hull.pop();
    for (let last = hull.at(-1), before = hull.at(-2); last !== undefined && before !== undefined; ) {
      if (pace(before, last) < pace(last, { one, reach })) break;
      hull.pop();
      [last, before] = [hull.at(-1), hull.at(-2)];
    }
    hull.push({ size, one, reach });
  }
  return hull
    .filter((at, i) => {
      const next = hull[i + 1];
      return next === undefined || at.one.value - pace(at, next) * at.reach <= least - HOPED_FOR * Math.abs(least);
    })
    .map(({ size, one }) => [size, one]);
}

type Reached = { readonly one: Rectangle; readonly reach: number };

function pace(a: Reached, b: Reached): number {
  return (b.one.value - a.one.value) / (b.reach - a.reach);
}

/** In thirds along each of its longest sides, first along that beside which the better values lie: they keep the larger parts. */
function cut(
  one: Rectangle,
  rectangle: (centre: readonly number[], cuts: readonly number[]) => Rectangle,
): Rectangle[] {
  const fewest = Math.min(...one.cuts);
  const third = 3 ** -fewest / 3;
  const sides = one.cuts.flatMap((cuts, side) => {
    if (cuts !== fewest) return [];
    const beside = [third, -third].map((by) =>
      rectangle(one.centre.with(side, (one.centre[side] ?? 0) + by), one.cuts),
    );
    return [{ side, beside, least: Math.min(...beside.map(({ value }) => value)) }];
  });
  let cuts = one.cuts;
  const parts = sides
    .sort((a, b) => a.least - b.least)
    .flatMap(({ side, beside }) => {
      cuts = cuts.with(side, fewest + 1);
      return beside.map((part) => ({ ...part, cuts }));
    });
  return [{ ...one, cuts }, ...parts];
}
