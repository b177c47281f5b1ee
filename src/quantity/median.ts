/** The middle one, or the mean of the middle two. @throws RangeError without values */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.floor((sorted.length - 1) / 2)];
  if (upper === undefined || lower === undefined) throw new RangeError("no values");
  return (lower + upper) / 2;
}
