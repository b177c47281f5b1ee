import fc from "fast-check";
import { expect, test } from "vitest";
import { padEnd, shorten, textWidth, wrap, wrapAtMost } from "../../src/report/text-width.ts";

// Widths by UAX #11: W and F take two columns, combining marks none.
test.each([
  ["plain", 5],
  ["é", 1],
  ["e\u0301", 1],
  ["包装机", 6],
  ["ＡＢ", 4],
  ["🏭", 2],
  ["", 0],
])("%s takes %d columns", (text, columns) => {
  expect(textWidth(text)).toBe(columns);
});

test("cut in the middle, since names differ at the end", () => {
  expect(shorten("palletiser-hall-12", 12)).toBe("palle…all-12");
  expect(shorten("short", 12)).toBe("short");
});

test("cut, wrapped and padded text keeps to its columns; wrapping loses nothing", () => {
  const text = fc.string({ unit: fc.constantFrom("a", "b", " ", "包", "é", "-") });
  fc.assert(
    fc.property(text, fc.integer({ min: 2, max: 30 }), (some, columns) => {
      expect(textWidth(shorten(some, columns))).toBeLessThanOrEqual(columns);
      expect(textWidth(padEnd(some, columns))).toBeGreaterThanOrEqual(columns);
      const lines = wrap(some, columns);
      for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(columns);
      expect(lines.join("").replaceAll(" ", "")).toBe(some.replaceAll(" ", ""));
      expect(wrapAtMost(some, columns, 2).length).toBeLessThanOrEqual(2);
    }),
  );
});
