import { describe, expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { asCustom } from "../../src/network/as-custom.ts";
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { exact } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { CUSTOM_EXAMPLE, changed, EXAMPLE } from "../scenario/example.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

interface Given {
  readonly count?: number;
  readonly group?: string;
  readonly feeds?: string;
  readonly from?: string;
  readonly to?: string;
  readonly dividers?: string;
}

function chain({ count = 3, group = "packer", feeds = "silo: { item: pouch, rate: 60/min }", ...line }: Given = {}) {
  const { from = "silo", to = group, dividers = "even" } = line;
  return read(`
feeds: { ${feeds} }
machines: { ${group}: { count: ${count}, cycle: 3 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5 } }
lines:
  main:
    layout: chain
    from: ${from}
    to: ${to}
    dividers: ${dividers}
    belt: { rate: 90/min, capacity: 8, transit: 4 s }
    branch: { rate: 70/min, capacity: 4, transit: 2 s }
outlets: { bin: { item: pouch }, chute: { item: pouch }, basket: { item: carton } }
`);
}

/** `id: from > to (rate)`, in order. */
function written({ connections }: Network): string[] {
  return connections.map(({ id, from, to, belt }) => {
    return `${id}: ${from} > ${to} (${belt ? exact(belt.ratePerMin) : "-"})`;
  });
}

describe("a chain expands into", () => {
  test("a divider before each machine but the last, the branch first", () => {
    const network = expand(chain());
    expect(written(network)).toEqual([
      "main.through-1: silo > main.divider-1 (90)",
      "main.branch-1: main.divider-1 > packer-1 (70)",
      "main.through-2: main.divider-1 > main.divider-2 (90)",
      "main.branch-2: main.divider-2 > packer-2 (70)",
      "main.through-3: main.divider-2 > packer-3 (90)",
    ]);
    expect(network.dividers.map(({ id, rule }) => `${id} ${rule}`)).toEqual([
      "main.divider-1 even",
      "main.divider-2 even",
    ]);
    expect(network.machines.map(({ id, line }) => `${id} ${line}`)).toEqual([
      "packer-1 main",
      "packer-2 main",
      "packer-3 main",
    ]);
  });

  test.each([
    ["branch-first", ["main.branch-1", "main.through-2"]],
    ["through-first", ["main.through-2", "main.branch-1"]],
  ])("ordered dividers: %s", (dividers, expected) => {
    const network = expand(chain({ dividers }));
    expect(network.dividers.map(({ rule }) => rule)).toEqual(["ordered", "ordered"]);
    const outlets = network.connections.filter(({ from }) => from === "main.divider-1");
    expect(outlets.map(({ id }) => id)).toEqual(expected);
  });

  test("one belt where it has one machine", () => {
    const network = expand(chain({ count: 1 }));
    expect(written(network)).toEqual(["main.through-1: silo > packer-1 (90)"]);
    expect(network.dividers).toEqual([]);
  });

  test("a merge that several feeds hand over to, in their order", () => {
    const feeds = "a: { item: pouch, rate: 9/min }, b: { item: pouch, rate: 6/min }";
    const network = expand(chain({ count: 1, feeds, from: "[b, a]" }));
    expect(network.merges).toEqual([{ id: "main.merge", line: "main", rule: "even" }]);
    expect(written(network)).toEqual([
      "main.feed-1: b > main.merge (-)",
      "main.feed-2: a > main.merge (-)",
      "main.through-1: main.merge > packer-1 (90)",
    ]);
  });

  test("branches that let in only what their machine takes, where several kinds come", () => {
    const feeds = "a: { item: pouch, rate: 9/min }, b: { item: carton, rate: 6/min }";
    const network = expand(chain({ feeds, from: "[a, b]" }));
    expect(network.connections.filter(({ id }) => id.includes("branch")).map(({ only }) => only)).toEqual([
      ["pouch"],
      ["pouch"],
    ]);
    expect(network.connections.filter(({ id }) => id.includes("through")).map(({ only }) => only)).toEqual([
      null,
      null,
      null,
    ]);
  });

  test("single machines and outlets, in feeding order", () => {
    expect(written(expand(chain({ to: "[chute, packer-2, bin]" })))).toEqual([
      "main.through-1: silo > main.divider-1 (90)",
      "main.branch-1: main.divider-1 > chute (70)",
      "main.through-2: main.divider-1 > main.divider-2 (90)",
      "main.branch-2: main.divider-2 > packer-2 (70)",
      "main.through-3: main.divider-2 > bin (90)",
    ]);
  });
});

function ran(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, ...run } = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  return run;
}

describe("written out as a custom line", () => {
  const feeds = "silo: { item: pouch, rate: 70/min }, b: { item: pouch, rate: 6/min }";
  const scenarios = {
    "a chain": chain(),
    "a chain of one": chain({ count: 1 }),
    "ordered dividers and several feeds": chain({ feeds, from: "[b, silo]", dividers: "through-first" }),
    "outlets and single machines": chain({ to: "[chute, packer-2, bin]" }),
    "the chain example": read(EXAMPLE),
    "the custom example": read(changed(CUSTOM_EXAMPLE, "to: join, belt: none", "to: join, rate: 50/min, capacity: 3")),
  };

  test.each(Object.entries(scenarios))("%s: the same network, and from the file the same run", (_, scenario) => {
    const network = expand(scenario);
    const custom = asCustom(scenario, network);
    expect(expand(custom)).toEqual(network);
    expect(ran(read(writeScenario(custom)))).toEqual(ran(scenario));
  });

  test.each([
    ["machines that are called like the dividers", chain({ group: "divider" })],
    ["a feed that is called like the merge", chain({ feeds: feeds.replace("silo", "merge"), from: "[b, merge]" })],
  ])("%s: another name, and the same run", (_, scenario) => {
    expect(ran(read(writeScenario(asCustom(scenario, expand(scenario)))))).toEqual(ran(scenario));
  });
});
