/** Plants that feed themselves, and plants that only look like it. */
import { describe, expect, test } from "vitest";
import { circleOf } from "../../src/network/circle.ts";
import { expand } from "../../src/network/expand.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { changed, EXAMPLE, PLANT_EXAMPLE } from "../scenario/example.ts";

/** Turned so that the least name stands first. */
function circle(text: string): readonly string[] {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const found = circleOf(expand(outcome.scenario));
  const least = found.indexOf([...found].sort()[0] ?? "");
  return [...found.slice(least), ...found.slice(0, least)];
}

const BELT = "belt: { rate: 60/min, capacity: 9 }";

/** Each machine takes what its name says before the dash and makes what it says after it. */
function plant(machines: readonly string[], lines: readonly string[]): string {
  const bodies = machines.map((name) => {
    const [takes = "", makes = ""] = name.split("-").map((kinds) => [...kinds].map((kind) => `${kind}: 1`).join(", "));
    return `  ${name}: { cycle: 1 s, takes: { ${takes} }, makes: { ${makes} }, infeed: 5 }\n`;
  });
  const chains = lines.map((line, i) => `  l${i}: { layout: chain, ${line}, ${BELT} }\n`);
  return `feeds: { f: { item: a, rate: 1/min } }\nmachines:\n${bodies.join("")}lines:\n${chains.join("")}`;
}

describe("no circle", () => {
  test("in a chain, in stages, with a return belt", () => {
    expect(circle(EXAMPLE)).toEqual([]);
    expect(PLANT_EXAMPLE).toContain("end: return");
    expect(circle(PLANT_EXAMPLE)).toEqual([]);
  });

  test("where a machine's product passes the machine itself, which does not take it", () => {
    expect(circle(plant(["a-b", "b-c"], ["from: [f, a-b], to: [a-b, b-c], end: return"]))).toEqual([]);
  });
});

describe("a circle", () => {
  test("of a machine alone", () => {
    expect(circle(plant(["a-a"], ["from: [f, a-a], to: a-a"]))).toEqual(["a-a"]);
  });

  test("of a belt from a machine to itself", () => {
    const custom = "lines:\n  own: { layout: custom, belts: { back: { from: a-a, to: a-a, belt: none } } }\n";
    expect(circle(changed(plant(["a-a"], ["from: f, to: a-a"]), "lines:\n", custom))).toEqual(["a-a"]);
  });

  test("of one line's machines", () => {
    const lines = ["from: [f, a-b, b-a], to: [a-b, b-a], end: return"];
    expect(circle(plant(["b-a", "a-b"], lines))).toEqual(["a-b", "b-a"]);
  });

  test("over several lines, by one of several products, behind machines that are none of it", () => {
    const machines = ["a-b", "c-xd", "b-c", "d-bz"];
    const lines = ["from: [f], to: a-b", "from: [a-b, d-bz], to: b-c", "from: b-c, to: c-xd", "from: c-xd, to: d-bz"];
    expect(circle(plant(machines, lines))).toEqual(["b-c", "c-xd", "d-bz"]);
  });
});

test("a long chain overflows no stack", () => {
  const text = changed(
    changed(EXAMPLE, "count: 8", "count: 2000"),
    "  dispatch",
    "  away: { item: carton }\n  dispatch",
  );
  const collecting = `  after: { layout: chain, from: cartoner, to: dispatch, ${BELT} }\noutlets:`;
  expect(circle(changed(text, "outlets:", collecting))).toEqual([]);
});
