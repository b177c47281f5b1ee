/** Means of batches of a size, in order; what is left over at the end is dropped. */
import type { Numbers } from "./moments.ts";

export function meansOfBatches(series: Numbers, size: number): Float64Array {
  const means = new Float64Array(Math.floor(series.length / size));
  for (let b = 0; b < means.length; b++) {
    const first = series[b * size] ?? 0;
    let above = 0;
    // Summed as differences from the first, so that a batch of equal values has exactly that mean.
    for (let i = 1; i < size; i++) above += (series[b * size + i] ?? 0) - first;
    means[b] = first + above / size;
  }
  return means;
}
