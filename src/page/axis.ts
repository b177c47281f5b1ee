/** Round figures along an axis. */

/** Steps of 1, 2, 2.5 or 5 times a power of ten; of minutes, of what clocks have. */
function stepFor(end: number, most: number, isTime = false): number {
  const rough = end / Math.max(1, most);
  if (isTime && rough > 10) {
    for (const step of [15, 20, 30, 60, 120, 180, 240, 360, 720, 1440]) if (step >= rough) return step;
  }
  const power = 10 ** Math.floor(Math.log10(Math.max(rough, 1e-9)));
  for (const step of [1, 2, 2.5, 5, 10]) if (step * power >= rough) return step * power;
  return 10 * power;
}

export function marksUpTo(end: number, most: number, isTime = false): number[] {
  const step = stepFor(end, most, isTime);
  const marks: number[] = [];
  for (let i = 0; i * step <= end * (1 + 1e-9); i++) marks.push(Number((i * step).toPrecision(12)));
  return marks;
}

export function shortNumber(value: number): string {
  const size = Math.abs(value);
  return String(Number(value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : 2)));
}
