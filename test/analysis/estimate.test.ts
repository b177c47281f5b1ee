/** The flow solution and the facts of a line as results: small cases, to the last fraction. */

import { describe, expect, test } from "vitest";
import { estimate } from "../../src/analysis/estimate.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { lineFacts } from "../../src/analysis/line-facts.ts";
import type { Network } from "../../src/network/network.ts";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { plainFeed } from "../plain-feed.ts";
import { type ChainMachine, chain, connection, equalChain, network, solved, steady } from "./flow-networks.ts";
import { withoutBelts } from "./runs.ts";

function estimated(given: Network) {
  return estimate("A line", given, solved(solveFlow(given)));
}

/** One belt rate for all, tight enough to show. */
function withBelts(given: Network, ratePerMin: string): Network {
  const belt = { ratePerMin: rational(ratePerMin), capacity: 10, transitMin: rational("1/10"), metres: null };
  return { ...given, connections: given.connections.map((one) => ({ ...one, belt })) };
}

describe("the estimate of four machines fed exactly (own derivation; needs 24, room 60)", () => {
  const found = estimated(withBelts(equalChain(4, whole(24), 60, whole(96)), "100"));

  test("times, output, loss", () => {
    expect(found).toMatchObject({
      title: "A line",
      full_per_min: "96",
      settled_per_min: "96",
      settling_min: "15/2",
      // 84/96 is 12.5 % short, so the band is reached with full output.
      within_tolerance_min: "15/2",
      tolerance: 0.05,
      ramp_up_loss: "120",
    });
    expect(found.events).toEqual([
      { at_min: "5/2", what: "full", where: "machine-1", output_per_min: "84" },
      { at_min: "15/2", what: "full", where: "machine-2", output_per_min: "96" },
    ]);
  });

  test("machines, belts, feed", () => {
    expect(found.machines).toEqual(
      ["5/2", "15/2", null, null].map((full_at_min, k) => ({
        id: `machine-${k + 1}`,
        needs_per_min: "24",
        settled_per_min: "24",
        products: { full_per_min: "24", settled_per_min: "24" },
        takes: [{ item: "pouch", needs_per_min: "24", settled_per_min: "24" }],
        full_at_min,
      })),
    );
    const flows = { "through-1": 96, "branch-1": 24, "through-2": 72, "branch-2": 24, "through-3": 48, "branch-3": 24 };
    expect(found.belts).toEqual(
      Object.entries({ ...flows, "through-4": 24 }).map(([id, flow]) => ({
        id,
        flow_per_min: String(flow),
        headroom_per_min: String(100 - flow),
      })),
    );
    expect(found.feeds).toEqual([{ id: "feed", offered_per_min: "96", accepted_per_min: "96" }]);
  });
});

test("overfed, the feed is held back to the need (own derivation: 5 % over, full at 25/4, lost 90)", () => {
  const found = estimated(withoutBelts(equalChain(4, whole(24), 60, rational("100.8"))));
  expect([found.settling_min, found.ramp_up_loss, found.belts]).toEqual(["25/4", "90", []]);
  expect(found.feeds).toEqual([{ id: "feed", offered_per_min: "504/5", accepted_per_min: "96" }]);
  expect(found.machines.map(({ full_at_min }) => full_at_min).slice(2)).toEqual(["125/4", "125/4"]);
});

test("short, shares as fractions (own derivation: 1, 1, 3/4, 3/4)", () => {
  const found = estimated(equalChain(4, whole(24), 60, whole(84)));
  expect(found.settled_per_min).toBe("84");
  expect(found.machines.map(({ settled_per_min }) => settled_per_min)).toEqual(["24", "24", "18", "18"]);
});

test("a feed's steps are events too", () => {
  const profile = [
    { fromMin: ZERO, ratePerMin: whole(12) },
    { fromMin: rational("7/2"), ratePerMin: whole(48) },
  ];
  const machines = new Array<ChainMachine>(2).fill({ need: whole(24), room: 60 });
  const found = estimated(chain(machines, profile));
  expect(found.events).toEqual([{ at_min: "7/2", what: "feed", where: "feed", output_per_min: "48" }]);
  // 36/min short for 7/2 min.
  expect([found.settling_min, found.ramp_up_loss]).toEqual(["7/2", "126"]);
});

