/** The nearest fraction that schedules can count. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { exact, nearestWithin, ratio } from "../../src/quantity/rational.ts";

const MOST = 2n ** 31n - 1n;

test("355/113 is the nearest to π with a denominator below 16,604 (continued fractions; from memory)", () => {
  expect(exact(nearestWithin(ratio(314159265358979n, 100000000000000n), 16603n))).toBe("355/113");
});

test("what fits stays as it is; what does not is closer than one part of the square of what does", () => {
  const term = fc.bigInt({ min: 1n, max: 2n ** 62n });
  fc.assert(
    fc.property(term, term, (n, d) => {
      const value = ratio(n, d);
      const near = nearestWithin(value, MOST);
      expect(near.d <= MOST).toBe(true);
      if (value.d <= MOST) expect(near.equals(value)).toBe(true);
      // |value - near| < 1 / (near.d · most), by the theory of continued fractions.
      else
        expect(
          value
            .sub(near)
            .abs()
            .compare(ratio(1n, near.d * MOST)) < 0,
        ).toBe(true);
    }),
  );
});
