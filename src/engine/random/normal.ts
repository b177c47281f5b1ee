/**
 * Quantiles of the standard normal distribution, to about one part in 10^16: M. J. Wichura, "Algorithm AS 241: The
 * percentage points of the normal distribution", Applied Statistics 37(3), 1988, pp. 477-484, its procedure PPND16. Three
 * quotients of polynomials: about the middle, for the tails, and for their far ends.
 */

/** Coefficients from the constant up, as the nearest floating-point numbers. */
export const PPND16 = {
  middle: {
    above: [
      3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
      67265.7709270087, 33430.57558358813, 2509.0809287301227,
    ],
    below: [
      1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
      28729.085735721943, 5226.495278852854,
    ],
  },
  tail: {
    above: [
      1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
      0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
    ],
    below: [
      1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
      0.0005475938084995345, 1.0507500716444169e-9,
    ],
  },
  end: {
    above: [
      6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
      0.0012426609473880784, 0.000027115555687434876, 2.0103343992922881e-7,
    ],
    below: [
      1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 0.000018463183175100548,
      1.421511758316446e-7, 2.0442631033899397e-15,
    ],
  },
} as const;

/** @param u from 0, which gives -Infinity, up to 1, which gives Infinity */
export function normalQuantile(u: number): number {
  const q = u - 0.5;
  if (Math.abs(q) <= 0.425) return q * quotient(PPND16.middle, 0.180625 - q * q);
  const r = q < 0 ? u : 1 - u;
  if (r <= 0) return q < 0 ? -Infinity : Infinity;
  const depth = Math.sqrt(-Math.log(r));
  const size = depth <= 5 ? quotient(PPND16.tail, depth - 1.6) : quotient(PPND16.end, depth - 5);
  return q < 0 ? -size : size;
}

function quotient({ above, below }: { above: readonly number[]; below: readonly number[] }, x: number): number {
  return polynomial(above, x) / polynomial(below, x);
}

function polynomial(coefficients: readonly number[], x: number): number {
  let value = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) value = value * x + coefficients[i]!;
  return value;
}
