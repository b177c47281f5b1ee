/**
 * Random plants of several stages: what holds in every phase of every solution, and levels against small steps in
 * floating-point numbers, a second method that solves nothing.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FlowBufferDetail, type FlowSolution, flowAt, solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Network } from "../../src/network/network.ts";
import { approximate, larger, ONE, type Rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { solved } from "./flow-networks.ts";
import { randomPlant } from "./random-plants.ts";
import { SteppedPlant } from "./stepping.ts";

const seeds = fc.integer({ min: 0, max: 2 ** 31 });

/**
 * Against stepping always the same plants. In a few others (number 90 is one) flows hang together so that more to one
 * machine comes back as still less to another: whole steps then swing about what the flow solution has, for as long as
 * such a phase lasts, and levels come out differently by what that was.
 */
const plants = (count: number) => Array.from({ length: count }, (_, number) => number);

/** A few plants swing ever less and never settle; they are refused, and none of this is said of them. */
function solutionOf(network: Network): FlowSolution {
  const result = solveFlow(network);
  fc.pre(result.applies);
  return solved(result);
}

/** By machine and side, or feed. */
function buffersOf(solution: FlowSolution, tMin: Rational): Map<string, FlowBufferDetail> {
  const { machines, surges } = flowAt(solution, tMin).detail();
  return new Map([
    ...machines.flatMap(({ id, infeed, outfeed }) => [
      ...infeed.map((buffer) => [`${id} infeed ${buffer.item}`, buffer] as const),
      ...outfeed.map((buffer) => [`${id} outfeed ${buffer.item}`, buffer] as const),
    ]),
    ...[...surges].map(([id, buffer]) => [`${id} surge`, buffer] as const),
  ]);
}

function expectLevels(network: Network, dt: number): void {
  const solution = solutionOf(network);
  const plant = new SteppedPlant(network, dt);
  const rates = [
    ...network.feeds.map(({ profile }) => profile[0]?.ratePerMin ?? ZERO),
    ...network.machines.flatMap(({ cycleMin, takes, makes }) =>
      [...takes, ...makes].map(({ count }) => whole(count).div(cycleMin)),
    ),
  ];
  // A step's worth for each stage on the way, and one to be on the safe side.
  const most = 4 * dt * approximate(rates.reduce(larger));
  for (const t of [1, 4, 11]) {
    const { levels } = plant.to(t);
    const since = whole(t).sub(flowAt(solution, whole(t)).fromMin);
    for (const [name, { levelAtStart, netPerMin }] of buffersOf(solution, whole(t))) {
      const exact = approximate(levelAtStart.add(netPerMin.mul(since)));
      expect(Math.abs((levels.get(name) ?? NaN) - exact), `${name} at ${t} min`).toBeLessThanOrEqual(most);
    }
  }
}

describe("levels agree with stepping, within the items of a few steps", () => {
  test.each(plants(30))("plant %i, steady feeds", (number) => expectLevels(randomPlant(number), 1 / 128));

  test.each(plants(30))("plant %i, feeds that stop and start, vehicles, surge buffers", (number) =>
    expectLevels(randomPlant(number, { uneven: true }), 1 / 128),
  );
});

test.each(plants(30))("plant %i: settled running shares agree with stepping", (number) => {
  const network = randomPlant(number);
  const solution = solutionOf(network);
  const from = Math.ceil(approximate(solution.phases.at(-1)?.fromMin ?? ZERO)) + 5;
  const plant = new SteppedPlant(network, 1 / 64);
  const before = plant.to(from).running;
  const after = plant.to(from + 16).running;
  for (const [id, share] of solution.settled().machines) {
    const stepped = ((after.get(id) ?? 0) - (before.get(id) ?? 0)) / 16;
    expect(Math.abs(stepped - approximate(share)), id).toBeLessThan(0.01);
  }
});

test("in every phase flows are conserved, limits kept, and nothing that could run faster waits", () => {
  let phases = 0;
  fc.assert(
    fc.property(seeds, fc.boolean(), (seed, uneven) => {
      const network = randomPlant(seed, { uneven });
      const solution = solutionOf(network);
      for (const phase of solution.phases.slice(0, 60)) {
        phases++;
        const { connections, machines, feeds } = phase.detail();
        const flow = (side: "from" | "to", id: string) =>
          sum(network.connections.filter((one) => one[side] === id).map((one) => connections.get(one.id) ?? ZERO));
        for (const { id } of [...network.dividers, ...network.merges]) {
          expect(flow("to", id).equals(flow("from", id))).toBe(true);
        }
        for (const { id, belt } of network.connections) {
          if (belt !== null) expect((connections.get(id) ?? ZERO).compare(belt.ratePerMin)).toBeLessThanOrEqual(0);
        }
        for (const [m, { id, running, infeed, outfeed }] of machines.entries()) {
          const { cycleMin, takes, makes } = network.machines[m] ?? { cycleMin: ONE, takes: [], makes: [] };
          const cycles = running.div(cycleMin);
          for (const [k, buffer] of infeed.entries()) {
            expect(buffer.outflowPerMin.equals(cycles.mul(whole(takes[k]?.count ?? 0)))).toBe(true);
          }
          if (outfeed.length > 0) expect(outfeed[0]?.outflowPerMin.equals(flow("from", id))).toBe(true);
          for (const buffer of [...infeed, ...outfeed]) expectPossible(buffer);
          expect(sum(infeed.map(({ inflowPerMin }) => inflowPerMin)).equals(flow("to", id))).toBe(true);
          const starved = infeed.some((one) => one.levelAtStart.equals(ZERO) && one.netPerMin.equals(ZERO));
          const blocked = outfeed.some((one) => one.levelAtStart.equals(one.capacity) && one.netPerMin.equals(ZERO));
          expect(starved || blocked || running.equals(ONE)).toBe(true);
          expect(makes.length).toBeGreaterThan(0);
        }
        for (const feed of network.feeds) {
          const accepted = feeds.get(feed.id) ?? ZERO;
          expect(accepted.compare(larger(ZERO, feed.profile[0]?.ratePerMin ?? ZERO))).toBeLessThanOrEqual(0);
        }
      }
    }),
    { numRuns: 150 },
  );
  expect(phases).toBeGreaterThan(1000);
}, 60_000);

