/** Trees and loops expanded into dividers, merges and belts. */
import { describe, expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { asCustom } from "../../src/network/as-custom.ts";
import { expand } from "../../src/network/expand.ts";
import { feedingOrder } from "../../src/network/flow-order.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { withTrees } from "../../src/network/tree.ts";
import { exact } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { scenarioOf } from "../layouts/shared-lines.ts";
import { SHARED_EXAMPLE } from "../scenario/example.ts";

/** `id: from > to (rate)`, in order. */
function written({ connections }: Network): string[] {
  return connections.map(({ id, from, to, belt }) => `${id}: ${from} > ${to} (${belt ? exact(belt.ratePerMin) : "-"})`);
}

interface Given {
  readonly layout?: string;
  readonly count?: number;
  readonly speed?: string;
  readonly from?: string;
  readonly more?: string;
}

function plant({ layout = "tree", count = 4, speed = "100 %", from = "silo", more = "" }: Given): Scenario {
  return scenarioOf(`
feeds: { silo: { item: can, rate: 30/min }, hopper: { item: can, rate: 15/min } }
machines: { m: { count: ${count}, cycle: 2 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 9, speed: ${speed} } }
lines:
  main:
    layout: ${layout}
    from: ${from}
    to: m
    belt: { rate: 90/min, capacity: 8, transit: 4 s }
    branch: { rate: 70/min, capacity: 4, transit: 2 s }
${more}`);
}

describe("a tree", () => {
  test("of four equal machines is the chain's even tree", () => {
    const chain = scenarioOf(
      writeScenario(plant({})).replace("layout: tree", "layout: chain").replace("    ways: 3\n", ""),
    );
    expect(expand(plant({}))).toEqual(withTrees(chain).network);
  });

  test("of six: three pairs cost more dividers than two threes", () => {
    const network = expand(plant({ count: 6 }));
    expect(network.dividers.map(({ id, rule }) => `${id} ${rule}`)).toEqual([
      "main.divider-1 even",
      "main.divider-2 even",
      "main.divider-3 even",
    ]);
    expect(network.merges).toEqual([]);
  });

  test("of one machine is a belt", () => {
    const network = expand(plant({ count: 1 }));
    expect(written(network)).toEqual(["main.through-1: silo > m-1 (90)"]);
  });

  test("of unequal machines: several branches meet in a merge before a machine", () => {
    // Of eight parts one, three, two and two.
    const network = expand(plant({ speed: "[25 %, 75 %, 50 %, 50 %]", more: "    ways: 2\n" }));
    expect(network.merges).toEqual([{ id: "main.gather-2", line: "main", rule: "even" }]);
    expect(written(network)).toEqual([
      "main.through-1: silo > main.divider-1 (90)",
      "main.through-2: main.divider-1 > main.divider-2 (90)",
      "main.through-3: main.divider-2 > main.divider-3 (90)",
      "main.branch-1: main.divider-3 > m-1 (70)",
      "main.share-2-1: main.divider-3 > main.gather-2 (70)",
      "main.branch-3: main.divider-2 > m-3 (70)",
      "main.through-4: main.divider-1 > main.divider-4 (90)",
      "main.share-2-2: main.divider-4 > main.gather-2 (70)",
      "main.branch-4: main.divider-4 > m-4 (70)",
      "main.branch-2: main.gather-2 > m-2 (70)",
    ]);
  });
});

describe("a loop", () => {
  test("of five: the sixth outlet leads back before the first divider, and goes first there", () => {
    const network = expand(plant({ layout: "loop", count: 5, more: "    return: { rate: 40/min, capacity: 9 }\n" }));
    expect(network.merges).toEqual([{ id: "main.head", line: "main", rule: "ordered" }]);
    expect(written(network)).toEqual([
      "main.through-1: main.head > main.divider-1 (90)",
      "main.through-2: main.divider-1 > main.divider-2 (90)",
      "main.branch-1: main.divider-2 > m-1 (70)",
      "main.branch-2: main.divider-2 > m-2 (70)",
      "main.branch-3: main.divider-2 > m-3 (70)",
      "main.through-3: main.divider-1 > main.divider-3 (90)",
      "main.branch-4: main.divider-3 > m-4 (70)",
      "main.branch-5: main.divider-3 > m-5 (70)",
      "main.return: main.divider-3 > main.head (40)",
      "main.entry: silo > main.head (-)",
    ]);
  });

  test("several spare outlets meet in a merge on the way back", () => {
    const network = expand(plant({ layout: "loop", count: 25 }));
    const back = written(network).filter((belt) => /spare|gather|return/.test(belt));
    expect(back.map((belt) => belt.replace(/divider-\d+/, "divider"))).toEqual([
      "main.spare-1: main.divider > main.gather (70)",
      "main.spare-2: main.divider > main.gather (70)",
      "main.return: main.gather > main.head (90)",
    ]);
  });

  test("that returns nothing is a tree", () => {
    const { connections, dividers, merges } = expand(plant({ layout: "loop" }));
    expect({ connections, dividers, merges }).toEqual({ ...pick(expand(plant({}))) });
  });
});

function pick({ connections, dividers, merges }: Network) {
  return { connections, dividers, merges };
}

function ran(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, ...run } = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  return run;
}

