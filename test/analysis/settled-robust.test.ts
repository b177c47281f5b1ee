/**
 * The headline of random lines, with cycles of one decimal, feeds rounded to 0.01/min and cycles of minutes with many
 * products, holds however long one looks, however short the tick is and whether or not a state happens to recur; or it is
 * said not to have settled yet. FILLFRONT_CASES=10 looks at ten times as many lines, and at each in more ways.
 *
 * The aim is one line in a hundred. Of 300 lines looked at in five ways (4, 8, 24 h; 4 and 24 h unproved) 208 are told to have
 * settled in all five, and the figures of three moved, since what comes once in hours is not seen in a short look:
 * - Stages of 5 and 2 machines, fed 110 %: the 95 % time, 79.6 min at 8 h and 77.8 at 24 h.
 * - A loop of 3 fed its need, whose rate is only measured: full output 1.2 and 0.9 min.
 * - Stages of 6 machines fed their need: full output 35.5, 34.7 and 34.1 min.
 * Of thirteen full output comes before the last machine that counts: one that starves, or stands behind one that does, with a
 * gap of its own hours later that is as nothing in what all make together.
 *
 * With a half and a tenth of the tick, at 4 h and stepped through 8 h, four moved, by one gap that lies at the edge of the leeway: full
 * output 3.66 and 3.81 min; 7.48 and 7.87; the stages above, 35.5 and 34.8; the 95 % time of stages fed 90 %, 73.1 and 68.7.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { cases } from "../plants/cases.ts";
import { type SettledLine, settledLines } from "./settled-lines.ts";
import { disorder, finerLooks, type Look, longerLooks, moves } from "./settled-looks.ts";

const LINES = 20;
const SEED = 13;

const lines = fc.sample(settledLines(), { numRuns: cases(LINES), seed: SEED });
const isThorough = lines.length > LINES;

/** Of so many lines one may be out. */
const ONE_IN = 100;
const MANY_ONE_IN = { longer: 15, finer: 60 };

/** What is wrong with each line, and how many settle in every look. */
function seen(looksAt: (line: SettledLine) => Look[], faults: (looks: readonly Look[]) => string[]) {
  let settled = 0;
  const exceptions = lines.flatMap((line) => {
    const looks = looksAt(line);
    if (looks.every(({ result }) => result.settling.time_min !== null)) settled++;
    const found = faults(looks);
    return found.length === 0 ? [] : [`${JSON.stringify(line)}\n  ${found.join("\n  ")}`];
  });
  if (isThorough) console.log(`${settled} of ${lines.length} settle; exceptions:\n${exceptions.join("\n")}`);
  return { settled, exceptions };
}

test("looking for longer, or without proof, moves no headline by 2 % or 0.2 min, and all is in order", () => {
  const { settled, exceptions } = seen(
    (line) => longerLooks(line, isThorough),
    (looks) => {
      const longest = looks.find(({ what }) => what === "24 h");
      return [...moves(looks), ...looks.flatMap((one) => disorder(one, longest ?? one))];
    },
  );
  const most = Math.ceil(lines.length / (isThorough ? MANY_ONE_IN.longer : ONE_IN));
  expect(exceptions.length, exceptions.join("\n")).toBeLessThanOrEqual(most);
  // Silence would be no way out.
  expect(settled).toBeGreaterThan((2 / 3) * lines.length);
}, 1e8);

test("nor does a shorter tick, but where one gap lies at the edge of the leeway", () => {
  const { exceptions } = seen(
    (line) => finerLooks(line, isThorough),
    (looks) => moves(looks),
  );
  // A shorter tick changes in which order items come, and with it such a gap.
  const most = Math.ceil(lines.length / (isThorough ? MANY_ONE_IN.finer : ONE_IN));
  expect(exceptions.length, exceptions.join("\n")).toBeLessThanOrEqual(most);
}, 1e8);
