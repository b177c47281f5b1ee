/** Values set in a file before it is read are as if they had been written there. */
import { describe, expect, test } from "vitest";
import { type ReadOutcome, readScenario, scenarioReader } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE } from "./example.ts";

function scenarioOf(outcome: ReadOutcome): Scenario {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

function set(text: string, ...settings: readonly (readonly [path: string, value: string])[]): Scenario {
  return scenarioOf(scenarioReader(text)(settings.map(([path, value]) => ({ path: path.split("."), value }))));
}

/** What is set, and how the file would be edited to the same effect. */
const CASES: readonly (readonly [path: string, value: string, text: string, from: string, to: string])[] = [
  ["feeds.blender.rate", "45/4 /min", EXAMPLE, "240/min", "45/4 /min"],
  ["machines.cartoner.count", "3", EXAMPLE, "count: 8", "count: 3"],
  ["lines.main.dividers", "branch-first", EXAMPLE, "dividers: even", "dividers: branch-first"],
  ["lines.main.belt.rate", "200/min", EXAMPLE, "belt:   { rate: 270/min", "belt:   { rate: 200/min"],
  ["feeds.silo.profile.2.rate", "60/min", CUSTOM_EXAMPLE, "45/4 /min", "60/min"],
  ["machines.filler.speed.1", "80 %", CUSTOM_EXAMPLE, "75 %]", "80 %]"],
  ["title", "0042", EXAMPLE, "Eight cartoners on one chained belt", "0042"],
  ["tick", "50 ms", EXAMPLE, "tick: auto", "tick: 50 ms"],
  // A map or a list gives way to a plain value.
  ["lines.main.branch", "none", EXAMPLE, "{ rate: 270/min, length: 1 m, speed: 24 m/min, pitch: 80 mm }", "none"],
  ["lines.main.to", "cartoner-3", EXAMPLE, "to: [cartoner]", "to: cartoner-3"],
  // Added where it is not stated, with what has to hold it where a whole section is missing.
  ["seed", "other", EXAMPLE, "tick: auto", "seed: other\ntick: auto"],
  ["feeds.blender.surge", "500", EXAMPLE, "rate: 240/min", "rate: 240/min, surge: 500"],
  ["limits.dwell", "10 min", EXAMPLE, "outlets:", "limits: { dwell: 10 min }\noutlets:"],
  ["floor.machine.length", "4 m", EXAMPLE, "outlets:", "floor: { machine: { length: 4 m } }\noutlets:"],
];

test.each(CASES)("%s=%s", (path, value, text, from, to) => {
  const edited = scenarioOf(readScenario(changed(text, from, to)));
  expect(set(text, [path, value])).toEqual(edited);
  expect(edited).not.toEqual(scenarioOf(readScenario(text)));
});

test("several values, and the file itself is as it was", () => {
  const read = scenarioReader(EXAMPLE);
  const both = read([
    { path: ["machines", "cartoner", "infeed"], value: "50" },
    { path: ["machines", "cartoner", "outfeed"], value: "5" },
  ]);
  expect(scenarioOf(both).machines[0]).toMatchObject({
    infeed: [{ item: "pouch", count: 50 }],
    outfeed: [{ item: "carton", count: 5 }],
  });
  expect(scenarioOf(read([]))).toEqual(scenarioOf(readScenario(EXAMPLE)));
});

describe("what an alias repeats", () => {
  const text = changed(
    changed(EXAMPLE, "belt:   { rate: 270/min, length", "belt: &b { rate: 270/min, length"),
    "{ rate: 270/min, length: 1 m, speed: 24 m/min, pitch: 80 mm }",
    "*b",
  );
  test.each(["belt", "branch"] as const)("%s is set by itself", (one) => {
    const [line] = set(text, [`lines.main.${one}.rate`, "90/min"]).lines;
    if (line?.layout !== "chain") throw new Error("no chain");
    const other = one === "belt" ? "branch" : "belt";
    expect(line[one]?.ratePerMin.toFraction()).toBe("90");
    expect(line[other]?.ratePerMin.toFraction()).toBe("270");
  });
});

test("a file that cannot be parsed is refused whatever is set", () => {
  expect(scenarioReader("a: [")([{ path: ["a"], value: "1" }])).toMatchObject({
    ok: false,
    findings: [{ code: "bad-yaml" }],
  });
});
