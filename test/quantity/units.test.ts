import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { exact, ratio } from "../../src/quantity/rational.ts";
import {
  formatDuration,
  formatLength,
  formatPercentage,
  formatRate,
  formatSpeed,
  LARGEST_TERM,
  parseQuantity,
  type QuantityKind,
  quantityPattern,
} from "../../src/quantity/units.ts";

function read(kind: QuantityKind, text: string): string {
  const parsed = parseQuantity(kind, text);
  return parsed.ok ? exact(parsed.value) : parsed.problem;
}

describe("quantities are exact in canonical units", () => {
  test.each<[QuantityKind, string, string]>([
    ["rate", "30/min", "30"],
    ["rate", "30 /min", "30"],
    ["rate", "0.5/s", "30"],
    ["rate", "1800/h", "30"],
    ["rate", "45/4 /min", "45/4"],
    ["rate", "45/4/min", "45/4"],
    ["rate", "0.1/min", "1/10"],
    ["rate", "0/min", "0"],
    ["duration", "90 s", "3/2"],
    ["duration", "90s", "3/2"],
    ["duration", "100 ms", "1/600"],
    ["duration", "2 h", "120"],
    ["duration", "1/3 s", "1/180"],
    ["duration", "1 d", "1440"],
    ["length", "6 m", "6"],
    ["length", "80 mm", "2/25"],
    ["length", "8 cm", "2/25"],
    ["length", "1 ft", "381/1250"],
    ["length", "12 in", "381/1250"],
    ["length", "2.5 in", "127/2000"],
    ["speed", "100 ft/min", "762/25"],
    ["speed", "20 m/min", "20"],
    ["speed", "0.4 m/s", "24"],
    ["speed", "400 mm/s", "24"],
    ["percentage", "110 %", "11/10"],
    ["percentage", "33.3%", "333/1000"],
  ])("%s %s", (kind, text, value) => expect(read(kind, text)).toBe(value));
});

describe("what is no quantity says why", () => {
  test.each<[QuantityKind, string, string]>([
    ["rate", "30", "missing-unit"],
    ["rate", "45/4", "missing-unit"],
    ["rate", "30/sec", "unknown-unit"],
    ["rate", "30 min", "unknown-unit"],
    ["rate", "1e3/min", "unknown-unit"],
    ["rate", "1/0 /min", "unknown-unit"],
    ["duration", "2,5 s", "decimal-comma"],
    ["duration", "-2 s", "negative"],
    ["duration", "soon", "no-number"],
    ["duration", "", "no-number"],
    ["duration", ".5 s", "no-number"],
    ["duration", "5. s", "unknown-unit"],
    ["duration", " 5 s", "no-number"],
    ["duration", "٣ s", "no-number"],
    ["length", "2147483648 m", "2147483648"],
    ["length", "2147483649 m", "too-many-digits"],
    ["length", "0.0000000001 m", "too-many-digits"],
    ["rate", "2147483649/min", "too-many-digits"],
    ["rate", `${"9".repeat(60)}/min`, "too-many-digits"],
  ])("%s %s", (kind, text, problem) => expect(read(kind, text)).toBe(problem));
});

test("a million digits are refused without being counted", () => {
  expect(read("rate", `${"9".repeat(1_000_000)}/min`)).toBe("too-many-digits");
});

const formats: [QuantityKind, typeof formatRate][] = [
  ["rate", formatRate],
  ["duration", formatDuration],
  ["length", formatLength],
  ["speed", formatSpeed],
  ["percentage", formatPercentage],
];

test.each(formats)("%s: what is written reads back exactly", (kind, format) => {
  const term = fc.bigInt({ min: 1n, max: LARGEST_TERM });
  fc.assert(
    fc.property(fc.oneof(fc.constant(0n), term), fc.oneof(term, fc.bigInt({ min: 1n, max: 1000n })), (n, d) => {
      const value = ratio(n, d);
      expect(read(kind, format(value))).toBe(exact(value));
    }),
  );
});

test.each(formats)("%s: whatever reads matches the pattern given to editors", (kind) => {
  fc.assert(
    fc.property(
      fc.stringMatching(/^[0-9]{1,4}([./][0-9]{1,3})? ?(\/min|\/s|s|min|ms|h|m|mm|m\/s|m\/min|%|x)$/),
      (text) => {
        expect(parseQuantity(kind, text).ok).toBe(quantityPattern(kind).test(text));
      },
    ),
    { numRuns: 500 },
  );
});

test("quantities are written as people write them", () => {
  expect(formatRate(ratio(45n, 4n))).toBe("11.25/min");
  expect(formatRate(ratio(1n, 3n))).toBe("1/3 /min");
  expect(formatDuration(ratio(1n, 30n))).toBe("2 s");
  expect(formatDuration(ratio(1n, 70n))).toBe("1/70 min");
  expect(formatDuration(ratio(240n, 1n))).toBe("4 h");
  expect(formatPercentage(ratio(11n, 10n))).toBe("110 %");
});