function cyclesOf(scenario: Scenario): Map<string, number | undefined> {
  const { totals } = ran(scenario);
  return new Map(expand(scenario).machines.map(({ id }, m) => [id, totals.cycles[m]]));
}

describe("written out as a custom line", () => {
  test.each([
    ["a tree", plant({})],
    ["a loop", plant({ layout: "loop", count: 5 })],
    ["a loop with several spare outlets and feeds", plant({ layout: "loop", count: 25, from: "[silo, hopper]" })],
    ["a tree, and a loop that collects", scenarioOf(SHARED_EXAMPLE)],
  ])("%s: the same network, and from the file the same run", (_, scenario) => {
    const network = expand(scenario);
    const custom = asCustom(scenario, network);
    expect(expand(custom)).toEqual(network);
    expect(ran(scenarioOf(writeScenario(custom)))).toEqual(ran(scenario));
  });

  test("a tree of unequal machines: the same but for their order, which on a tree is the file's, else that of the flow", () => {
    const scenario = plant({ count: 3, speed: "[25 %, 75 %, 50 %]" });
    const custom = asCustom(scenario, expand(scenario));
    const inOrder = ({ machines, ...rest }: Network) => ({
      ...rest,
      machines: machines.toSorted((one, other) => (one.id < other.id ? -1 : 1)),
    });
    expect(inOrder(expand(custom))).toEqual(inOrder(expand(scenario)));
    const written = scenarioOf(writeScenario(custom));
    expect(cyclesOf(written)).toEqual(cyclesOf(scenario));
    const [own, other] = [ran(scenario), ran(written)];
    for (const key of ["steppedTicks", "horizonTicks"] as const) expect(other[key]).toEqual(own[key]);
    for (const key of ["fed", "passed", "placeTicks"] as const) expect(other.totals[key]).toEqual(own.totals[key]);
    expect(other.recurrence?.periodTicks).toBe(own.recurrence?.periodTicks);
  });
});

test("machines of trees and loops stand as in the file, whatever comes before them and whatever the line's list", () => {
  const network = expand(scenarioOf(SHARED_EXAMPLE));
  expect(network.machines.map(({ id }) => id)).toEqual([
    ...["filler-1", "filler-2", "filler-3", "filler-4"],
    ...["labeller-1", "labeller-2", "labeller-3", "labeller-4", "labeller-5"],
  ]);
  // 1/8, 3/8, 1/4 and 1/4: the quarters are leaves of the second level, the eighth of the third, and 3/8 lie behind a merge.
  const unequal = expand(plant({ speed: "[25 %, 75 %, 50 %, 50 %]", more: "    ways: 2\n" }));
  expect(feedingOrder(plant({}), unequal)).toEqual([["m-3", "m-4", "m-1", "m-2"]]);
});

test("the study of shortage keeps what is drawn already", () => {
  const scenario = scenarioOf(SHARED_EXAMPLE);
  expect(withTrees(scenario)).toMatchObject({
    network: expand(scenario),
    drawn: [],
    kept: [
      { line: "filling", why: "drawn" },
      { line: "labelling", why: "drawn" },
    ],
  });
});

test("the flow solution gives a tree's machines their shares at once, and refuses a loop", () => {
  const speed = "[25 %, 75 %, 50 %, 50 %]";
  const flow = solveFlow(expand(plant({ speed, more: "    ways: 2\n" })));
  if (!flow.applies) throw new Error(flow.reason);
  // 30 a minute of the 60 needed: half of each machine's need.
  expect([...flow.settled().machines.values()].map(exact)).toEqual(["1/2", "1/2", "1/2", "1/2"]);
  expect(exact(flow.settlingMin)).toBe("0");
  expect(solveFlow(expand(plant({ layout: "loop", count: 5 }))).applies).toBe(false);
});
