/** Limits on hold-up and dwell, and where items lie, in results. */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { rational } from "../../src/quantity/rational.ts";
import { DEFAULT_FLOOR } from "../../src/scenario/floor.ts";
import { mixed } from "../engine/feeding.ts";
import { belt, divider, feed, machine } from "../engine/lines.ts";
import { connection, network } from "./flow-networks.ts";
import { TITLE_AND_SEED } from "./runs.ts";

const GROUPS = [{ id: "m", members: ["m-1", "m-2"] }];

function resultOf(line: Network, minutes = 60) {
  const run = simulate(compile(line, rational("1/2")), { horizonTicks: 120 * minutes });
  const scenario = { ...TITLE_AND_SEED, machines: GROUPS.map((group) => ({ ...MACHINES, ...group })) };
  return analyse(run, scenario, { applies: false, reason: "it is not asked" }).result;
}

const MACHINES = {
  cycleMin: rational("1"),
  takes: [],
  makes: [],
  infeed: [],
  outfeed: [],
  speeds: [],
  footprint: DEFAULT_FLOOR.machine,
};

/** 60/min onto two machines of 20/min each with room for 50: the buffers gain 10/min each, then the belt fills. */
const plain = network({
  feeds: [feed("feed", "60")],
  dividers: [divider("d")],
  machines: ["m-1", "m-2"].map((id) => ({ ...machine(id, "3", { infeed: 50 }), group: "m" })),
  connections: [connection("feed", "d", { belt: belt("60", 30, "2") }), connection("d", "m-1"), connection("d", "m-2")],
});

describe("hold-up", () => {
  const limit = { item: "pouch", connections: [], machines: ["m-1", "m-2"] };
  const line = {
    ...plain,
    holdUpLimits: [
      { ...limit, place: null, most: 1000, connections: plain.connections.map(({ id }) => id) },
      { ...limit, place: "m", most: 80 },
      { ...limit, place: "line", most: 20, connections: ["feed>d"], machines: [] },
    ],
  };
  const { limits, hold_up: holdUp } = resultOf(line);

  test("the whole plant's limit is kept", () => {
    expect(limits[0]).toMatchObject({ what: "hold-up", place: null, item: "pouch", limit: 1000, over_min: 0 });
    expect(limits[0]?.peak).toBe(holdUp.peak);
    expect(limits[0]?.settled_over_share).toBe(0);
  });

  test("a group's is exceeded from the minute on in which its buffers hold more", () => {
    // 20 a minute are gained: 80 after 4 min.
    const group = limits[1];
    expect(group?.peak).toBe(100);
    expect(group?.settled_over_share).toBe(1);
    expect(group?.over_min).toBeGreaterThan(60 - 4.2);
    expect(group?.over_min).toBeLessThan(60 - 3.9);
  });

  test("a line's belts' later, and what is over any limit is over the one that is over first", () => {
    expect(limits[2]?.peak).toBe(30);
    expect(limits[2]?.over_min).toBeGreaterThan(50);
    expect(holdUp.over_limit_min).toBe(limits[1]?.over_min);
  });

  test("by place: belts and the group's buffers, adding up to what lies on the line", () => {
    expect(holdUp.by_place.map(({ place, part, item }) => [place, part, item])).toEqual([
      ["line", "belts", "pouch"],
      ["m", "infeed", "pouch"],
    ]);
    expect(holdUp.by_place.map(({ peak }) => peak)).toEqual([30, 100]);
    const total = holdUp.by_place.reduce((sum, { settled }) => sum + settled, 0);
    expect(total).toBeCloseTo(holdUp.settled, 9);
  });

  test("a run that is not proved to settle says what lies there at its end", () => {
    const places = resultOf(plain, 2).hold_up;
    expect(places.by_place.reduce((sum, { settled }) => sum + settled, 0)).toBe(places.settled);
    expect(Number.isInteger(places.settled)).toBe(true);
  });
});

describe("dwell", () => {
  test("in a full buffer of 50 from which 20/min are taken it is two and a half minutes and more", () => {
    const { limits, dwell } = resultOf({ ...plain, dwellLimits: [{ item: null, limitMin: rational("2") }] });
    const [limit] = limits;
    expect(limit).toMatchObject({ what: "dwell", place: null, item: null, limit: 2, over_min: null });
    expect(limit?.peak).toBe(dwell.longest_min);
    expect(limit?.over_items).toBeGreaterThan(1800);
    // What lies at the end has lain for 3.25 min at most, a part of it for more than two.
    expect(limit?.lying_over).toBeGreaterThan(0);
    expect(limit?.lying_over).toBeLessThan(130);
    expect(dwell.over_limit_items).toBe((limit?.over_items ?? 0) + (limit?.lying_over ?? 0));
  });

  test("what nobody ever takes is not forgotten", () => {
    const jam = {
      ...plain,
      items: ["pouch", "carton", "label"],
      feeds: [mixed("feed", "60", { pouch: 9, label: 1 })],
      dwellLimits: [
        { item: "label", limitMin: rational("5") },
        { item: "pouch", limitMin: rational("100") },
      ],
    };
    const { limits, dwell } = resultOf(jam, 90);
    expect(limits[0]).toMatchObject({ item: "label", over_items: 0 });
    // As old as the run, but for the seconds in which it came.
    expect(limits[0]?.lying_over).toBeGreaterThan(0);
    expect(limits[0]?.peak).toBeGreaterThan(89);
    expect(limits[1]).toMatchObject({ item: "pouch", over_items: 0, lying_over: 0 });
    expect(dwell.over_limit_items).toBe(limits[0]?.lying_over);
  });
});
