import { describe, expect, test } from "vitest";
import { asCustom } from "../../src/network/as-custom.ts";
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { prepareNetwork } from "../../src/network/prepare.ts";
import { withTrees } from "../../src/network/tree.ts";
import { primeFactors } from "../../src/quantity/counts.ts";
import { exact } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

function chain(count: number, more = "", feed = "silo: { item: pouch, rate: 60/min }"): Scenario {
  return read(`
feeds: { ${feed} }
machines:
  packer: { count: ${count}, cycle: 3 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5 }
lines:
  main:
    layout: chain
    from: silo
    to: packer
    belt: { rate: 90/min, capacity: 8, transit: 4 s }
    branch: { rate: 70/min, capacity: 4, transit: 2 s }
    dividers: through-first
${more}
`);
}

/** `from > to (rate)`, in order. */
function written({ connections }: Network): string[] {
  return connections.map(({ from, to, belt }) => `${from} > ${to} (${belt ? exact(belt.ratePerMin) : "-"})`);
}

describe("an even tree", () => {
  test("of four machines has three dividers of two ways, the chain's belt inside and its branch at the machines", () => {
    const { network, drawn, kept } = withTrees(chain(4));
    expect([drawn, kept]).toEqual([["main"], []]);
    expect(network.dividers.map(({ id, rule }) => `${id} ${rule}`)).toEqual([
      "main.divider-1 even",
      "main.divider-2 even",
      "main.divider-3 even",
    ]);
    expect(written(network)).toEqual([
      "silo > main.divider-1 (90)",
      "main.divider-1 > main.divider-2 (90)",
      "main.divider-2 > packer-1 (70)",
      "main.divider-2 > packer-2 (70)",
      "main.divider-1 > main.divider-3 (90)",
      "main.divider-3 > packer-3 (70)",
      "main.divider-3 > packer-4 (70)",
    ]);
    expect(new Set(network.connections.map(({ id }) => id)).size).toBe(7);
  });

  test.each([
    [2, [2]],
    [5, [5]],
    [6, [2, 3, 3]],
    [12, [2, 2, 2, 3, 3, 3, 3]],
  ])("of %i machines divides by its prime factors", (count, ways) => {
    const { network } = withTrees(chain(count));
    const found = network.dividers.map(({ id }) => network.connections.filter(({ from }) => from === id).length);
    expect(found.toSorted((a, b) => a - b)).toEqual(ways);
    const fed = network.connections.map(({ to }) => to).filter((to) => to.startsWith("packer"));
    expect(fed).toEqual(expand(chain(count)).machines.map(({ id }) => id));
  });

  test("can be simulated and written down like any other network", () => {
    const scenario = chain(6);
    const { network } = withTrees(scenario);
    expect(prepareNetwork(scenario, network).ok).toBe(true);
    const again = readScenario(writeScenario(asCustom(scenario, network)));
    expect(again.ok && written(expand(again.scenario))).toEqual(written(network));
  });
});

test("prime factors", () => {
  expect([1, 2, 12, 30, 49, 97].map(primeFactors)).toEqual([[], [2], [2, 2, 3], [2, 3, 5], [7, 7], [97]]);
});

const MIXED = read(`
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 40/min } }
machines:
  red-bagger: { count: 2, cycle: 3 s, takes: { red: 1 }, makes: { red-bag: 1 }, infeed: 5 }
  blue-bagger: { count: 2, cycle: 3 s, takes: { blue: 1 }, makes: { blue-bag: 1 }, infeed: 5 }
lines: { main: { layout: chain, from: mix, to: [red-bagger, blue-bagger], belt: { rate: 90/min, capacity: 8 } } }
`);

test("of a mixed line lets into every stretch only what a machine below it takes", () => {
  const { network } = withTrees(MIXED);
  expect(network.connections.map(({ only }) => only)).toEqual([
    null,
    ["red"],
    ["red"],
    ["red"],
    ["blue"],
    ["blue"],
    ["blue"],
  ]);
});

describe("what stays a chain", () => {
  test("a line with one consumer, one with an outlet among its consumers, a custom one", () => {
    expect(withTrees(chain(1))).toMatchObject({ drawn: [], kept: [{ line: "main", why: "one-consumer" }] });
    const last = chain(3, "outlets: { bin: { item: pouch } }");
    const [line] = last.lines;
    if (line?.layout !== "chain") throw new Error("the line is a chain");
    const withOutlet = { ...last, lines: [{ ...line, to: ["packer", "bin"] }] };
    expect(withTrees(withOutlet)).toMatchObject({ drawn: [], kept: [{ line: "main", why: "outlet" }] });
    expect(written(withTrees(withOutlet).network)).toEqual(written(expand(withOutlet)));
    const custom = asCustom(last, expand(last));
    expect(withTrees(custom)).toMatchObject({ drawn: [], kept: [{ line: "main", why: "custom" }] });
  });

  test("the collecting side, while the far end is left out", () => {
    const plant = read(`
feeds: { silo: { item: pouch, rate: 60/min } }
machines:
  filler: { count: 2, cycle: 2 s, takes: { pouch: 1 }, makes: { can: 1 }, infeed: 5 }
  packer: { count: 2, cycle: 2 s, takes: { can: 1 }, makes: { carton: 1 }, infeed: 5 }
lines:
  first: { layout: chain, from: silo, to: filler, belt: { rate: 90/min, capacity: 8 } }
  second: { layout: chain, from: filler, to: packer, belt: { rate: 90/min, capacity: 8 }, end: return }
`);
    const { network } = withTrees(plant);
    expect(network.merges.map(({ id }) => id)).toEqual(["second.merge-2"]);
    expect(written(network).slice(3)).toEqual([
      "filler-1 > second.merge-2 (90)",
      "filler-2 > second.merge-2 (90)",
      "second.merge-2 > second.divider-1 (90)",
      "second.divider-1 > packer-1 (90)",
      "second.divider-1 > packer-2 (90)",
    ]);
    expect(prepareNetwork(plant, network).ok).toBe(true);
  });
});
