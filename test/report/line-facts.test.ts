/** What `check` says of rate cuts, vehicles, surge buffers and limits, before anything runs. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { type LineFacts, lineFacts } from "../../src/analysis/line-facts.ts";
import { expand } from "../../src/network/expand.ts";
import { overfedLoops } from "../../src/network/overfed.ts";
import { dividerPlans } from "../../src/network/shared-line.ts";
import { rational } from "../../src/quantity/rational.ts";
import { lineFactsText } from "../../src/report/run/line-facts-text.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { readScenario } from "../../src/scenario/read.ts";

function factsOf(text: string): LineFacts {
  const read = readScenario(text);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const network = expand(read.scenario);
  const { title, horizonMin, lines } = read.scenario;
  return lineFacts({ title, horizonMin, lines, tickS: rational("1/10") }, network, solveFlow(network), []);
}

/** On one line, as it was before it was wrapped. */
function said(facts: LineFacts): string {
  return lineFactsText(facts, PLAIN_STYLE, { details: true }).replaceAll("\n", " ");
}

const CUT = readFileSync(new URL("../../scenarios/rate-cut.yaml", import.meta.url), "utf8");

test("a rate cut: what it takes, what comes, what passes on", () => {
  const facts = factsOf(CUT);
  expect(facts.cuts).toEqual([
    { divider: "main.cut", belt: "main.to-press", cut_per_min: "1700/31", arriving_per_min: "106" },
  ]);
  expect(said(facts)).toContain(
    "main.cut takes 54.84/min out of its flow, what main.to-press carries; 106/min arrives, and 51.16/min is passed on.",
  );
  expect(said(facts)).toContain("Every belt but that of a rate cut has headroom");
});

test("a cut for which too little comes, and one of which the flow is not known", () => {
  const short = factsOf(CUT.replace("rate: 106/min }", "rate: 45/min }"));
  expect(said(short)).toContain("; only 45/min arrives, so that nothing is passed on.");
  const [cut] = short.cuts;
  if (cut === undefined) throw new Error("no cut");
  expect(said({ ...short, cuts: [{ ...cut, arriving_per_min: null }] })).toContain("carries, and passes on the rest.");
});

const QUAY = `
title: Quay (invented)
horizon: 1 h
feeds:
  quay: { item: piece, batch: { every: 10 min, items: 600, rate: 120/min }, surge: 300 }
  tap: { item: glue, rate: 60/min, surge: 20 }
machines:
  packer: { cycle: 1 s, takes: { piece: 1, glue: 1 }, makes: { pack: 1 }, infeed: 10 }
lines:
  main: { layout: chain, from: quay, to: packer, belt: { rate: 100/min, capacity: 10, transit: 4 s } }
  side: { layout: custom, belts: { way: { from: tap, to: packer, belt: none } } }
limits:
  hold-up: { piece: 250 }
  at: { quay: { piece: 200 } }
  dwell: 3 min
`;

test("vehicles, surge buffers and limits; queues and hoppers are neither belts nor merges", () => {
  const facts = factsOf(QUAY);
  expect(facts.elements).toMatchObject({ feeds: 2, surge_buffers: 2, belts: 1, merges: 0 });
  expect(facts.batches.map(({ feed, surge_room: room }) => [feed, room])).toEqual([
    ["quay", 300],
    ["tap", 20],
  ]);
  const text = said(facts);
  expect(text).toContain(
    "A vehicle with 600 items comes to quay every 10 min, 60/min on average; it is unloaded at 120/min, with a surge buffer for 300 items.",
  );
  expect(text).toContain("tap has a surge buffer for 20 items.");
  expect(text).toContain("Limits: 250 piece, 200 piece at quay and 3 min for any item.");
  expect(text).toContain("2 surge buffers, 1 belt");
});

test("without any of them nothing is said", () => {
  const facts = factsOf(readFileSync(new URL("../../scenarios/short-chain.yaml", import.meta.url), "utf8"));
  expect([facts.cuts, facts.batches, facts.limits]).toEqual([[], [], []]);
  expect(said(facts)).not.toMatch(/vehicle|surge|Limits|takes/);
});

test("kinds that share a belt: what is too much has nowhere to go, unless an outlet takes it", () => {
  const mixed = (end: string) => `
feeds: { sweets: { items: { red: 3, yellow: 2 }, rate: 100/min } }
machines:
  red-bagger: { cycle: 2 s, takes: { red: 1 }, makes: { bag: 1 }, infeed: 9 }
  yellow-bagger: { count: 2, cycle: 2 s, takes: { yellow: 1 }, makes: { bag: 1 }, infeed: 9 }
lines: { main: { layout: chain, from: sweets, to: [red-bagger, yellow-bagger], belt: none${end} } }
outlets: { surplus: { item: red } }`;
  const facts = factsOf(mixed(""));
  expect(facts.mixed_lines).toEqual([{ line: "main", items: ["red", "yellow"], without_outlet: ["yellow"] }]);
  const none = factsOf(mixed("").replace(/outlets: .*/, ""));
  expect(said(none)).toContain("30/min too much, with nowhere to go");
  expect(said(none)).toContain("Line main carries red and yellow on one belt: a kind that finds no room stands there");
  expect(said(factsOf(mixed(", end: surplus")))).toContain("30/min to spare");
});

