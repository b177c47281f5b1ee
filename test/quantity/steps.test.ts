import fc from "fast-check";
import { expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { readSteps } from "../../src/quantity/steps.ts";
import { parseQuantity } from "../../src/quantity/units.ts";

test.each([
  ["60/min..90/min:10/min", ["60/min", "70/min", "80/min", "90/min"], "/min", [60, 70, 80, 90]],
  ["60/min..85/min:10/min", ["60/min", "70/min", "80/min"], "/min", [60, 70, 80]],
  ["0.1/s..0.3/s:0.1/s", ["0.1/s", "0.2/s", "0.3/s"], "/s", [0.1, 0.2, 0.3]],
  // Ends and step may have units of their own; values keep the first one's.
  ["1/s..2/s:30/min", ["1/s", "1.5/s", "2/s"], "/s", [1, 1.5, 2]],
  ["1/3 /min..1/min:1/3 /min", ["1/3 /min", "2/3 /min", "1/min"], "/min", [1 / 3, 2 / 3, 1]],
  ["2 s..3s : 500 ms", ["2 s", "2.5 s", "3 s"], "s", [2, 2.5, 3]],
  ["100 %..80 %:10 %", ["100 %", "90 %", "80 %"], "%", [100, 90, 80]],
  ["3 m..3 m:1 m", ["3 m"], "m", [3]],
  ["20 m/min..30 m/min:5 m/min", ["20 m/min", "25 m/min", "30 m/min"], "m/min", [20, 25, 30]],
  ["2..5", ["2", "3", "4", "5"], "", [2, 3, 4, 5]],
  ["50..200:75", ["50", "125", "200"], "", [50, 125, 200]],
  ["5..2", ["5", "4", "3", "2"], "", [5, 4, 3, 2]],
  ["50, 100,200", ["50", "100", "200"], "", [50, 100, 200]],
  ["60/min,1.5/s", ["60/min", "1.5/s"], "/min", [60, 90]],
  [
    "90 % of need..100 % of need:5 % of need",
    ["90 % of need", "95 % of need", "100 % of need"],
    "% of need",
    [90, 95, 100],
  ],
  ["97.5 % of need,110 % of need", ["97.5 % of need", "110 % of need"], "% of need", [97.5, 110]],
  ["as needed,110 % of need", ["as needed", "110 % of need"], null, null],
  ["100 %,110 % of need", ["100 %", "110 % of need"], null, null],
  ["even,branch-first", ["even", "branch-first"], null, null],
  // Words as soon as one of them is one.
  ["50,full", ["50", "full"], null, null],
  ["60/min,2 s", ["60/min", "2 s"], null, null],
])("%s", (text, texts, unit, numbers) => {
  const steps = readSteps(text, 100);
  expect(steps).toEqual({ texts, unit, numbers: numbers?.map((one) => expect.closeTo(one, 12)) ?? null });
});

test.each([
  ["", "empty"],
  ["1,,2", "empty"],
  ["a..b", "no-number"],
  ["1..2:3:4", "no-number"],
  ["-3..2", "no-number"],
  ["1.5..3", "no-number"],
  ["60..300/min:10/min", "unlike"],
  ["60/min..5 min:10/min", "unlike"],
  ["60/min..90/min:10", "unlike"],
  ["60/min..90/min", "no-step"],
  ["1..5:0", "no-step"],
  ["60/min..90/min:0/min", "no-step"],
  ["50,50", "twice"],
  ["60/min,1/s", "twice"],
  ["even,even", "twice"],
  ["1..101", "too-many"],
  ["0 s..999999 s:1/1000000 s", "too-many"],
  [Array.from({ length: 101 }, (_, i) => i).join(","), "too-many"],
])("%s is refused: %s", (text, problem) => expect(readSteps(text, 100)).toBe(problem));

test("every value of a range is the first one and so many steps, exactly", () => {
  const part = fc.integer({ min: 1, max: 999 });
  fc.assert(
    fc.property(part, part, part, part, fc.integer({ min: 0, max: 40 }), (a, b, c, d, count) => {
      const [from, step] = [rational(`${a}/${b}`), rational(`${c}/${d}`)];
      const to = from.add(step.mul(BigInt(count)));
      const steps = readSteps(`${a}/${b} /h..${to.toFraction()} /h:${c}/${d} /h`, 100);
      if (typeof steps === "string") throw new Error(steps);
      expect(steps.texts).toHaveLength(count + 1);
      for (const [i, text] of steps.texts.entries()) {
        const parsed = parseQuantity("rate", text);
        const expected = from.add(step.mul(BigInt(i))).div(60n);
        expect(parsed.ok && parsed.value.equals(expected)).toBe(true);
      }
    }),
  );
});
