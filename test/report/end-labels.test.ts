import fc from "fast-check";
import { expect, test } from "vitest";
import { spread } from "../../src/report/chart/end-labels.ts";

test("labels stay in the plot, in their order, and apart as far as there is room", () => {
  const wanted = fc.array(fc.double({ min: 0, max: 500, noNaN: true }), { maxLength: 12 });
  fc.assert(
    fc.property(wanted, fc.double({ min: 1, max: 100, noNaN: true }), (values, gap) => {
      const placed = spread(values, gap, 0, 500);
      const inOrder = values
        .map((value, i) => ({ value, at: placed[i] ?? NaN }))
        .toSorted((a, b) => Math.round(a.value / gap) - Math.round(b.value / gap));
      const room = values.length > 1 ? Math.min(gap, 500 / (values.length - 1)) : 0;
      for (const [i, { at }] of inOrder.entries()) {
        expect(at).toBeGreaterThanOrEqual(-1e-6);
        expect(at).toBeLessThanOrEqual(500 + 1e-6);
        const before = inOrder[i - 1];
        if (before !== undefined) expect(at - before.at).toBeGreaterThanOrEqual(room - 1e-6);
      }
    }),
  );
});

test("labels with room stay where they are wanted", () => {
  expect(spread([300, 100, 200], 29, 0, 500)).toEqual([300, 100, 200]);
});

test("labels wanted at one place keep the order given", () => {
  expect(spread([0, 0, 500, 500], 30, 0, 500)).toEqual([0, 30, 470, 500]);
});
