/** Lanes in the file. */
import { describe, expect, test } from "vitest";
import { whole } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Line } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { changed, LANES_EXAMPLE, plain } from "./example.ts";

function lineOf(text: string): Line | undefined {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario.lines[0];
}

const belt = (perMin: number, capacity: number) => ({
  ratePerMin: whole(perMin),
  capacity,
  transitMin: whole(capacity).div(whole(perMin)),
  metres: null,
});

const RETURN = "    return: { rate: 90/min, capacity: 20 }\n";
const BRANCH = "    branch: { rate: 60/min, capacity: 6 }\n";

test("lanes as stated", () => {
  expect(plain(lineOf(LANES_EXAMPLE))).toEqual(
    plain({
      id: "filling",
      layout: "lanes",
      from: ["washer", "rinser"],
      to: ["filler", "chute"],
      belt: belt(150, 12),
      branch: belt(60, 6),
      ways: 2,
      return: belt(90, 20),
    }),
  );
});

test("what may be left out: belts across and back are like the belt; without spare parts nothing comes back", () => {
  const short = changed(changed(LANES_EXAMPLE, RETURN, ""), BRANCH, "");
  const like = plain(belt(150, 12));
  expect(plain(lineOf(short))).toMatchObject({ branch: like, return: like, ways: 2 });
  const four = changed(changed(short, "    ways: 2\n", ""), "to: [filler, chute]", "to: filler");
  expect(plain(lineOf(four))).toMatchObject({ return: null, ways: 3 });
});

test("written as people would", () => {
  const outcome = readScenario(LANES_EXAMPLE);
  const text = outcome.ok ? writeScenario(outcome.scenario) : "";
  expect(text).toContain("    layout: lanes\n");
  expect(text).toContain("    ways: 2\n    return: { rate: 90/min, capacity: 20, ");
});

describe("what is wrong with them", () => {
  test.each([
    ["a return where nothing returns", "to: [filler, chute]", "to: filler", "lanes-return 15:5"],
    [
      "a return where nothing returns, by threes",
      "to: [filler, chute]",
      "to: [filler-1, filler-2]",
      "lanes-return 15:5",
    ],
    ["an unknown consumer, and no word on the return", "filler, chute", "filler, shute", "unknown-reference 11:18"],
    ["dividers of thirteen ways, and no word on the return", "ways: 2", "ways: 13", "too-large 14:11"],
    ["a collecting belt", "ways: 2", "collect: none", "unknown-key 14:5"],
    ["a rule for its merges", "ways: 2", "merges: even", "unknown-key 14:5"],
    ["an end", "ways: 2", "end: stop", "unknown-key 14:5"],
    ["an outlet that comes in", "[washer, rinser]", "[washer, rinser, chute]", "wrong-reference 10:28"],
    ["a feed that goes out", "[filler, chute]", "[filler, washer]", "wrong-reference 11:18"],
    ["a machine twice", "[filler, chute]", "[filler, filler-1]", "listed-twice 11:18"],
    ["a source of what nobody takes", "[washer, rinser]", "[washer, rinser, filler]", "nothing-collected 10:28"],
    ["a belt of half a form", "{ rate: 60/min, capacity: 6 }", "{ rate: 60/min }", "belt-form 13:5"],
    ["a belt that is none, and no return", RETURN, "", "return-missing 9:13"],
  ])("%s", (name, from, to, ...expected) => {
    const text = changed(LANES_EXAMPLE, from, to);
    const none = changed(text, "    belt: { rate: 150/min, capacity: 12 }", "    belt: none");
    const outcome = readScenario(name.startsWith("a belt that is none") ? none : text);
    const found = (outcome.ok ? outcome.warnings : outcome.findings).map(({ code, line, column }) => {
      return `${code} ${line}:${column}`;
    });
    expect(found).toEqual(expected);
  });
});
