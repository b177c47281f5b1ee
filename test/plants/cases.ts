/** How many random plants a test runs: few by default, as many more as `FILLFRONT_CASES` says (`FILLFRONT_CASES=20`). */
export function cases(count: number): number {
  const times = Number(process.env.FILLFRONT_CASES ?? "1");
  return Math.max(1, Math.round(count * times));
}
