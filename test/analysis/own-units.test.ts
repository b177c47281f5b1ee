/** Each thing in its own unit: products of machines that take several kinds, items kind by kind, and every line of a plant. */
import { expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { findings } from "../../src/report/run/findings.ts";
import { summary } from "../../src/report/run/summary.ts";
import { plain } from "../../src/report/text/figures.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";

const BELT = "belt: { length: 2 m, speed: 17 m/min, pitch: 150 mm }";

/** Four assemblers of 15 products/min; as many bodies and lids are fed as said. */
function assembled(bodies: number, lids: number): Result {
  const outcome = readScenario(`title: Assemblers
horizon: 2 h
feeds: { bodies: { item: body, rate: ${bodies}/min }, lids: { item: lid, rate: ${lids}/min } }
machines:
  assembler: { count: 4, cycle: 4 s, takes: { body: 1, lid: 1 }, makes: { tin: 1 }, infeed: 20 }
  packer: { cycle: 10 s, takes: { tin: 12 }, makes: { box: 1 }, infeed: 40 }
lines:
  body-line: { layout: chain, from: bodies, to: assembler, ${BELT} }
  lid-line: { layout: chain, from: lids, to: assembler, ${BELT} }
  out: { layout: chain, from: assembler, to: packer, ${BELT} }
`);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return play(outcome.scenario, NO_TACTIC).result;
}

test("four assemblers of 15 products/min show 15 each, under 60/min; a packer of twelve shows tins taken, boxes made", () => {
  const { machines } = assembled(60, 60);
  for (const machine of machines.slice(0, 4)) {
    expect(machine).toMatchObject({
      lines: ["body-line", "lid-line"],
      needs_per_min: "15",
      settled_per_min: "15",
      cycles: { full_per_min: "15", settled_per_min: "15" },
      products: [{ item: "tin", full_per_min: "15", settled_per_min: "15" }],
    });
    expect(
      machine.infeed.map(({ item, needs_per_min, settled_per_min }) => [item, needs_per_min, settled_per_min]),
    ).toEqual([
      ["body", "15", "15"],
      ["lid", "15", "15"],
    ]);
  }
  // 60 tins a minute are five boxes of six that it could make.
  expect(machines[4]).toMatchObject({
    needs_per_min: "72",
    settled_per_min: "60",
    cycles: { full_per_min: "6", settled_per_min: "5" },
    products: [{ item: "box", full_per_min: "6", settled_per_min: "5" }],
  });
});

test("the terminal has products, and what is taken kind by kind beside them", () => {
  const rows = summary(assembled(60, 60)).split("\n");
  expect(rows).toContainEqual(expect.stringMatching(/^assembler-1 +15 +15 +15 body \+ 15 lid /));
  expect(rows).toContainEqual(expect.stringMatching(/^packer +6 +5 +60 tin /));
});

test.each([
  [60, 45, "lid"],
  [45, 60, "body"],
])(
  "both lines to the same machines are told, and which of them starves them (%d bodies, %d lids)",
  (bodies, lids, lacking) => {
    const result = assembled(bodies, lids);
    expect(result.lines.map(({ id, machines, items }) => [id, machines.length, items])).toEqual([
      ["body-line", 4, [{ item: "body", needs_per_min: "60", settled_per_min: "45" }]],
      ["lid-line", 4, [{ item: "lid", needs_per_min: "60", settled_per_min: "45" }]],
      ["out", 1, [{ item: "tin", needs_per_min: "72", settled_per_min: "45" }]],
    ]);
    const told = findings(result).flatMap(({ code, text }) => (code === "line" ? [plain(text)] : []));
    expect(told.map((text) => /^Line (\S+): .*?(?:wait for (\S+))?\.$/.exec(text)?.slice(1))).toEqual([
      ["body-line", lacking === "body" ? "body" : undefined],
      ["lid-line", lacking === "lid" ? "lid" : undefined],
      ["out", "tin"],
    ]);
  },
);

test("of two lines that bring the same kind each has what its own belts bring", () => {
  const outcome = readScenario(`title: Two mills, one bagger
horizon: 2 h
feeds: { north: { item: grain, rate: 13/min }, south: { item: grain, rate: 8/min } }
machines: { bagger: { cycle: 20 s, takes: { grain: 9 }, makes: { bag: 1 }, infeed: 40 } }
lines:
  one: { layout: chain, from: north, to: bagger, ${BELT} }
  two: { layout: chain, from: south, to: bagger, ${BELT} }
`);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  expect(play(outcome.scenario, NO_TACTIC).result.lines.map(({ id, items }) => [id, items])).toEqual([
    ["one", [{ item: "grain", needs_per_min: "27", settled_per_min: "13" }]],
    ["two", [{ item: "grain", needs_per_min: "27", settled_per_min: "8" }]],
  ]);
});
