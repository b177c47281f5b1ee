/** @returns pixels a row gets in a picture of so many rows */
export function rowHeight(rows: number): number {
  if (rows <= 10) return 52;
  if (rows <= 40) return 30;
  return Math.max(4, Math.min(26, 1300 / rows));
}
