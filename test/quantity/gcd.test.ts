/** Held to Euclid's algorithm, with divisors of all lengths and quotients of all sizes. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { approximateText } from "../../src/quantity/approximate.ts";
import { gcd } from "../../src/quantity/gcd.ts";
import { approximate, exact, minus, plus, ratio, times } from "../../src/quantity/rational.ts";

function euclid(x: bigint, y: bigint): bigint {
  return y === 0n ? (x < 0n ? -x : x) : euclid(y, x % y);
}

/** Of up to so many bits. */
const whole = (bits: number): fc.Arbitrary<bigint> =>
  fc.integer({ min: 1, max: bits }).chain((of) => fc.bigInt(-(2n ** BigInt(of)), 2n ** BigInt(of)));

test("any two numbers", () => {
  fc.assert(
    fc.property(whole(9000), whole(9000), whole(6000), (a, b, common) => {
      expect(gcd(a * common, b * common)).toBe(euclid(a * common, b * common));
    }),
    { numRuns: 60 },
  );
});

test.each([
  ["neighbours in Fibonacci's sequence, which take Euclid longest", fibonacci(20_000), fibonacci(19_999), 1n],
  ["multiples", 3n ** 8000n, 3n ** 7999n, 3n ** 7999n],
  ["powers of one base, less one", 2n ** 12_000n - 1n, 2n ** 9000n - 1n, 2n ** 3000n - 1n],
  ["short ones, halved again and again", 3n * 5n * 2n ** 6001n, 3n * 7n * 2n ** 9003n, 3n * 2n ** 6001n],
  ["an odd one and a power of two", 3n ** 4000n, 2n ** 9000n, 1n],
  ["equal ones", 7n ** 4000n, 7n ** 4000n, 7n ** 4000n],
  ["nothing and something", 0n, -(5n ** 3000n), 5n ** 3000n],
])("%s", (_, one, other, common) => {
  expect(gcd(one, other)).toBe(common);
  expect(gcd(other, one)).toBe(common);
});

function fibonacci(n: number): bigint {
  let [a, b] = [0n, 1n];
  for (let i = 0; i < n; i++) [a, b] = [b, a + b];
  return a;
}

test("sums, differences and products of long fractions are those of fraction.js", () => {
  const [a, b] = [ratio(3n ** 5000n, 2n ** 6000n), ratio(-(5n ** 2000n), 3n ** 4000n)];
  expect(plus(a, b).equals(a.add(b))).toBe(true);
  expect(minus(a, b).equals(a.sub(b))).toBe(true);
  expect(times(a, b).equals(a.mul(b))).toBe(true);
  expect(times(a, b).n).toBe(a.mul(b).n);
  for (const value of [a, b, ratio(-7n, 3n), ratio(0n, 5n)])
    expect(approximateText(exact(value))).toBe(approximate(value));
});
