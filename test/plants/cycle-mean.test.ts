/**
 * Serial lines with finite buffers, assemblies, and plants whose products part and meet again, without dividers and
 * merges: their long-run rates are the greatest cycle mean of their event graph, as fractions.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Connection, MachineElement, Network } from "../../src/network/network.ts";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, machine, run } from "../engine/lines.ts";
import { plainFeed } from "../plain-feed.ts";
import { cases } from "./cases.ts";
import { type EventGraph, eventGraphOf, greatestCycleMean, type Mean } from "./event-graph.ts";

/** Between two machines, from the first; `null` for a direct hand-over. */
interface Link {
  readonly between: readonly [number, number];
  readonly makes: number;
  readonly takes: number;
  readonly belt: { readonly intervalTicks: number; readonly transitTicks: number; readonly room: number } | null;
  readonly spareOut: number;
  readonly spareIn: number;
}

interface Given {
  readonly cycleTicks: readonly number[];
  readonly links: readonly Link[];
}

/** Long enough for the fastest feed, an item every other tick, to bring what a cycle takes. */
const SHORTEST_CYCLE = 8;
const MOST_COUNT = 3;

const spare = fc.nat(2);
const someBelt = fc.record({
  intervalTicks: fc.integer({ min: 2, max: 9 }),
  transitTicks: fc.nat(16),
  room: fc.integer({ min: 1, max: 4 }),
});

function link(between: readonly [number, number], mostCount: number): fc.Arbitrary<Link> {
  const count = fc.integer({ min: 1, max: mostCount });
  return fc.record({
    between: fc.constant(between),
    makes: count,
    takes: count,
    belt: fc.option(someBelt, { freq: 2 }),
    spareOut: spare,
    spareIn: spare,
  });
}

const cycles = (least: number, most: number) =>
  fc.array(fc.integer({ min: SHORTEST_CYCLE, max: 14 }), { minLength: least, maxLength: most });

/** One machine after another. */
const serialLines: fc.Arbitrary<Given> = cycles(2, 6).chain((cycleTicks) =>
  fc.record({
    cycleTicks: fc.constant(cycleTicks),
    links: fc.tuple(...cycleTicks.slice(1).map((_, index) => link([index, index + 1], MOST_COUNT))),
  }),
);

/** Each machine but the first is linked with one of those before it, which it feeds or is fed by. */
const trees: fc.Arbitrary<Given> = cycles(3, 6).chain((cycleTicks) =>
  fc.record({
    cycleTicks: fc.constant(cycleTicks),
    links: fc.tuple(
      ...cycleTicks
        .slice(1)
        .map((_, index) =>
          fc
            .tuple(fc.nat(index), fc.boolean())
            .chain(([other, feeds]) => link(feeds ? [index + 1, other] : [other, index + 1], MOST_COUNT)),
        ),
    ),
  }),
);

/** Any machine may feed any later one, one item for one, so products part and meet again. */
const partingAndMeeting: fc.Arbitrary<Given> = cycles(3, 6).chain((cycleTicks) => {
  const pairs = cycleTicks.flatMap((_, to) => Array.from({ length: to }, (__, from) => [from, to] as const));
  return fc
    .record({
      cycleTicks: fc.constant(cycleTicks),
      links: fc.tuple(...pairs.map((pair) => link(pair, 1))),
      kept: fc.array(fc.boolean(), { minLength: pairs.length, maxLength: pairs.length }),
    })
    .map(({ kept, links, ...rest }) => ({
      ...rest,
      links: links.filter(({ between: [from, to] }, index) => to === from + 1 || kept[index]),
    }));
});

/** Each link has a kind of its own; machines without inlets are fed more than they can take. */
function networkOf({ cycleTicks, links }: Given): Network {
  const kindOf = (index: number): string => `part-${index + 1}`;
  const idOf = (index: number): string => `m${index + 1}`;
  const fed = cycleTicks.flatMap((_, m) => (links.some(({ between }) => between[1] === m) ? [] : [m]));
  const machines = cycleTicks.map((ticks, m): MachineElement => {
    const into = links.flatMap((one, index) => (one.between[1] === m ? [{ ...one, item: kindOf(index) }] : []));
    const out = links.flatMap((one, index) => (one.between[0] === m ? [{ ...one, item: kindOf(index) }] : []));
    const plain = machine(idOf(m), String(ticks), { takes: { [`raw-${m + 1}`]: 1 }, makes: { done: 1 } });
    return {
      ...plain,
      ...(into.length > 0 && {
        takes: into.map(({ item, takes }) => ({ item, count: takes })),
        infeed: into.map(({ item, takes, spareIn }) => ({ item, count: takes + spareIn })),
      }),
      ...(out.length > 0 && {
        makes: out.map(({ item, makes }) => ({ item, count: makes })),
        outfeed: out.map(({ item, makes, spareOut }) => ({ item, count: makes + spareOut })),
      }),
    };
  });
  const linked = links.map(({ between: [from, to], belt: given }, index): Connection => {
    const style =
      given &&
      belt(rational("60").div(whole(given.intervalTicks)).toFraction(), given.room, String(given.transitTicks));
    return { ...connection(idOf(from), idOf(to), { belt: style, only: [kindOf(index)] }), id: kindOf(index) };
  });
  return network({
    items: [...fed.map((m) => `raw-${m + 1}`), ...links.map((_, index) => kindOf(index)), "done"],
    feeds: fed.map((m) => plainFeed(`feed-${m + 1}`, `raw-${m + 1}`, [{ fromMin: ZERO, ratePerMin: whole(30) }])),
    machines,
    connections: [...fed.map((m) => connection(`feed-${m + 1}`, idOf(m))), ...linked],
  });
}

