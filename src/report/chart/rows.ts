/** Rows of a picture with a row a machine or buffer: how tall, and which, where there are more than it can show. */

const MOST_ROWS = 400;

/** @returns pixels a row gets in a picture of so many rows */
export function rowHeight(rows: number): number {
  if (rows <= 10) return 52;
  if (rows <= 40) return Math.max(30, 520 / rows);
  return Math.min(30, 1300 / rows);
}

/** All rows, or every n-th where there are too many, and which that is for the title. */
export function shownRows<T>(rows: readonly T[]): { readonly rows: readonly T[]; readonly note: string } {
  const every = Math.ceil(rows.length / MOST_ROWS);
  if (every <= 1) return { rows, note: "" };
  return { rows: rows.filter((_, index) => index % every === 0), note: `, one in ${every}` };
}
