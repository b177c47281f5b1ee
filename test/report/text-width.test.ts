import fc from "fast-check";
import { expect, test } from "vitest";
import { padEnd, shorten, textWidth, wrap, wrapAtMost } from "../../src/report/text/text-width.ts";

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

test("letters, punctuation and signs that never join are measured singly, as the segmentation of UAX #29 has them", () => {
  const characters = Array.from({ length: 0x2300 - 0x20 }, (_, index) => String.fromCharCode(0x20 + index));
  const segmenter = new Intl.Segmenter("en", { granularity: "grapheme" });
  const text = fc.string({ unit: fc.constantFrom(...characters), minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(text, (some) => {
      const measured: string[] = [];
      textWidth(some, (grapheme) => measured.push(grapheme));
      expect(measured).toEqual(Array.from(segmenter.segment(some), ({ segment }) => segment));
    }),
  );
  // Each beside a letter on either side, and beside itself.
  for (const character of characters) {
    const measured: string[] = [];
    const some = `a${character}${character}a`;
    textWidth(some, (grapheme) => measured.push(grapheme));
    expect(measured).toEqual(Array.from(segmenter.segment(some), ({ segment }) => segment));
  }
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
