/** Long series brought down to as many columns as a picture can show. */

export interface Columns {
  /** Column i lasts from `edges[i]` to `edges[i + 1]`, minutes. */
  readonly edges: readonly number[];
  /** Index of the first sample of each column, and the number of samples at the end. */
  readonly starts: readonly number[];
}

/**
 * Neighbouring samples joined so that there are at most `most` columns; a short rest goes to the last one.
 * @param step a column holds a whole multiple of so many samples
 */
export function columns(timesMin: readonly number[], most: number, step = 1): Columns {
  const per = step * Math.max(1, Math.ceil(timesMin.length / most / step));
  const edges = [0];
  const starts = [0];
  for (let start = 0; start < timesMin.length; ) {
    const rest = timesMin.length - start;
    const end = start + (rest < 1.5 * per ? rest : per);
    starts.push(end);
    edges.push(timesMin[end - 1] ?? 0);
    start = end;
  }
  return { edges, starts };
}

/** The last level in each column. */
export function lastLevels(level: readonly number[], { starts }: Columns): number[] {
  return starts.slice(1).map((end) => level[end - 1] ?? 0);
}

/** The mean over each column of values that hold for a sample each. */
export function means(values: readonly number[], timesMin: readonly number[], { starts }: Columns): number[] {
  const found: number[] = [];
  for (const [column, start] of starts.slice(0, -1).entries()) {
    let weighted = 0;
    let total = 0;
    for (let i = start; i < (starts[column + 1] ?? start); i++) {
      const length = (timesMin[i] ?? 0) - (i === 0 ? 0 : (timesMin[i - 1] ?? 0));
      weighted += (values[i] ?? 0) * length;
      total += length;
    }
    found.push(total > 0 ? weighted / total : 0);
  }
  return found;
}
