/**
 * Which replication is the median of a figure: the one in place ⌈n/2⌉ when they are put in order, of an even number the lower of
 * the middle two; of equals, the first made. What did not happen (`null`) comes after all that did.
 */
export function medianRun(figures: readonly (number | null)[]): number {
  if (figures.length === 0) throw new RangeError("no figures");
  const inOrder = figures
    .map((figure, run) => ({ figure: figure ?? Number.POSITIVE_INFINITY, run }))
    .toSorted((a, b) => (a.figure === b.figure ? a.run - b.run : a.figure < b.figure ? -1 : 1));
  return inOrder[Math.ceil(figures.length / 2) - 1]?.run ?? 0;
}
