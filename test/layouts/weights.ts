/** Needs of a few unequal machines, as whole numbers; the same on every run. */
const FIRST: readonly (readonly number[])[] = [
  // 7/2, 21/4 and 35/4 per minute.
  [14, 21, 35],
  [2, 3, 5, 2],
  [1, 2],
  [7, 1],
  [3, 3, 2, 2, 2],
];

export function randomWeights(count: number): number[][] {
  let seed = 20_261_125;
  // S. Park, K. Miller, "Random number generators: good ones are hard to find", 1988.
  const next = (below: number): number => {
    seed = (seed * 48_271) % 2_147_483_647;
    return seed % below;
  };
  return Array.from({ length: count }, (_, index) => {
    const own = FIRST[index];
    return own ? [...own] : Array.from({ length: 2 + next(7) }, () => 1 + next(next(3) === 0 ? 40 : 9));
  });
}
