/**
 * How many pairs of belts must pass over one another on a grid. A belt changes to its end's row in the gap after the column
 * that it comes from, and runs on beside that row. Two belts cross in a gap between columns if they come into it in one order
 * and leave it in the other; a belt down a column crosses those that come into the column on the way.
 */
import type { Cell, Grid } from "./floor-grid.ts";

interface Run {
  readonly from: number;
  readonly to: number;
}

interface Column {
  /** Belts in the gap after it, by their heights before and behind. */
  readonly gap: Run[];
  /** Heights at which belts come into it. */
  readonly arriving: number[];
  /** Belts between elements of the column. */
  readonly down: Run[];
  /** Belts that turn back after it. */
  readonly turning: Run[];
}

/** Between rows there is space above and below a row for belts that pass it. */
const ROW = 3;

export function crossingsOf({ cells, columns, onward, back }: Grid): number {
  const all = Array.from({ length: columns }, (): Column => ({ gap: [], arriving: [], down: [], turning: [] }));
  const run = (column: number, from: number, to: number): void => {
    all[column]?.gap.push({ from, to });
    all[column + 1]?.arriving.push(to);
  };
  for (const { from, to } of onward) {
    const ends = endsOf(cells, from, to);
    if (ends) lead(ends.from, ends.to, all, run);
  }
  for (const { from, to, row } of back) {
    const ends = endsOf(cells, from, to);
    if (!ends) continue;
    const [start, end] = [ends.from, ends.to];
    const isBeside = start.column === end.column;
    all[start.column]?.turning.push({ from: ROW * start.row, to: ROW * (isBeside ? end.row : row) });
    for (let column = end.column; column < start.column; column++)
      run(column, ROW * (column === end.column ? end.row : row), ROW * row);
  }
  return all.reduce((sum, { gap, arriving, down, turning }) => {
    const leaving = gap.map(({ from }) => from);
    return sum + inversions(gap) + passed(down, arriving) + passed(turning, leaving);
  }, 0);
}

function lead(
  from: Cell,
  to: Cell,
  all: readonly Column[],
  run: (column: number, from: number, to: number) => void,
): void {
  const [start, end] = [ROW * from.row, ROW * to.row];
  if (from.column >= to.column) {
    all[from.column]?.down.push({ from: start, to: end });
    return;
  }
  // It passes what stands in its end's row on the side that it comes from.
  const beside = end + Math.sign(start - end);
  for (let column = from.column; column < to.column; column++)
    run(column, column === from.column ? start : beside, column + 1 === to.column ? end : beside);
}

function endsOf(cells: ReadonlyMap<string, Cell>, from: string, to: string) {
  const [start, end] = [cells.get(from), cells.get(to)];
  return start && end ? { from: start, to: end } : null;
}

/** Pairs in one order before the gap and in the other behind it; belts with a common end don't cross. */
function inversions(gap: readonly Run[]): number {
  const behind = gap.toSorted((a, b) => a.from - b.from || a.to - b.to).map(({ to }) => to);
  return sorting(behind).swaps;
}

/** Merge sort, counting the pairs that it turns round. */
function sorting(values: readonly number[]): { readonly sorted: readonly number[]; readonly swaps: number } {
  if (values.length < 2) return { sorted: values, swaps: 0 };
  const half = values.length >> 1;
  const [left, right] = [sorting(values.slice(0, half)), sorting(values.slice(half))];
  const sorted: number[] = [];
  let swaps = left.swaps + right.swaps;
  let next = 0;
  for (const value of left.sorted) {
    for (let low = right.sorted[next]; low !== undefined && low < value; low = right.sorted[++next]) sorted.push(low);
    swaps += next;
    sorted.push(value);
  }
  return { sorted: [...sorted, ...right.sorted.slice(next)], swaps };
}

/** How many heights lie within the runs, ends left out. */
function passed(runs: readonly Run[], heights: readonly number[]): number {
  if (runs.length === 0 || heights.length === 0) return 0;
  const sorted = heights.toSorted((a, b) => a - b);
  const below = (limit: number, isIncluded: boolean): number => {
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      const height = sorted[middle] ?? limit;
      if (height < limit || (isIncluded && height === limit)) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return runs.reduce((sum, { from, to }) => {
    const [least, most] = [Math.min(from, to), Math.max(from, to)];
    return least === most ? sum : sum + below(most, false) - below(least, true);
  }, 0);
}
