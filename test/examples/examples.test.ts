/** Every scenario that ships is one that a reader can learn from: clean, valid, invented, and it runs. */
import { basename } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { approximate, rational } from "../../src/quantity/rational.ts";
import { summary } from "../../src/report/run/summary.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import { scenarioSchema } from "../../src/scenario/schema.ts";
import { EXAMPLES, prepared, ran, textOf, told } from "./examples.ts";

/** Warnings that an example is there to show, by file. */
const SHOWN_WARNINGS: Readonly<Record<string, readonly string[]>> = {};

const SCHEMA_NAME = "scenario.schema.json";
const validate = new Ajv2020({ strict: false }).compile(scenarioSchema());

test("chains short and long, unequal, over- and undersupplied; whole plants, mixes, vehicles, limits, a rate cut, chance", () => {
  expect(EXAMPLES.map((name) => basename(name, ".yaml"))).toEqual(
    expect.arrayContaining([
      "creeping-chain",
      "batch-unloading",
      "custom-network",
      "jamming-mix",
      "long-chain",
      "oversupplied-chain",
      "perishable-chain",
      "pouch-trial",
      "rate-cut",
      "returning-mix",
      "short-chain",
      "take-off-mix",
      "thirty-equal",
      "tin-assembly",
      "equal-loop",
      "five-unequal",
      "four-equal",
      "even-lanes",
      "tin-assembly-tree",
      "granted-chain",
      "granted-long-chain",
      "granted-tins",
      "granted-unreliable",
      "undersupplied-chain",
      "unreliable-chain",
      "unequal-chain",
      "unequal-tree",
    ]),
  );
});

test("a feed that falls after the horizon might as well not fall", () => {
  const name = "undersupplied-chain.yaml";
  const steady = changed(textOf(name), "horizon: 2 h", "horizon: 30 min");
  const told = (text: string) => ({ ...ran(name, { text }).result, warnings: [] });
  expect(told(steady)).toEqual(told(changed(steady, "      - { from: 40 min, rate: 112.5/min }\n", "")));
});

function changed(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`the example has no "${from}"`);
  return text.replace(from, () => to);
}

describe.each(EXAMPLES)("%s", (name) => {
  const text = textOf(name);

  test("names its schema to editors, and says in its first words and its title that it is invented", () => {
    const [first, second] = text.split("\n");
    expect(first).toBe(`# yaml-language-server: $schema=./${SCHEMA_NAME}`);
    expect(second).toMatch(/^# Invented: /);
    expect(prepared(name).outcome.scenario.title).toMatch(/\(invented\)$/);
  });

  test("states no belt's rate beside the speed and the pitch that it follows from", () => {
    const both = text.split("\n").filter((line) => /\brate:/.test(line) && /\b(speed|pitch):/.test(line));
    expect(both).toEqual([]);
  });

  test("is valid against the schema", () => {
    validate(parse(text));
    expect(validate.errors).toBeNull();
  });

  test("reads without a warning but those it is there to show", () => {
    const { outcome, prepared: ready } = prepared(name);
    const warnings = [...outcome.warnings, ...ready.warnings];
    expect(warnings.map(({ code }) => code).sort(), told(warnings, name)).toEqual(SHOWN_WARNINGS[name] ?? []);
  });

  test("runs with every item accounted for at every tick, twice to the same result", () => {
    // Nothing recurs under chance, so each tick is recounted: an hour of them will do.
    const text = textOf(name).includes("random:")
      ? textOf(name).replace(/^horizon: .*$/m, "horizon: 1 h")
      : textOf(name);
    const { run, result } = ran(name, { text, check: true });
    expect(result.output.made).toBeGreaterThan(0);
    expect(JSON.stringify(ran(name, { text }).result)).toBe(JSON.stringify(result));
    expect(run.totals.fed.every((count) => count > 0)).toBe(true);
    const printed = summary(result);
    for (const line of printed.split("\n")) expect(textWidth(line)).toBeLessThanOrEqual(80);
    const answer = printed.split("\n\n")[1]?.split("\n") ?? [];
    expect(answer.length).toBeLessThanOrEqual(10);
    // How much, from when, what to do.
    for (const what of ["Makes ", /^(From|To do) /, "To do "]) {
      expect(answer.some((line) => (typeof what === "string" ? line.startsWith(what) : what.test(line)))).toBe(true);
    }
    if (result.machines.length <= 8) expect(printed.split("\n").length - 1).toBeLessThanOrEqual(24);
  });

  test("nothing that reads or runs it changes it", () => {
    const { outcome, prepared: ready } = prepared(name);
    const before = JSON.stringify([outcome.scenario, ready.network], asText);
    ran(name);
    expect(JSON.stringify([outcome.scenario, ready.network], asText)).toBe(before);
    expect(textOf(name)).toBe(text);
  });

  test("hold-up = rate × dwell (Little 1961), kind by kind, of what only machines take", () => {
    const { settling, hold_up, dwell, machines } = ran(name).result;
    const { network } = prepared(name).prepared;
    if (!settling.proved) return;
    for (const item of network.items) {
      const taken = machines.flatMap(({ infeed }) => infeed.filter((buffer) => buffer.item === item));
      const ratePerMin = taken.reduce(
        (all, { settled_per_min }) => all + approximate(rational(settled_per_min ?? "")),
        0,
      );
      if (ratePerMin === 0 || network.outlets.some((outlet) => outlet.item === item)) continue;
      expect(hold_up.by_item[item]).toBeCloseTo(ratePerMin * (dwell.by_item_min[item] ?? NaN), 6);
    }
  });
});

function asText(_key: string, value: unknown): unknown {
  return typeof value === "bigint" ? String(value) : value;
}
