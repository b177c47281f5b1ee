/** Lanes expanded into dividers, merges and belts, and what is said of their belts beforehand. */
import { describe, expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { asCustom } from "../../src/network/as-custom.ts";
import { expand } from "../../src/network/expand.ts";
import { levelled } from "../../src/network/lane-loads.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { exact, sum, whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { lanesPlant } from "../layouts/lane-plants.ts";
import { scenarioOf } from "../layouts/shared-lines.ts";
import { LANES_EXAMPLE } from "../scenario/example.ts";

/** `id: from > to (rate)`, in order. */
function written({ connections }: Network): string[] {
  return connections.map(({ id, from, to, belt }) => {
    return `${id}: ${from} > ${to} (${belt ? exact(belt.ratePerMin) : "-"})`.replaceAll("main.", "");
  });
}

const lanes = (perMin: readonly number[], to: number, more = ""): Scenario =>
  lanesPlant({ rates: perMin.map(whole), to, more, beltPerMin: whole(90) });

const BRANCH = "    branch: { rate: 70/min, capacity: 4 }\n";

describe("lanes", () => {
  test("two to two", () => {
    const network = expand(lanes([30, 60], 2, BRANCH));
    expect(network.dividers.map(({ id, rule }) => `${id} ${rule}`)).toEqual([
      "main.lane-1-divider-1 even",
      "main.lane-2-divider-1 even",
    ]);
    expect(network.merges.map(({ id, rule }) => `${id} ${rule}`)).toEqual(["main.gather-1 even", "main.gather-2 even"]);
    expect(written(network)).toEqual([
      "lane-1-through-1: in1 > lane-1-divider-1 (90)",
      "cross-1-1: lane-1-divider-1 > gather-1 (70)",
      "cross-1-2: lane-1-divider-1 > gather-2 (70)",
      "lane-2-through-1: in2 > lane-2-divider-1 (90)",
      "cross-2-1: lane-2-divider-1 > gather-1 (70)",
      "cross-2-2: lane-2-divider-1 > gather-2 (70)",
      "out-1: gather-1 > out1 (90)",
      "out-2: gather-2 > out2 (90)",
    ]);
  });

  test("one to two needs no merges, two to one no dividers, one to one neither", () => {
    const [spread, joined, single] = [lanes([30], 2, BRANCH), lanes([30, 20], 1, BRANCH), lanes([30], 1)].map(expand);
    expect(spread && written(spread)).toEqual([
      "lane-1-through-1: in1 > lane-1-divider-1 (90)",
      "out-1: lane-1-divider-1 > out1 (90)",
      "out-2: lane-1-divider-1 > out2 (90)",
    ]);
    expect(joined && written(joined)).toEqual([
      "lane-1-through-1: in1 > gather-1 (90)",
      "lane-2-through-1: in2 > gather-1 (90)",
      "out-1: gather-1 > out1 (90)",
    ]);
    expect(single && written(single)).toEqual(["lane-1-through-1: in1 > out1 (90)"]);
    expect([spread?.merges, joined?.dividers, single?.merges, single?.dividers]).toEqual([[], [], [], []]);
  });

  test("two to five: each lane has a loop of its own", () => {
    const network = expand(lanes([30, 60], 5, `${BRANCH}    return: { rate: 40/min, capacity: 9 }\n`));
    expect(network.merges.map(({ id, rule }) => `${id} ${rule}`).filter((merge) => merge.includes("lane"))).toEqual([
      "main.lane-1-head ordered",
      "main.lane-2-head ordered",
    ]);
    expect(written(network).filter((belt) => belt.includes("lane-2-head") || belt.startsWith("lane-2"))).toEqual([
      "lane-2-through-1: lane-2-head > lane-2-divider-1 (90)",
      "lane-2-through-2: lane-2-divider-1 > lane-2-divider-2 (90)",
      "lane-2-through-3: lane-2-divider-1 > lane-2-divider-3 (90)",
      "lane-2-return: lane-2-divider-3 > lane-2-head (40)",
      "lane-2-entry: in2 > lane-2-head (-)",
    ]);
  });
});

test("what machines make comes in on a lane for each, and of several products what is taken", () => {
  const scenario = scenarioOf(`
feeds: { silo: { item: can, rate: 60/min } }
machines:
  a: { count: 2, cycle: 2 s, takes: { can: 1 }, makes: { box: 1, lid: 1 }, infeed: 9 }
  b: { count: 5, cycle: 5 s, takes: { box: 1 }, makes: { crate: 1 }, infeed: 9 }
lines:
  first: { layout: tree, from: silo, to: a, belt: { rate: 90/min, capacity: 9 } }
  main: { layout: lanes, from: a, to: b, belt: { rate: 80/min, capacity: 9 } }
`);
  const entries = expand(scenario).connections.filter(({ id }) => id.endsWith("entry"));
  expect(entries.map(({ from, only, belt }) => [from, only, belt && exact(belt.ratePerMin)])).toEqual([
    ["a-1", ["box"], "80"],
    ["a-2", ["box"], "80"],
  ]);
});

function ran(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, ...run } = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  return run;
}

test.each([
  ["two to two", lanes([30, 60], 2)],
  ["by loops", scenarioOf(LANES_EXAMPLE)],
])("written out as a custom line, %s: the same network, and from the file the same run", (_, scenario) => {
  const network = expand(scenario);
  const custom = asCustom(scenario, network);
  expect(expand(custom)).toEqual(network);
  expect(ran(scenarioOf(writeScenario(custom)))).toEqual(ran(scenario));
});

test("the flow solution evens lanes out at once, also where one outgoing lane takes little", () => {
  const flow = solveFlow(expand(lanesPlant({ rates: [30, 60, 120].map(whole), to: [20, 100, 100].map(whole) })));
  if (!flow.applies) throw new Error(flow.reason);
  const rates = flow.settled().connections;
  expect([1, 2, 3].map((out) => exact(rates.get(`main.out-${out}`) ?? whole(0)))).toEqual(["20", "95", "95"]);
});

test("levels: as even as can be within what each takes", () => {
  const level = (most: readonly (number | null)[], total: number): string[] =>
    levelled(
      most.map((one) => (one === null ? null : whole(one))),
      whole(total),
    ).map(exact);
  expect(level([20, 100, 100], 210)).toEqual(["20", "95", "95"]);
  expect(level([20, 100, 100], 400)).toEqual(["20", "100", "100"]);
  expect(level([null, 10, null], 100)).toEqual(["45", "10", "45"]);
  expect(level([null, 50], 100)).toEqual(["50", "50"]);
  expect(exact(sum(levelled([null, whole(7), whole(3)], whole(10))))).toBe("10");
});
