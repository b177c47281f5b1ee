import { readdirSync, readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { readScenario } from "../../src/scenario/read.ts";
import { scenarioSchema } from "../../src/scenario/schema.ts";
import { cases } from "../plants/cases.ts";
import {
  CUSTOM_EXAMPLE,
  changed,
  EXAMPLE,
  LANES_EXAMPLE,
  PLANT_EXAMPLE,
  RANDOM_EXAMPLE,
  SHARED_EXAMPLE,
  TACTICS_EXAMPLE,
} from "./example.ts";
import { mutations, randomScenario } from "./malformed.ts";

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
// What editors know beyond the standard.
ajv.addVocabulary(["errorMessage", "patternErrorMessage", "enumDescriptions", "units"]);
const accepts = ajv.compile(scenarioSchema());

describe("the schema", () => {
  test("lets machines come from a table, and be called so", () => {
    const from = (value: string): unknown => parse(EXAMPLE.replace("machines:\n", `machines:\n  from: ${value}\n`));
    expect(accepts(from("hall.xlsx"))).toBe(true);
    expect(accepts(from("{ cycle: 2 s, takes: { a: 1 }, makes: { b: 1 }, infeed: 2 }"))).toBe(true);
    expect(accepts(from("hall.pdf"))).toBe(false);
  });

  test.each([EXAMPLE, CUSTOM_EXAMPLE, PLANT_EXAMPLE, SHARED_EXAMPLE, LANES_EXAMPLE, TACTICS_EXAMPLE, RANDOM_EXAMPLE])(
    "accepts the examples",
    (text) => {
      expect(accepts(parse(text))).toBe(true);
    },
  );

  test.each([
    ["infeed", "infede"],
    ["240/min", "240"],
    ["2 s", "2 sec"],
    ["count: 8", "count: 0"],
    ["layout: chain", "layout: lane"],
    ["dividers: even", "dividers: heaviest"],
    ["infeed: 100", ""],
    ["  main:", "  ../main:"],
  ])("refuses %s as %s", (from, to) => expect(accepts(parse(changed(EXAMPLE, from, to)))).toBe(false));

  test.each([
    ["all-full", "al-full"],
    ["last 3", "last three"],
    ["{ cartoner: 100 }", "{}"],
    ["{ prefill: full }", "{}"],
    ["{ prefill: full }", "{ by-hand: 60/min }"],
    ["while: stopped", "while: walking"],
    ["first: tail, ", ""],
  ])("refuses the tactic's %s as %s", (from, to) => {
    expect(accepts(parse(changed(TACTICS_EXAMPLE, from, to)))).toBe(false);
  });

  test.each([
    ["{ red: 3, blue: 2 }", "{}"],
    ["red: 3", "red: 0"],
    ["order: blocks", "order: mixed"],
    ["every: 20 min, ", ""],
    ["items: 900", "items: 0.5"],
    ["surge: 300", "surge: 0"],
    ["belt-first", "belts-first"],
    ["end: yard", "end: the yard"],
    ["return: { rate: 60/min, capacity: 30 }", "return: none"],
    ["jar: 1500", "jar: 0"],
    ["{ red: 90, blue: 60 }", "90"],
    ["red: 90 s", "red: 90"],
    ["hold-up:", "held-up:"],
  ])("refuses the plant's %s as %s", (from, to) => {
    expect(accepts(parse(changed(PLANT_EXAMPLE, from, to)))).toBe(false);
  });

  test.each([
    ["ways: 3", "ways: 13"],
    ["ways: 3", "ways: [1, 2]"],
    ["ways: 3", "ways: two"],
    ["ways: 3", "dividers: even"],
    ["layout: tree", "layout: tree, return: { rate: 40/min, capacity: 20 }"],
    ["return: { rate: 40/min, capacity: 20 }", "return: none"],
    ["    from: filler\n", ""],
    ["footprint: { length: 5/2 m }", "footprint: 5/2 m"],
    ["length: 5/2 m", "height: 5/2 m"],
    ["belt: 1/3 m", "belt: { width: 1/3 m }"],
    ["aisle: 0 m", "aisle: none"],
    ["divider: { width: 600 mm }", "dividers: { width: 600 mm }"],
  ])("refuses the shared lines' %s as %s", (from, to) => {
    expect(accepts(parse(changed(SHARED_EXAMPLE, from, to)))).toBe(false);
  });

  test.each([
    ["ways: 2", "ways: 1"],
    ["ways: 2", "collect: none"],
    ["ways: 2", "dividers: even"],
    ["return: { rate: 90/min, capacity: 20 }", "return: none"],
    ["    to: [filler, chute]\n", ""],
  ])("refuses the lanes' %s as %s", (from, to) => {
    expect(accepts(parse(changed(LANES_EXAMPLE, from, to)))).toBe(false);
  });

  test.each([
    ["random:", "chance:"],
    ["exponential: 45 min", "exponential: 45"],
    ["exponential: 45 min", "exponental: 45 min"],
    ["exponential: 45 min", "exponential: 45 %"],
    ["spread: 10 %", "spread: 10 s"],
    ["[5 s, 10 s, 30 s]", "[5 s, 30 s]"],
    ["shape: 1.5", "shape: 0"],
    ["stages: 3", "stages: 2.5"],
    ["chance: 2 %, ", ""],
    ["chance: 2 %", "chance: 2"],
    ["counted: clock", "counted: always"],
    ["interval: {", "intervals: {"],
    [", lasting: 90 s", ""],
  ])("refuses chance's %s as %s", (from, to) => {
    expect(accepts(parse(changed(RANDOM_EXAMPLE, from, to)))).toBe(false);
  });

  test("describes every key and value that can be completed", () => {
    const bare: string[] = [];
    const visit = (node: unknown, path: string): void => {
      if (typeof node !== "object" || node === null) return;
      for (const [key, value] of Object.entries(node)) {
        if (key !== "properties") visit(value, `${path}/${key}`);
        else if (typeof value === "object" && value !== null) {
          for (const [name, property] of Object.entries(value)) {
            const described = typeof property === "object" && property !== null && "description" in property;
            if (!described) bare.push(`${path}/${name}`);
            visit(property, `${path}/${name}`);
          }
        }
      }
    };
    visit(scenarioSchema(), "");
    expect(bare).toEqual([]);
  });
});

describe("what the schema refuses the reader refuses", () => {
  function agree(text: string): void {
    let data: unknown;
    try {
      data = parse(text, { logLevel: "error" });
    } catch {
      return;
    }
    if (!accepts(data)) expect(readScenario(text).ok).toBe(false);
  }

  test("of mutated files", () => {
    fc.assert(fc.property(mutations(EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(CUSTOM_EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(PLANT_EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(SHARED_EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(LANES_EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(TACTICS_EXAMPLE), agree), { numRuns: cases(120) });
    fc.assert(fc.property(mutations(RANDOM_EXAMPLE), agree), { numRuns: cases(120) });
  });

  test("of random scenarios", () => {
    fc.assert(
      fc.property(randomScenario, (data) => agree(JSON.stringify(data))),
      { numRuns: cases(120) },
    );
  });

  test.each([
    "1e3",
    "0x10",
    "1e400",
    "1e-3",
    "-5",
    "007",
    "1.50",
    "true",
    "null",
    "~",
    ".inf",
    "-0",
    "99999999999999999999",
  ])("of the scalar %s as a name, a count and a title", (scalar) => {
    agree(EXAMPLE.replaceAll("pouch", scalar));
    agree(changed(EXAMPLE, "infeed: 100", `infeed: ${scalar}`));
    agree(changed(EXAMPLE, "count: 8", `count: ${scalar}`));
    agree(EXAMPLE.replace(/title: .*/, `title: ${scalar}`));
    agree(EXAMPLE.replaceAll("main", scalar));
  });
});

const folder = new URL("../../scenarios/", import.meta.url);
const examples = readdirSync(folder).filter((file) => file.endsWith(".yaml"));

test.skipIf(examples.length === 0)("every example file reads and fits the schema", () => {
  for (const file of examples) {
    const text = readFileSync(new URL(file, folder), "utf8");
    expect.soft(readScenario(text), file).toMatchObject({ ok: true });
    expect.soft(accepts(parse(text)), file).toBe(true);
  }
});
