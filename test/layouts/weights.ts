/** Needs of a few unequal machines, as whole numbers; the same on every run. */
import { random } from "./random.ts";

const FIRST: readonly (readonly number[])[] = [
  // 7/2, 21/4 and 35/4 per minute.
  [14, 21, 35],
  [2, 3, 5, 2],
  [1, 2],
  [7, 1],
  [3, 3, 2, 2, 2],
];

export function randomWeights(count: number): number[][] {
  const next = random(20_261_125);
  return Array.from({ length: count }, (_, index) => {
    const own = FIRST[index];
    return own ? [...own] : Array.from({ length: 2 + next(7) }, () => 1 + next(next(3) === 0 ? 40 : 9));
  });
}
