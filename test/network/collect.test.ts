import { describe, expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { asCustom } from "../../src/network/as-custom.ts";
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

const BELT = "{ rate: 90/min, capacity: 8, transit: 4 s }";

/** Blanks to three moulders, whose jars and chips a second line may collect; an offcutter makes chips only. */
function plant(second: string, feeds = "blanks: { item: blank, rate: 60/min }", extra = ""): Scenario {
  return read(`
horizon: 20 min
feeds: { ${feeds} }
machines:
  moulder: { count: 3, cycle: 3 s, takes: { blank: 1 }, makes: { jar: 1, chip: 2 }, infeed: 5 }
  filler: { count: 2, cycle: 2 s, takes: { jar: 1 }, makes: { full: 1 }, infeed: 6 }
lines:
  first: { layout: chain, from: blanks, to: moulder, belt: ${BELT} }
  second: { layout: chain, ${second}, belt: ${BELT} }
outlets: { bin: { item: chip }, door: { item: jar } }
${extra}`);
}

/** Connections of one line, `own name: from > to only kinds (- without a belt)`, in order. */
function written({ connections }: Network, line: string): string[] {
  return connections
    .filter((one) => one.line === line)
    .map(({ id, from, to, only, belt }) => {
      const kinds = only ? ` only ${only.join(", ")}` : "";
      return `${id}: ${from} > ${to}${kinds}${belt ? "" : " -"}`;
    });
}

describe("a chain collects machines' products", () => {
  test("by a belt that passes them in turn, of each what somebody on the line takes", () => {
    const network = expand(plant("from: moulder, to: filler"));
    expect(written(network, "second")).toEqual([
      "second.collect-1: moulder-1 > second.merge-2 only jar",
      "second.join-2: moulder-2 > second.merge-2 only jar",
      "second.collect-2: second.merge-2 > second.merge-3",
      "second.join-3: moulder-3 > second.merge-3 only jar",
      "second.through-1: second.merge-3 > second.divider-1",
      "second.branch-1: second.divider-1 > filler-1",
      "second.through-2: second.divider-1 > filler-2",
    ]);
    expect(network.merges.map(({ id, rule }) => `${id} ${rule}`)).toEqual([
      "second.merge-2 even",
      "second.merge-3 even",
    ]);
  });

  test.each([
    ["belt-first", ["second.collect-1", "second.join-2"]],
    ["joining-first", ["second.join-2", "second.collect-1"]],
  ])("with ordered merges: %s", (merges, inlets) => {
    const network = expand(plant(`from: moulder, to: filler, merges: ${merges}`));
    expect(network.merges.map(({ rule }) => rule)).toEqual(["ordered", "ordered"]);
    expect(network.connections.filter(({ to }) => to === "second.merge-2").map(({ id }) => id)).toEqual(inlets);
  });

  test("one machine's straight onto the through belt, and beside them a feed without a belt of its own", () => {
    expect(written(expand(plant("from: moulder-2, to: filler-1")), "second")).toEqual([
      "second.through-1: moulder-2 > filler-1 only jar",
    ]);
    const feeds = "blanks: { item: blank, rate: 60/min }, jars: { item: jar, rate: 6/min }";
    expect(written(expand(plant("from: [moulder-1, jars], to: filler-1", feeds)), "second")).toEqual([
      "second.collect-1: moulder-1 > second.merge-2 only jar",
      "second.join-2: jars > second.merge-2 -",
      "second.through-1: second.merge-2 > filler-1",
    ]);
  });

  test("of all kinds that are taken somewhere on it, each branch open to its own", () => {
    expect(written(expand(plant("from: moulder-1, to: [filler-1, bin]")), "second")).toEqual([
      "second.through-1: moulder-1 > second.divider-1",
      "second.branch-1: second.divider-1 > filler-1 only jar",
      "second.through-2: second.divider-1 > bin",
    ]);
  });
});

describe("at its far end", () => {
  test("what passes the last machine leaves by an outlet", () => {
    expect(written(expand(plant("from: moulder-1, to: filler-1, end: door")), "second")).toEqual([
      "second.through-1: moulder-1 > second.divider-1 only jar",
      "second.branch-1: second.divider-1 > filler-1",
      "second.through-2: second.divider-1 > door",
    ]);
  });

  test("or goes back to a merge at the head, where it goes first", () => {
    const network = expand(plant("from: [moulder-1, moulder-2], to: filler, dividers: through-first, end: return"));
    expect(written(network, "second").slice(-6)).toEqual([
      "second.through-1: second.head > second.divider-1",
      "second.through-2: second.divider-1 > second.divider-2",
      "second.branch-1: second.divider-1 > filler-1",
      "second.branch-2: second.divider-2 > filler-2",
      "second.return: second.divider-2 > second.head",
      "second.entry: second.merge-2 > second.head",
    ]);
    expect(network.merges.at(-1)).toEqual({ id: "second.head", line: "second", rule: "ordered" });
  });
});

describe("a surge buffer is a queue of the feed's own", () => {
  const surge = "blanks: { item: blank, batch: { every: 5 min, items: 200, rate: 120/min }, surge: 150 }";

  test("before a hopper where the line begins with a belt", () => {
    const network = expand(plant("from: moulder, to: filler", surge));
    expect(network.surges).toEqual([{ feed: "blanks", connection: "blanks.surge" }]);
    expect(written(network, "first").slice(0, 2)).toEqual([
      "blanks.surge: blanks > blanks.hopper",
      "first.through-1: blanks.hopper > first.divider-1",
    ]);
    expect(network.connections[0]?.belt?.capacity).toBe(150);
  });

  test("straight into the merge where several feeds join", () => {
    const feeds = `${surge}, jars: { item: jar, rate: 6/min, surge: 7 }, more: { item: jar, rate: 6/min }`;
    const network = expand(plant("from: [jars, more], to: filler", feeds));
    expect(written(network, "second").slice(0, 2)).toEqual([
      "second.feed-1: jars > second.merge",
      "second.feed-2: more > second.merge -",
    ]);
    expect(network.surges.at(-1)).toEqual({ feed: "jars", connection: "second.feed-1" });
  });
});

describe("limits count", () => {
  const limits =
    "limits: { hold-up: { jar: 9 }, at: { second: { jar: 5 }, filler: { jar: 4 }, blanks: { blank: 3 } } }";
  const feeds = "blanks: { item: blank, rate: 60/min, surge: 30 }";
  const network = expand(plant("from: moulder-1, to: filler", feeds, limits));
  const at = (place: string | null) => network.holdUpLimits.find((limit) => limit.place === place);

  test("a line's belts, a group's buffers, a surge buffer, or everything", () => {
    expect(at("second")?.connections).toEqual(["second.through-1", "second.branch-1", "second.through-2"]);
    expect(at("filler")?.machines).toEqual(["filler-1", "filler-2"]);
    expect(at("blanks")?.connections).toEqual(["blanks.surge"]);
    expect(at(null)?.machines).toHaveLength(5);
    expect(at(null)?.connections).toHaveLength(network.connections.length);
  });
});

function ran(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { totals, completions } = simulate(prepared.program, { horizonTicks: prepared.horizonTicks, check: true });
  return { made: totals.made, taken: totals.taken, left: totals.left, completions };
}

test.each([
  ["collecting", "from: moulder, to: filler, merges: joining-first"],
  ["a take-off", "from: moulder, to: [filler, bin], end: door"],
  ["a return", "from: [moulder-3, moulder-1], to: filler, end: return"],
])("%s: written out as custom lines it is the same network, and from the file the same run", (_, second) => {
  const feeds = "blanks: { item: blank, batch: { every: 5 min, items: 200, rate: 120/min }, surge: 150 }";
  const scenario = plant(second, feeds);
  const custom = asCustom(scenario, expand(scenario));
  const { merges, ...network } = expand(custom);
  const { merges: before, ...expanded } = expand(scenario);
  expect(network).toEqual(expanded);
  expect(new Set(merges)).toEqual(new Set(before));
  expect(ran(read(writeScenario(custom)))).toEqual(ran(scenario));
});
