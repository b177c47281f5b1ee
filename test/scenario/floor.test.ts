/** What elements take up on the floor, as the file states it. */
import { describe, expect, test } from "vitest";
import { ratio, whole, ZERO } from "../../src/quantity/rational.ts";
import { DEFAULT_FLOOR } from "../../src/scenario/floor.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { EXAMPLE, plain, SHARED_EXAMPLE } from "./example.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

test("as stated, the rest as usual; a group's own footprint before the floor's", () => {
  const { floor, machines } = read(SHARED_EXAMPLE);
  expect(plain(floor)).toEqual(
    plain({
      machine: { lengthM: whole(4), widthM: whole(3) },
      divider: { lengthM: whole(1), widthM: ratio(3n, 5n) },
      merge: { lengthM: whole(1), widthM: whole(1) },
      beltM: ratio(1n, 3n),
      aisleM: ZERO,
      lengths: "from-grid",
    }),
  );
  expect(plain(machines.map(({ footprint }) => footprint))).toEqual(
    plain([floor.machine, { lengthM: ratio(5n, 2n), widthM: whole(3) }]),
  );
});

test("without a floor the usual one: machines of 3 m by 2 m, belts of 800 mm, aisles of 1 m", () => {
  const scenario = read(EXAMPLE);
  expect(plain(scenario.floor)).toEqual(plain(DEFAULT_FLOOR));
  expect(plain(scenario.machines[0]?.footprint)).toEqual(plain({ lengthM: whole(3), widthM: whole(2) }));
  expect(plain(scenario.floor.beltM)).toEqual("0.8");
  expect(plain(read(`${EXAMPLE}floor: {}\n`).floor)).toEqual(plain(DEFAULT_FLOOR));
});

test("written only where it differs", () => {
  expect(writeScenario(read(EXAMPLE))).not.toMatch(/floor|footprint/);
  const text = writeScenario(read(SHARED_EXAMPLE));
  expect(text).toContain("    footprint: { length: 2.5 m, width: 3 m }\n");
  expect(text).toContain("floor:\n  machine: { length: 4 m, width: 3 m }\n  divider: { length: 1 m, width: 0.6 m }\n");
  expect(text).toContain("  belt: 1/3 m\n  aisle: 0 m\n");
  expect(text).not.toContain("merge:");
});

describe("what is wrong with one", () => {
  test.each([
    ["a belt without width", "belt: 1/3 m", "belt: 0 m", "zero 19:82"],
    ["a footprint without length", "length: 4 m", "length: 0 m", "zero 19:29"],
    ["no unit", "aisle: 0 m", "aisle: 0", "missing-unit 19:96"],
    ["no unit in quotes", "aisle: 0 m", 'aisle: "0"', "missing-unit 19:96"],
    ["beyond all floors", "width: 3 m", "width: 20000 m", "too-large 19:41"],
    ["a number for a footprint", "{ length: 5/2 m }", "5/2 m", "wrong-type 6:108"],
    ["a misspelt key", "{ length: 5/2 m }", "{ lenght: 5/2 m }", "unknown-key 6:110"],
    ["an element of another name", "divider: {", "splitter: {", "unknown-key 19:48"],
    ["a word", /floor: .*/, "floor: large", "wrong-type 19:8"],
  ])("%s", (_, from, to, ...expected) => {
    const outcome = readScenario(SHARED_EXAMPLE.replace(from, to));
    const all = (outcome.ok ? outcome.warnings : outcome.findings).map(
      ({ code, line, column }) => `${code} ${line}:${column}`,
    );
    expect(all).toEqual(expected);
  });
});
