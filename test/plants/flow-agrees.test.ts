/**
 * The flow solution of whole plants beside the simulation: long-run rates, proved by recurrence, equal as fractions.
 *
 * In plants without contention (greatest-output.test.ts says what that is) both run at the same pace: what each group
 * makes in all, and what is taken of each feed, are equal whatever the belts, rooms and counts. Which machine of a group
 * does the work is equal too, under conditions that follow from what whole items do:
 *
 *  - **Bursts.** Items that come in the mean one by one may come all at once, and a first outlet without room for them
 *    lets go by what in the mean it would take. So infeeds have room for the burst of what they take, and outfeeds for
 *    the gap of what they make, as `withRoom` bounds them.
 *  - **Lumps.** A cycle that takes n items frees n places at once, and an ordered merge fills them from all its inlets,
 *    since the first can't bring n at once: at least one of n comes from where it should, at most n − 1 do not. So
 *    `smooth` plants have a belt on one side of every junction, and none of the junction's other belts is slower.
 *  - **Ties.** Where two things at once keep a plant from running faster (two kinds that come just in proportion), any
 *    share among the machines will do, and which it is depends on what fills first. A belt's room counts there, and flows
 *    know of none. So there is one bottleneck in everything that hangs together; and no two products of a machine meet
 *    again, since they always come in proportion.
 *
 * Then machines, belts and feeds agree even where groups compete for a kind: no difference among 10 000 plants; without
 * the conditions, some in a hundred differ. What they leave out is shown in the small, the difference worked out by hand.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { FlowMeans } from "../../src/analysis/flow/solution.ts";
import type { Network } from "../../src/network/network.ts";
import { type Rational, sum, ZERO } from "../../src/quantity/rational.ts";
import { connection, network, solved } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, merge } from "../engine/lines.ts";
import { bottlenecksOf } from "./bottlenecks.ts";
import { withRoom } from "./bursts.ts";
import { cases } from "./cases.ts";
import { networkOf, type Plant, type PlantLimits, randomPlants } from "./random-plants.ts";
import { type Settled, settle } from "./settled.ts";

type Rates = Readonly<Record<string, string>>;

const exactly = (rates: ReadonlyMap<string, Rational>): Rates =>
  Object.fromEntries([...rates].map(([id, rate]) => [id, rate.toFraction()]));

const means = (plant: Network): FlowMeans => solved(solveFlow(plant)).settled();

/** Calls back for every plant that is proved to repeat. */
function eachSettled(
  limits: PlantLimits,
  count: number,
  check: (settled: Settled, flowing: FlowMeans, plant: Plant) => void,
): void {
  let proved = 0;
  fc.assert(
    fc.property(randomPlants({ rejoining: false, ...limits }), (drawn) => {
      const plant = limits.smooth ? withRoom(drawn) : drawn;
      const built = networkOf(plant);
      const settled = settle(built);
      if (settled === null) return;
      proved++;
      check(settled, means(built), plant);
    }),
    { numRuns: count },
  );
  expect(proved).toBeGreaterThan(0.95 * count);
}

test.each([
  ["of its own", false],
  ["that others compete for", true],
])("every machine, belt and feed of a plant with room, each group with kinds %s", (_, shared) => {
  const count = cases(110);
  let compared = 0;
  eachSettled({ shared, smooth: true, mostGroups: 3, mostMachines: 3 }, count, (settled, flowing, plant) => {
    if (bottlenecksOf(plant, networkOf(plant), settled).some((several) => several.length > 1)) return;
    compared++;
    expect(exactly(settled.running)).toEqual(exactly(flowing.machines));
    expect(exactly(settled.passed)).toEqual(exactly(flowing.connections));
    expect(exactly(settled.fed)).toEqual(exactly(flowing.feeds));
  });
  expect(compared).toBeGreaterThan(0.4 * count);
});

test("every group as a whole, and every feed, of any plant without contention", () => {
  eachSettled({}, cases(60), (settled, flowing, { groups }) => {
    const perGroup = (running: ReadonlyMap<string, Rational>): Rational[] =>
      groups.map(({ machines }, g) => {
        const cyclesPerS = machines.map(({ cycleS }, m) => (running.get(`m${g + 1}.${m + 1}`) ?? ZERO).div(cycleS));
        return sum(cyclesPerS);
      });
    expect(perGroup(settled.running).map(String)).toEqual(perGroup(flowing.machines).map(String));
    expect(exactly(settled.fed)).toEqual(exactly(flowing.feeds));
  });
});

