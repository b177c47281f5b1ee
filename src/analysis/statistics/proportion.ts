/** The interval of a share counted in n trials: E. B. Wilson, J. American Statistical Association 22, 1927 (from memory). */
import { USUAL_LEVEL } from "./interval.ts";
import { normalFactor } from "./quantiles.ts";

export interface ProportionInterval {
  readonly n: number;
  readonly share: number;
  readonly level: number;
  readonly low: number;
  readonly high: number;
}

/** @throws RangeError for no trials, or a count that is not among them */
export function proportionInterval(count: number, n: number, level = USUAL_LEVEL): ProportionInterval {
  if (!(n >= 1 && count >= 0 && count <= n)) throw new RangeError(`not ${count} of ${n}`);
  const z = normalFactor(level);
  const share = count / n;
  const centre = (share + z ** 2 / (2 * n)) / (1 + z ** 2 / n);
  const half = (z / (1 + z ** 2 / n)) * Math.sqrt((share * (1 - share)) / n + z ** 2 / (4 * n ** 2));
  // Exactly the bounds at the ends, which rounding would miss.
  return { n, share, level, low: count === 0 ? 0 : centre - half, high: count === n ? 1 : centre + half };
}
