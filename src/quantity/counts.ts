/** Whole counts, and sums of numbers. */

export function total(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

/** The greatest whole number that divides all of them; 0 for none. */
export function commonDivisor(counts: readonly number[]): number {
  return counts.reduce((common, count) => {
    let [a, b] = [common, count];
    while (b !== 0) [a, b] = [b, a % b];
    return a;
  }, 0);
}
