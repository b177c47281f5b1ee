/** Quantiles of Student's t and of the normal distribution, and the factors of intervals by them. */
import { normalQuantile as standardNormalQuantile } from "../../engine/random/normal.ts";

/** Beyond it t is normal to five places. */
const MOST_DEGREES = 1_000_000;

export function normalQuantile(probability: number): number {
  return standardNormalQuantile(checked(probability));
}

/** @throws RangeError for probabilities outside 0 … 1, or fewer than one degree of freedom */
export function studentQuantile(probability: number, degrees: number): number {
  if (!(degrees >= 1)) throw new RangeError(`not degrees of freedom: ${degrees}`);
  return degrees > MOST_DEGREES ? normalQuantile(probability) : studentTQuantile(checked(probability), degrees);
}

/** The half-width of a two-sided interval at a confidence level, in standard errors of a mean of n figures. */
export function studentFactor(level: number, n: number): number {
  return studentQuantile((1 + checked(level)) / 2, n - 1);
}

function checked(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`not between 0 and 1: ${probability}`);
  return probability;
}

/** @param probability above 0 and below 1 @param degrees at least 1 */
function studentTQuantile(probability: number, degrees: number): number {
  const tail = Math.min(probability, 1 - probability);
  if (tail === 0.5) return 0;
  const scale = logBetaHalf(degrees);
  let low = 0;
  let high = 1;
  while (upperTail(high, degrees, scale) > tail) [low, high] = [high, 2 * high];
  let t = (low + high) / 2;
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const excess = upperTail(t, degrees, scale) - tail;
    if (excess > 0) low = t;
    else high = t;
    const density = Math.exp(-((degrees + 1) / 2) * Math.log1p((t * t) / degrees) - scale) / Math.sqrt(degrees);
    const newton = t + excess / density;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - t) <= CLOSE * t) return probability < 0.5 ? -next : next;
    t = next;
  }
  return probability < 0.5 ? -t : t;
}

const MOST_TURNS = 200;
const CLOSE = 1e-15;

/** The probability of more than t > 0. */
function upperTail(t: number, degrees: number, scale: number): number {
  const x = degrees / (degrees + t * t);
  const [a, b] = [degrees / 2, 0.5];
  const front = Math.exp(-a * Math.log1p((t * t) / degrees) + b * Math.log1p(-x) - scale);
  return x < (a + 1) / (a + b + 2)
    ? (front * fraction(a, b, x)) / (2 * a)
    : 0.5 - (front * fraction(b, a, 1 - x)) / (2 * b);
}

const LEAST = 1e-300;
const MOST_TERMS = 100_000;

function fraction(a: number, b: number, x: number): number {
  const off = (value: number): number => (Math.abs(value) < LEAST ? LEAST : value);
  let c = 1;
  let d = 1 / off(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / off(1 + even * d);
    c = off(1 + even / c);
    value *= d * c;
    d = 1 / off(1 + odd * d);
    c = off(1 + odd / c);
    value *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return value;
}

/** The logarithm of B(n/2, 1/2). */
function logBetaHalf(degrees: number): number {
  return logGamma(degrees / 2) + Math.log(Math.PI) / 2 - logGamma((degrees + 1) / 2);
}

const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
  -0.13857109526572012, 0.000009984369578019572, 1.5056327351493116e-7,
] as const;

/** @param x at least 1/2 */
function logGamma(x: number): number {
  const base = x + 6.5;
  const series = LANCZOS.reduce((sum, one, i) => (i === 0 ? one : sum + one / (x - 1 + i)), 0);
  return Math.log(2 * Math.PI) / 2 + (x - 0.5) * Math.log(base) - base + Math.log(series);
}
