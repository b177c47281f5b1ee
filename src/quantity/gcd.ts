/**
 * Greatest common divisors of long numbers. Euclid's algorithm takes a division of full length for every two digits or so; here
 * its steps are worked out from the leading halves, halves of these and so on, and applied to the whole numbers at once
 * (the half-gcd of A. Schönhage, D. H. Lehmer's idea taken all the way; D. E. Knuth, The Art of Computer Programming 2,
 * section 4.5.3; from memory). Every step is a matrix of determinant 1 or -1, which leaves the divisor as it is even where the
 * leading digits mislead: only how fast it goes depends on them.
 */

/** From x and y to a x + b y and c x + d y. */
interface Steps {
  readonly a: bigint;
  readonly b: bigint;
  readonly c: bigint;
  readonly d: bigint;
}

/** From here on it is worth it. */
const LONG = 2n ** 4000n;
/** A number of so many bits is exact in floating point. */
const EXACT_BITS = 52;

/** From here on it is worth looking how often both can be halved. */
const MIDDLE = 2n ** 128n;

/** Never negative. */
export function gcd(one: bigint, other: bigint): bigint {
  const [x, y] = [size(one), size(other)];
  if (x < MIDDLE || y < MIDDLE) return divisorOf(x, y);
  // Along a chain flows are halved again and again: most of their denominators, and all that is long in them, are twos.
  const [twosOfX, twosOfY] = [twosOf(x), twosOf(y)];
  const odd = divisorOf(x >> BigInt(twosOfX), y >> BigInt(twosOfY));
  return odd << BigInt(Math.min(twosOfX, twosOfY));
}

function divisorOf(one: bigint, other: bigint): bigint {
  let [x, y] = one < other ? [other, one] : [one, other];
  while (y >= LONG) {
    const length = bitsOf(y);
    // Of very different lengths a division does more, and where the leading digits misled it goes on from there.
    if (x >= y && bitsOf(x) < 1.25 * length) [x, y] = after(halving(x, y), x, y);
    if (y !== 0n && bitsOf(y) >= length) [x, y] = [y, x % y];
  }
  while (y !== 0n) {
    // Saves a last division that is as long as the longer number.
    if (y === 1n) return y;
    [x, y] = [y, x % y];
  }
  return x;
}

/** Steps after which numbers x >= y >= 0 are about half as long. */
function halving(x: bigint, y: bigint): Steps {
  const length = bitsOf(x);
  if (length <= EXACT_BITS) return halvingShort(Number(x), Number(y), length);
  const half = length >> 1;
  let steps = upright(halvingLeading(x, y, half), x, y);
  let [nearX, nearY] = after(steps, x, y);
  if (nearY === 0n) return steps;
  const quotient = nearX / nearY;
  steps = product({ a: 0n, b: 1n, c: 1n, d: -quotient }, steps);
  [nearX, nearY] = [nearY, nearX - quotient * nearY];
  const shift = bitsOf(nearX) - half;
  return shift <= 0 || nearY === 0n ? steps : product(halvingLeading(nearX, nearY, shift), steps);
}

function halvingLeading(x: bigint, y: bigint, without: number): Steps {
  const shift = BigInt(without);
  return halving(x >> shift, y >> shift);
}

function halvingShort(x: number, y: number, length: number): Steps {
  const least = 2 ** Math.ceil(length / 2);
  let [a, b, c, d] = [1, 0, 0, 1];
  while (y >= least) {
    const quotient = Math.floor(x / y);
    [x, y] = [y, x - quotient * y];
    [a, b, c, d] = [c, d, a - quotient * c, b - quotient * d];
  }
  return { a: BigInt(a), b: BigInt(b), c: BigInt(c), d: BigInt(d) };
}

/** Both without signs, the larger first. */
function after({ a, b, c, d }: Steps, x: bigint, y: bigint): [bigint, bigint] {
  const [first, second] = [size(a * x + b * y), size(c * x + d * y)];
  return first >= second ? [first, second] : [second, first];
}

/** The same steps, turned round and exchanged so that x and y give the larger first and neither negative. */
function upright(steps: Steps, x: bigint, y: bigint): Steps {
  let { a, b, c, d } = steps;
  let [first, second] = [a * x + b * y, c * x + d * y];
  if (first < 0n) [a, b, first] = [-a, -b, -first];
  if (second < 0n) [c, d, second] = [-c, -d, -second];
  return first >= second ? { a, b, c, d } : { a: c, b: d, c: a, d: b };
}

function product(later: Steps, earlier: Steps): Steps {
  return {
    a: later.a * earlier.a + later.b * earlier.c,
    b: later.a * earlier.b + later.b * earlier.d,
    c: later.c * earlier.a + later.d * earlier.c,
    d: later.c * earlier.b + later.d * earlier.d,
  };
}

function size(value: bigint): bigint {
  return value < 0n ? -value : value;
}

/** How often a number that is not 0 can be halved. */
function twosOf(value: bigint): number {
  if ((value & 1n) === 1n) return 0;
  const digits = (value & -value).toString(16);
  return (digits.length - 1) * 4 + Math.log2(Number.parseInt(digits.charAt(0), 16));
}

/** To a few bits. */
function bitsOf(value: bigint): number {
  return value.toString(16).length * 4;
}
