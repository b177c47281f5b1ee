/**
 * Return loops against what is known of recirculation: n equal outlets from L leaves, L − n of them returned before the
 * root: root flow I L / n, return I (L − n)/n; after j passes from empty an outlet has (I/n)(1 − ((L − n)/L)^j). Own
 * derivation, a geometric series, checked by a second method.
 */
import { describe, expect, test } from "vitest";
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { exact, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { finishes, run } from "../engine/lines.ts";
import { plainFeed } from "../plain-feed.ts";
import { settle } from "../plants/settled.ts";
import { networkOf, scenarioOf } from "./shared-lines.ts";

/** Machines and leaves. */
const TABLE: [number, number][] = [
  [5, 6],
  [7, 8],
  [10, 12],
  [11, 12],
  [13, 16],
  [17, 18],
  [19, 24],
  [20, 24],
  [21, 24],
  [22, 24],
  [23, 24],
  [25, 27],
  [29, 32],
];

const equal = (count: number, perMin: string): Network => {
  const needs = Array.from({ length: count }, () => rational(perMin));
  return networkOf({ layout: "loop", ways: 3, needs, feedPerMin: whole(count).mul(rational(perMin)) });
};

test.each(TABLE)("%i machines on %i leaves: what passes the root and what returns", (count, leaves) => {
  const settled = settle(equal(count, "6"));
  const input = whole(6 * count);
  const rate = (id: string): string => exact(settled?.passed.get(`main.${id}`) ?? ZERO);
  expect(rate("through-1")).toBe(exact(input.mul(whole(leaves)).div(whole(count))));
  expect(rate("return")).toBe(exact(input.mul(whole(leaves - count)).div(whole(count))));
});

describe("fed one item at a time", () => {
  test.each(TABLE)("%i machines on %i leaves: counts never differ by more than one", (count) => {
    const network = equal(count, "6");
    const [feed] = network.feeds;
    if (feed === undefined) throw new Error("the plant has a feed");
    // One every ten seconds, long after the last has come through, however often it returned.
    const slow = { ...network, feeds: [plainFeed(feed.id, "can", [{ fromMin: ZERO, ratePerMin: whole(6) }])] };
    const items = 4 * count + 3;
    const done = run(slow, { minutes: `${items}/6`, stepAll: true, check: false });
    const order = network.machines
      .flatMap(({ id }) => finishes(done, id).map((tick) => ({ id, tick })))
      .toSorted((a, b) => a.tick - b.tick);
    expect(order.length).toBeGreaterThanOrEqual(items - 3);
    const counts = new Map(network.machines.map(({ id }) => [id, 0]));
    for (const { id } of order) {
      counts.set(id, (counts.get(id) ?? 0) + 1);
      expect(Math.max(...counts.values()) - Math.min(...counts.values())).toBeLessThanOrEqual(1);
    }
  });
});

test.each([
  [5, 6],
  [7, 8],
  [25, 27],
])("%i machines on %i leaves: passes from empty", (count, leaves) => {
  // The return takes ten minutes, all else next to nothing: a pass is ten minutes.
  const minutes = 10;
  const perMachine = 24;
  const rate = perMachine * count;
  const scenario = scenarioOf(`
horizon: 1 h
feeds: { silo: { item: can, rate: ${rate}/min } }
machines: { m: { count: ${count}, cycle: 2 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: loop
    from: silo
    to: m
    belt: { rate: ${4 * rate}/min, capacity: 40, transit: 0 s }
    return: { rate: ${4 * rate}/min, capacity: ${40 * rate}, transit: ${minutes} min }
`);
  const network = expand(scenario);
  const done = run(network, { minutes: String(5 * minutes), stepAll: true, check: false });
  const ticksPerPass = Number(exact(whole(60 * minutes).div(done.program.tickS)));
  for (let pass = 1; pass <= 5; pass++) {
    const expected = perMachine * minutes * (1 - ((leaves - count) / leaves) ** pass);
    for (const { id } of network.machines) {
      const finished = finishes(done, id).filter((tick) => Math.ceil(tick / ticksPerPass) === pass).length;
      // An item on its way, one in the machine, and where in the dividers' turn the pass begins.
      expect(Math.abs(finished - expected), `${id}, pass ${pass}: ${finished}, ${expected}`).toBeLessThanOrEqual(2);
    }
  }
});
