/** Whole counts, sums of numbers, and things gathered by what they have in common. */

export function total(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

/** How many outlets dividers can have: up to so many, or each of a list; 2 to 12. */
export type Ways = number | readonly number[];

/** In rising order, each once. */
export function waysIn(ways: Ways): readonly number[] {
  if (typeof ways === "number") return Array.from({ length: ways - 1 }, (_, i) => i + 2);
  return [...new Set(ways)].toSorted((a, b) => a - b);
}

/** In rising order, as often as they divide it; none for 1. */
export function primeFactors(count: number): number[] {
  const factors: number[] = [];
  let rest = count;
  for (let factor = 2; factor * factor <= rest; factor++) {
    for (; rest % factor === 0; rest /= factor) factors.push(factor);
  }
  return rest > 1 ? [...factors, rest] : factors;
}

/** What is left of a count once all factors are taken out that dividers' ways have. */
export function withoutFactors(count: number, ways: Ways): number {
  let rest = count;
  for (const prime of new Set(waysIn(ways).flatMap(primeFactors))) while (rest > 0 && rest % prime === 0) rest /= prime;
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

const NUMBERS = ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** "two ways", "two and three ways", "two, five and seven ways", "two to five ways". */
export function waysText(ways: Ways): string {
  const all = waysIn(ways);
  const words = all.map((fan) => NUMBERS[fan - 2] ?? String(fan));
  const isRow = all.length > 2 && (all.at(-1) ?? 0) - (all[0] ?? 0) === all.length - 1;
  if (isRow) return `${words[0]} to ${words.at(-1)} ways`;
  return `${[words.slice(0, -1).join(", "), words.at(-1)].filter((part) => part !== "").join(" and ")} ways`;
}