describe("what whole items change", () => {
  /** Items/min on some connections, simulated and as a flow. */
  function both(plant: Network, ...connections: string[]): { simulated: string[]; flowing: string[] } {
    const settled = settle(plant);
    if (settled === null) throw new Error("not proved to repeat");
    const flowing = means(plant).connections;
    const of = (rates: ReadonlyMap<string, Rational>) => connections.map((id) => rates.get(id)?.toFraction() ?? "");
    return { simulated: of(settled.passed), flowing: of(flowing) };
  }

  test("a lump: three places free at once, and the first inlet fills them only one by one", () => {
    const collect = belt("60", 2);
    const plant = (takes: number) =>
      network({
        items: ["blank", "lid", "box"],
        feeds: [feed("feed-1", "60", "blank"), feed("feed-2", "60", "blank")],
        machines: [
          machine("first", "1", { takes: { blank: 1 }, makes: { lid: 1 } }),
          machine("second", "1", { takes: { blank: 1 }, makes: { lid: 1 } }),
          machine("boxer", String(4 * takes), { takes: { lid: takes }, makes: { box: 1 }, infeed: takes }),
        ],
        merges: [merge("join", "ordered")],
        connections: [
          connection("feed-1", "first"),
          connection("feed-2", "second"),
          connection("first", "join", { belt: collect }),
          connection("second", "join", { belt: collect }),
          connection("join", "boxer"),
        ],
      });
    // 15 lids/min. When a cycle takes three, one comes from each belt at once, and the third from the first a second later.
    const inlets = ["first>join", "second>join"];
    expect(both(plant(3), ...inlets)).toEqual({ simulated: ["10", "5"], flowing: ["15", "0"] });
    expect(both(plant(1), ...inlets)).toEqual({ simulated: ["15", "0"], flowing: ["15", "0"] });
  });

  test("a burst: four at once, and the first outlet has room for fewer", () => {
    const plant = (room: number) =>
      network({
        items: ["sheet", "blank", "lid"],
        feeds: [feed("feed", "60", "sheet")],
        dividers: [divider("split", "ordered")],
        machines: [
          machine("cutter", "16", { takes: { sheet: 1 }, makes: { blank: 4 } }),
          machine("first", "3", { takes: { blank: 1 }, makes: { lid: 1 }, infeed: room }),
          machine("second", "3", { takes: { blank: 1 }, makes: { lid: 1 } }),
        ],
        connections: [
          connection("feed", "cutter"),
          connection("cutter", "split"),
          connection("split", "first"),
          connection("split", "second"),
        ],
      });
    // 15 blanks/min, of which the first, at 20/min, could make lids of all.
    const outlets = ["split>first", "split>second"];
    expect(both(plant(1), ...outlets)).toEqual({ simulated: ["15/4", "45/4"], flowing: ["15", "0"] });
    expect(both(plant(3), ...outlets).simulated).toEqual(["45/4", "15/4"]);
    expect(both(plant(4), ...outlets)).toEqual({ simulated: ["15", "0"], flowing: ["15", "0"] });
  });

  test("a tie: two parts in proportion, and the belt's room decides what is full first", () => {
    const plant = (room: number, places: number) => {
      const [one, other] = [10, 13].map((infeed) =>
        machine("m", "1", { takes: { lid: 1, base: 1 }, makes: { box: 1 }, infeed }),
      );
      return network({
        items: ["lid", "base", "box"],
        feeds: [feed("lids", "10", "lid"), feed("bases", "10", "base")],
        dividers: [divider("lid", "ordered"), divider("base", "even")],
        machines: [
          ...(one
            ? [
                {
                  ...one,
                  id: "first",
                  infeed: [
                    { item: "lid", count: room },
                    { item: "base", count: 10 },
                  ],
                },
              ]
            : []),
          ...(other ? [{ ...other, id: "second" }] : []),
        ],
        connections: [
          connection("lids", "lid"),
          connection("lid", "first", { belt: places > 0 ? belt("180", places) : null }),
          connection("lid", "second"),
          connection("bases", "base"),
          connection("base", "first"),
          connection("base", "second"),
        ],
      });
    };
    // At first the one machine lacks bases, the other lids, 5/min each. Ten lids too many fill the one before 13 bases
    // the other; from then on five lids a minute pass it. With eight more places on the belt it is the other way round.
    expect(both(plant(10, 0), "lid>first")).toEqual({ simulated: ["5"], flowing: ["5"] });
    expect(both(plant(18, 0), "lid>first")).toEqual({ simulated: ["10"], flowing: ["10"] });
    expect(both(plant(10, 8), "lid>first")).toEqual({ simulated: ["10"], flowing: ["5"] });
  });
});