function expectPossible({ levelAtStart, capacity, netPerMin, inflowPerMin, outflowPerMin }: FlowBufferDetail): void {
  expect(levelAtStart.compare(ZERO) >= 0 && levelAtStart.compare(capacity) <= 0).toBe(true);
  expect(inflowPerMin.sub(outflowPerMin).equals(netPerMin)).toBe(true);
  if (levelAtStart.equals(capacity)) expect(netPerMin.compare(ZERO)).toBeLessThanOrEqual(0);
  if (levelAtStart.equals(ZERO)) expect(netPerMin.compare(ZERO)).toBeGreaterThanOrEqual(0);
}

test("in the long run every buffer gives what it gets", () => {
  let periods = 0;
  fc.assert(
    fc.property(seeds, (seed) => {
      const network = randomPlant(seed, { uneven: true });
      const solution = solutionOf(network);
      if (solution.period !== null) periods++;
      const { machines, connections } = solution.settled();
      for (const { id, cycleMin, takes, makes } of network.machines) {
        const cycles = (machines.get(id) ?? ZERO).div(cycleMin);
        const flow = (side: "from" | "to") =>
          sum(network.connections.filter((one) => one[side] === id).map((one) => connections.get(one.id) ?? ZERO));
        const taken = cycles.mul(whole(takes.reduce((total, { count }) => total + count, 0)));
        const made = cycles.mul(whole(makes.reduce((total, { count }) => total + count, 0)));
        expect(flow("to").equals(taken)).toBe(true);
        // What no line collects leaves by itself.
        if (network.connections.some(({ from }) => from === id)) expect(flow("from").equals(made)).toBe(true);
      }
    }),
    { numRuns: 60 },
  );
  expect(periods).toBeGreaterThan(20);
}, 120_000);

test("a plant that swings for ever comes back to the same levels, period after period", () => {
  const network = randomPlant(412);
  const solution = solutionOf(network);
  const { fromMin, lengthMin } = solution.period ?? { fromMin: ZERO, lengthMin: ZERO };
  expect(lengthMin.compare(ZERO)).toBeGreaterThan(0);
  const told = (tMin: Rational) =>
    [...buffersOf(solution, tMin)].map(([name, { levelAtStart }]) => [name, levelAtStart.toFraction()]);
  expect(told(fromMin.add(lengthMin))).toEqual(told(fromMin));
  expect(told(fromMin.add(lengthMin.mul(1000n)))).toEqual(told(fromMin));
  // The phase after the last, worked out from its rates rather than taken from the first.
  const last = solution.phases.at(-1);
  const lasts = fromMin.add(lengthMin).sub(last?.fromMin ?? ZERO);
  expect(
    [...buffersOf(solution, last?.fromMin ?? ZERO)].map(([name, { levelAtStart, netPerMin }]) => [
      name,
      levelAtStart.add(netPerMin.mul(lasts)).toFraction(),
    ]),
  ).toEqual(told(fromMin));
  expect(solution.settlingMin.compare(fromMin)).toBeLessThanOrEqual(0);
});

describe("a pattern that is approached but never reached", () => {
  // A vehicle every 10/3 min; what it finds in one infeed follows from what the last one found there, and differs less each time.
  const network = randomPlant(16, { uneven: true });
  const solution = solutionOf(network);
  const period = solution.period ?? { fromMin: ZERO, lengthMin: ONE, reached: true };

  test("is found all the same, said to be so, and repeats exactly", () => {
    expect(period.reached).toBe(false);
    expect(period.lengthMin.toFraction()).toBe("10/3");
    const last = solution.phases.at(-1);
    const lasts = period.fromMin.add(period.lengthMin).sub(last?.fromMin ?? ZERO);
    const atEnd = [...buffersOf(solution, last?.fromMin ?? ZERO)].map(([name, { levelAtStart, netPerMin }]) => [
      name,
      levelAtStart.add(netPerMin.mul(lasts)).toFraction(),
    ]);
    const atStart = [...buffersOf(solution, period.fromMin)].map(([name, buffer]) => [
      name,
      buffer.levelAtStart.toFraction(),
    ]);
    expect(atEnd).toEqual(atStart);
  });

  test("agrees with stepping long after", () => {
    const plant = new SteppedPlant(network, 1 / 300);
    const { levels } = plant.to(200);
    const since = whole(200).sub(flowAt(solution, whole(200)).fromMin);
    const buffers = [...buffersOf(solution, whole(200))];
    expect(buffers.length).toBeGreaterThan(5);
    for (const [name, { levelAtStart, netPerMin }] of buffers) {
      const exact = approximate(levelAtStart.add(netPerMin.mul(since)));
      expect(Math.abs((levels.get(name) ?? NaN) - exact), name).toBeLessThan(1);
    }
  });
});