/** Cycles per tick of each machine. */
type Rates = Readonly<Record<string, string>>;

function simulated(plant: Network): Rates {
  const { recurrence } = run(plant, { tickS: "1", minutes: "1000", check: false });
  if (recurrence === null) throw new Error("not proved to repeat");
  const rateOf = (m: number) => whole(recurrence.period.cycles[m] ?? 0).div(whole(recurrence.periodTicks));
  return Object.fromEntries(plant.machines.map(({ id }, m) => [id, rateOf(m).toFraction()]));
}

function expected({ cyclesPerRound }: EventGraph, mean: Mean): Rates {
  const rateOf = (cycles: number) => whole(cycles * mean.down).div(whole(mean.up));
  return Object.fromEntries([...cyclesPerRound].map(([id, cycles]) => [id, rateOf(cycles).toFraction()]));
}

test.each([
  ["serial lines", serialLines],
  ["assemblies and partings", trees],
  ["products that part and meet again", partingAndMeeting],
])("%s run at the greatest cycle mean", (_, plants) => {
  const count = cases(60);
  let heldUp = 0;
  let exact = 0;
  fc.assert(
    fc.property(plants, (given) => {
      const plant = networkOf(given);
      const graph = eventGraphOf(plant, 1, false);
      const mean = greatestCycleMean(graph);
      // A belt that has just room for its rate has one place more while it moves: between never and always.
      const roomier = greatestCycleMean(eventGraphOf(plant, 1, true));
      const found = simulated(plant);
      const [least, most] = [expected(graph, mean), expected(graph, roomier)];
      for (const [id, rate] of Object.entries(found)) {
        expect(rational(rate).compare(rational(least[id] ?? ""))).toBeGreaterThanOrEqual(0);
        expect(rational(rate).compare(rational(most[id] ?? ""))).toBeLessThanOrEqual(0);
      }
      if (mean.up * roomier.down === roomier.up * mean.down) exact++;
      const busiest = Math.max(
        ...given.cycleTicks.map((ticks, m) => ticks * (graph.cyclesPerRound.get(`m${m + 1}`) ?? 0)),
      );
      if (mean.up > busiest * mean.down) heldUp++;
    }),
    { numRuns: count },
  );
  // In most the two are the same, and so is what is found.
  expect(exact).toBeGreaterThan(0.7 * count);
  // In some, what holds is no machine's own cycle, but a belt or a round of machines that wait for one another.
  expect(heldUp).toBeGreaterThan(0.05 * count);
});

test("a line worked out by hand: one place between two machines", () => {
  // Both take 10 ticks. A product is handed over a tick after it is finished and counts a tick later, when the next
  // machine looks for it; the one place is free as soon as that machine starts. So nothing waits: 10 ticks.
  const link = { between: [0, 1], makes: 1, takes: 1, belt: null, spareOut: 0, spareIn: 0 } as const;
  const direct = networkOf({ cycleTicks: [10, 10], links: [link] });
  expect(greatestCycleMean(eventGraphOf(direct, 1, true))).toEqual({ up: 10, down: 1 });
  // A belt for one item, 12 ticks long: entered a tick after the finish, left 12 later at the earliest, and only then may
  // the next one enter, in the same tick.
  const long = { ...link, belt: { intervalTicks: 2, transitTicks: 12, room: 1 } };
  const carried = networkOf({ cycleTicks: [10, 10], links: [long] });
  expect(greatestCycleMean(eventGraphOf(carried, 1, true))).toEqual({ up: 12, down: 1 });
  expect(simulated(carried)).toEqual({ m1: "1/12", m2: "1/12" });
});