/** Two feeds of sheets and glue; a gluer takes three sheets and one drop for two boards, a cutter two sheets. */
const WORKSHOP = network({
  items: ["sheet", "drop", "board", "card"],
  feeds: [
    plainFeed("stack", "sheet", steady(whole(30))),
    plainFeed("spare", "sheet", [
      { fromMin: ZERO, ratePerMin: whole(45) },
      { fromMin: whole(10), ratePerMin: rational("5/2") },
    ]),
    plainFeed("pot", "drop", steady(whole(9))),
  ],
  merges: [{ id: "join", line: "line", rule: "even" }],
  dividers: [{ id: "split", line: "line", rule: "ordered" }],
  machines: [
    {
      id: "gluer",
      line: "line",
      cycleMin: rational("1/8"),
      takes: [
        { item: "sheet", count: 3 },
        { item: "drop", count: 1 },
      ],
      makes: [{ item: "board", count: 2 }],
      infeed: [
        { item: "sheet", count: 12 },
        { item: "drop", count: 5 },
      ],
      outfeed: [{ item: "board", count: 2 }],
    },
    {
      id: "cutter",
      line: "line",
      cycleMin: rational("3/20"),
      takes: [{ item: "sheet", count: 2 }],
      makes: [{ item: "card", count: 1 }],
      infeed: [{ item: "sheet", count: 8 }],
      outfeed: [{ item: "card", count: 1 }],
    },
  ],
  connections: [
    connection("stack", "join"),
    connection("spare", "join"),
    connection("join", "split", {
      belt: { ratePerMin: whole(50), capacity: 9, transitMin: rational("1/10"), metres: null },
    }),
    connection("split", "gluer"),
    connection("split", "cutter"),
    connection("pot", "gluer"),
  ],
});

describe("the facts of a line", () => {
  const settings = { title: "Workshop", tickS: rational("1/20"), horizonMin: rational("90.5") };
  const flow = solveFlow(WORKSHOP);
  const facts = lineFacts(settings, WORKSHOP, flow, ["cutter"]);

  test("what it consists of", () => {
    expect(facts).toMatchObject({ title: "Workshop", tick_s: "1/20", horizon_min: 90.5, unreachable: ["cutter"] });
    expect(facts.elements).toEqual({
      feeds: 3,
      surge_buffers: 0,
      belts: 1,
      hand_overs: 5,
      dividers: 1,
      merges: 1,
      machines: 2,
      outlets: 0,
    });
  });

  test("needs against feed, kind by kind", () => {
    const none = { fed_per_min: "0", fed_at_most_per_min: "0", made_per_min: "0", needed_per_min: "0" };
    expect(facts.items).toEqual([
      { ...none, item: "sheet", fed_per_min: "65/2", fed_at_most_per_min: "75", needed_per_min: "112/3" },
      { ...none, item: "drop", fed_per_min: "9", fed_at_most_per_min: "9", needed_per_min: "8" },
      { ...none, item: "board", made_per_min: "16" },
      { ...none, item: "card", made_per_min: "20/3" },
    ]);
  });

  test("the belt's settled flow and headroom, none where the flow is not known", () => {
    expect(flow.applies).toBe(true);
    const belt = { id: "join>split", rate_per_min: "50", at_most_per_min: "50" };
    expect(facts.belts).toEqual([{ ...belt, flow_per_min: "112/3", headroom_per_min: "38/3" }]);
    const refused = lineFacts(settings, WORKSHOP, { applies: false, reason: "a test" }, []);
    expect(refused.belts).toEqual([{ ...belt, flow_per_min: null, headroom_per_min: null }]);
    expect([facts.no_flow, refused.no_flow]).toEqual([null, "a test"]);
  });

  test("a buffer is named with its item where its machine has several", () => {
    const found = estimated(WORKSHOP);
    expect(new Set(found.events.map(({ where }) => where))).toEqual(
      new Set(["gluer.sheet", "gluer.drop", "spare", "cutter"]),
    );
    expect(found.machines.map(({ needs_per_min }) => needs_per_min)).toEqual(["16", "40/3"]);
    // The gluer, served first, takes 24 of the 65/2 sheets, and a drop to three of them; the cutter has the rest.
    expect(found.machines.map(({ settled_per_min }) => settled_per_min)).toEqual(["16", "17/2"]);
    expect(found.machines[0]?.takes).toEqual([
      { item: "sheet", needs_per_min: "24", settled_per_min: "24" },
      { item: "drop", needs_per_min: "8", settled_per_min: "8" },
    ]);
  });
});
