/** Whole counts, sums of numbers, and things gathered by what they have in common. */

export function total(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

/** What is left of a count once its factors of two, and of three where there are three ways, are taken out. */
export function withoutFactors(count: number, ways: 2 | 3): number {
  let rest = count;
  for (let factor = 2; factor <= ways; factor++) while (rest > 0 && rest % factor === 0) rest /= factor;
  return rest;
}

/** The greatest whole number that divides all of them; 0 for none. */
export function commonDivisor(counts: readonly number[]): number {
  return counts.reduce((common, count) => {
    let [a, b] = [common, count];
    while (b !== 0) [a, b] = [b, a % b];
    return a;
  }, 0);
}

/** Groups in the order of their first, each in the order given. */
export function groupBy<T>(values: readonly T[], keyOf: (value: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const value of values) {
    const key = keyOf(value);
    const group = groups.get(key);
    if (group) group.push(value);
    else groups.set(key, [value]);
  }
  return groups;
}