test("a belt on which few have room is told with what it carries at most, not with its rate", () => {
  const facts = factsOf(`
feeds: { silo: { item: can, rate: 40/min }, hopper: { item: can, rate: 10/min } }
machines: { m: { count: 2, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 9 } }
lines:
  main: { layout: chain, from: [silo, hopper], to: m, belt: { rate: 468/min, capacity: 5, transit: 6 s } }`);
  // Five on a way of 6 s: 50/min.
  const [first] = facts.belts.filter(({ id }) => id === "main.through-1");
  expect(first).toMatchObject({ rate_per_min: "468", at_most_per_min: "50", headroom_per_min: "0" });
  expect(said(facts)).toContain("Belts without headroom once settled: main.through-1 (50/min)");
  expect(said(facts)).not.toContain("468");
});

const LANES = readFileSync(new URL("../../scenarios/even-lanes.yaml", import.meta.url), "utf8");
const LOOP = readFileSync(new URL("../../scenarios/equal-loop.yaml", import.meta.url), "utf8");

test("a return loop: the flow on its belts where nothing is held up, and why it is not known where something is", () => {
  const facts = factsOf(LOOP);
  expect(facts.no_flow).toBeNull();
  expect(facts.belts.every(({ flow_per_min: flow }) => flow !== null)).toBe(true);
  expect(said(facts)).toContain("the least is 26.32/min, on main.through-1 (100/min of 126.3/min)");
  const overfed = factsOf(LOOP.replace("rate: 87.5/min", "rate: 88.5/min"));
  expect(overfed.no_flow).not.toBeNull();
  expect(said(overfed)).toContain("The flow on the belts is not known beforehand: the line has a return loop");
});

test("a loop that is fed more than its machines take: that this is why, and what the plan has the merged stretch carry", () => {
  const overfed = (text: string) => {
    const read = readScenario(text);
    if (!read.ok) throw new Error("the loop is no scenario");
    const loops = overfedLoops(read.scenario);
    const { title, horizonMin } = read.scenario;
    const network = expand(read.scenario);
    const settings = { title, horizonMin, tickS: rational("1/10"), overfed: loops };
    return lineFacts(settings, network, solveFlow(network), []);
  };
  const facts = overfed(LOOP.replace("rate: 87.5/min", "rate: 119/min"));
  expect(facts.overfed).toEqual([
    {
      ...{ line: "main", fed_per_min: "119", takes_per_min: "175/2" },
      ...{ belt: "main.through-1", planned_per_min: "100", at_most_per_min: "2400/19" },
    },
  ]);
  expect(said(facts)).toContain(
    "The flow on the belts is not known beforehand: the feed of main brings 119/min, more than the 87.5/min that its machines take, and what they refuse comes back too. Fed just 87.5/min, main.through-1 would carry 100/min of 126.3/min.",
  );
  expect(overfed(LOOP).overfed).toEqual([]);
});

test("lanes: what each outgoing one carries, exactly, also by loops and unevenly", () => {
  expect(said(factsOf(LANES))).toContain(
    "Outgoing lanes of main: 28/min each to drier-1, drier-2, drier-3 and drier-4.",
  );
  const seven = LANES.replace("count: 4", "count: 7");
  expect(factsOf(seven).lanes[0]?.outgoing[6]).toEqual({ belt: "main.out-7", to: "drier-7", flow_per_min: "16" });
  expect(said(factsOf(seven))).toContain("16/min each to drier-1");
  const slow = LANES.replace("rate: 53/min", "rate: 31/min").replace(
    "cycle: 2.1 s",
    "cycle: 2 s\n    speed: [50 %, 100 %, 100 %, 100 %]",
  );
  expect(said(factsOf(slow))).toContain(
    "main: 15/min to drier-1; 30/min to drier-2; 22.5/min each to drier-3 and drier-4.",
  );
  expect(said(factsOf(seven.replace("cycle: 2.1 s", "cycle: 4 s")))).not.toContain("Outgoing lanes");
});

test("whether a tree or loop could do with fewer dividers", () => {
  const text = readFileSync(new URL("../../scenarios/unequal-tree.yaml", import.meta.url), "utf8");
  const read = readScenario(text);
  if (!read.ok) throw new Error("the tree is no scenario");
  const plans = dividerPlans(read.scenario);
  expect(plans).toEqual([{ line: "main", dividers: 3, at_least: 3 }]);
  const facts = factsOf(text);
  expect(facts.plans).toEqual([]);
  expect(said({ ...facts, plans })).toContain(
    "Dividers of main: 3, the fewest for parts no finer than its shares need.",
  );
  expect(said({ ...facts, plans: [{ line: "main", dividers: 5, at_least: 4 }] })).toContain(
    "Dividers of main: 5, the fewest found; at least 4 are needed.",
  );
});
