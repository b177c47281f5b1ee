/** Files of counts: what is read, and everything that can be wrong with one, at its place. */
import { describe, expect, test } from "vitest";
import { prepare } from "../../../src/network/prepare.ts";
import { rational } from "../../../src/quantity/rational.ts";
import { formatFinding } from "../../../src/scenario/file-finding.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import { readObserved } from "../../../src/study/fit/observed.ts";
import { type Targets, targetsOf } from "../../../src/study/fit/targets.ts";
import { LINE, MEETING } from "./lines.ts";

function targets(text: string): Targets {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error("not read");
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error("not prepared");
  return targetsOf(prepared.program);
}

const OF_LINE = targets(LINE);
const OF_MEETING = targets(MEETING);

function found(text: string, known = OF_LINE): string[] {
  const outcome = readObserved(text, known);
  return outcome.ok ? [] : outcome.findings.map((finding) => formatFinding(finding, "counts.csv"));
}

test("times in their unit, empty cells, remarks, quotation marks, spaces, other line ends and a byte order mark", () => {
  const text = '\ufeff# by hand\r\ntime_s,"cartoner-1.made", made\r\n30,7,\r\n"90",,61\r\n\r\n120, 40 ,80.5\r\n';
  const outcome = readObserved(text, OF_LINE);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome));
  const { timesMin, series } = outcome.observed;
  expect(timesMin.map((time) => time.toFraction())).toEqual(["1/2", "3/2", "2"]);
  expect(series).toEqual([
    { name: "cartoner-1.made", counts: [7, null, 40] },
    { name: "made", counts: [null, 61, 80.5] },
  ]);
});

test("times beyond the horizon", () => {
  const outcome = readObserved("time_s,made\n3600,7\n3601,8\n", OF_LINE, rational("60"));
  expect(outcome.ok ? [] : outcome.findings.map((finding) => formatFinding(finding, "counts.csv"))).toEqual([
    "counts.csv:3:1: the time 3601 lies beyond the horizon of 60 min: expected one within it; state a longer horizon in the scenario",
  ]);
});

test("what can be observed", () => {
  expect([...OF_MEETING.known.keys()].sort()).toEqual(
    [
      "made",
      "hold-up",
      "seamer.made",
      "bodies.fed",
      "lids.fed",
      "bodies-line.belts",
      "lids-line.belts",
      "seamer.infeed.body",
      "seamer.infeed.lid",
      "seamer.outfeed.tin",
      "seamer.outfeed",
    ].sort(),
  );
  expect([...OF_MEETING.ambiguous.keys()]).toEqual(["seamer.infeed"]);
});

describe("findings", () => {
  test.each([
    ["", "counts.csv: no observations: expected a header such as time_min,cartoner-3.made and a row for each time"],
    [
      "# only this\n",
      "counts.csv: no observations: expected a header such as time_min,cartoner-3.made and a row for each time",
    ],
    [
      "time_min,made\n",
      "counts.csv:1:1: no observations below the header: expected a row for each time, such as 5,118",
    ],
    [
      "time_min;made\n1;2\n",
      "counts.csv:1:1: cells are parted by semicolons here: expected commas, and points in decimals, such as 2.5,118",
    ],
    [
      "minutes,made\n1,2\n",
      'counts.csv:1:1: the first column is "minutes": expected the times, as time_min, time_s, time_h or time_ms',
    ],
    [
      "time_min,cartoner-2.mad\n1,2\n",
      'counts.csv:1:10: nothing of this plant is called "cartoner-2.mad", did you mean "cartoner-2.made"?',
    ],
    [
      "time_min,pressure\n1,2\n",
      'counts.csv:1:10: nothing of this plant is called "pressure": expected a thing that can be observed, such as cartoner-1.made',
    ],
    ["time_min,made,made\n1,2,3\n", 'counts.csv:1:15: "made" has a column already: expected one for each thing'],
    [
      "time_min,made\n1,2\n2\n",
      "counts.csv:3:1: a row of 1 cells: expected 2, as in the header; leave cells empty, not out",
    ],
    ["time_min,made\nnoon,2\n", 'counts.csv:2:1: "noon" is no time: expected a number such as 2.5, from 0 to a month'],
    ["time_h,made\n1000,2\n", 'counts.csv:2:1: "1000" is no time: expected a number such as 2.5, from 0 to a month'],
    [
      "time_min,made,hold-up\n1,20,9\n2,,4\n3,19,5\n",
      'counts.csv:4:3: "made" falls from 20 to 19, but it counts from the start: expected a count that never falls; a counter that was set back goes on from where it was',
    ],
    ["time_min,made\n2,2\n1,3\n", "counts.csv:3:1: the time 1 does not come after 2 above: expected rising times"],
    [
      "time_min,made\n1,many\n2,-3\n",
      'counts.csv:2:3: "many" is no count: expected a number such as 118, or nothing where none was taken',
      'counts.csv:3:3: "-3" is no count: expected a number such as 118, or nothing where none was taken',
    ],
    ["time_min,made,cartoner-1.made\n1,,3\n", 'counts.csv:1:10: no counts in the column "made": expected at least one'],
    [
      'time_min,"made\n1,2\n',
      'counts.csv:1:10: a quotation mark that is not closed: expected cells such as 118 or "118"',
      'counts.csv:1:10: nothing of this plant is called ""made", did you mean "made"?',
    ],
  ])("%j", (text, ...expected) => expect(found(text)).toEqual(expected));

  test("of a buffer of several kinds", () => {
    expect(found("time_min,seamer.infeed\n1,2\n", OF_MEETING)).toEqual([
      'counts.csv:1:10: "seamer.infeed" holds several kinds: state which, as seamer.infeed.body or seamer.infeed.lid',
    ]);
  });

  test("all at once, in the order of the file", () => {
    expect(found("time,mde,made\n1,x,2\n0,3,4\n5,6\n").map((one) => one.split(": ")[0])).toEqual([
      "counts.csv:1:1",
      "counts.csv:1:6",
      "counts.csv:2:3",
      "counts.csv:3:1",
      "counts.csv:4:1",
    ]);
  });

  test("of too many rows", () => {
    const rows = Array.from({ length: 2_001 }, (_, n) => `${n},1`);
    expect(found(["time_s,made", ...rows].join("\n"))).toEqual([
      "counts.csv:1:1: too many rows: expected at most 2000",
    ]);
  });
});
