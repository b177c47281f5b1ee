/** Properties of every flow solution, over random chains: unequal machines, profiles, stocks, both rules, tight belts. */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type FlowSolution,
  type InitialLevel,
  madeByMachine,
  outputUpTo,
  solveFlow,
} from "../../src/analysis/flow/flow.ts";
import type { Network } from "../../src/network/network.ts";
import { approximate, type Rational, rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import type { Rule } from "../../src/scenario/scenario.ts";
import { chain, solved } from "./flow-networks.ts";

interface RandomChain {
  readonly needs: readonly number[];
  readonly rooms: readonly number[];
  readonly stocks: readonly number[];
  readonly feed: readonly { readonly fromMin: number; readonly ratePerMin: number }[];
  readonly belts: readonly (number | null)[];
  readonly rule: Rule;
}

const randomChain: fc.Arbitrary<RandomChain> = fc.integer({ min: 2, max: 7 }).chain((count) => {
  const each = <T>(one: fc.Arbitrary<T>) => fc.array(one, { minLength: count, maxLength: count });
  return fc.record({
    needs: each(fc.integer({ min: 1, max: 40 })),
    rooms: each(fc.integer({ min: 1, max: 60 })),
    stocks: each(fc.integer({ min: 0, max: 4 })),
    feed: fc
      .array(fc.record({ lasts: fc.integer({ min: 1, max: 6 }), ratePerMin: fc.integer({ min: 0, max: 160 }) }), {
        minLength: 1,
        maxLength: 3,
      })
      .map((steps) => {
        let fromMin = 0;
        return steps.map(({ lasts, ratePerMin }) => {
          const step = { fromMin, ratePerMin };
          fromMin += lasts;
          return step;
        });
      }),
    belts: fc.array(fc.option(fc.integer({ min: 5, max: 60 }), { freq: 2 }), {
      minLength: 2 * count - 1,
      maxLength: 2 * count - 1,
    }),
    rule: fc.constantFrom<Rule>("even", "ordered"),
  });
});

/** @param faster all rates, and inverse all times */
function build({ needs, rooms, stocks, feed, belts, rule }: RandomChain, faster = 1) {
  const scaled = chain(
    needs.map((need, k) => ({ need: whole(need * faster), room: rooms[k] ?? 1 })),
    feed.map((step) => ({
      fromMin: whole(step.fromMin).div(BigInt(faster)),
      ratePerMin: whole(step.ratePerMin * faster),
    })),
    rule,
  );
  const connections = scaled.connections.map((connection, index) => {
    const rate = belts[index] ?? null;
    if (rate === null || connection.belt === null) return connection;
    return { ...connection, belt: { ...connection.belt, ratePerMin: whole(rate * faster) } };
  });
  const initialLevels: InitialLevel[] = stocks.map((quarters, k) => ({
    machine: `machine-${k + 1}`,
    item: "pouch",
    level: whole((rooms[k] ?? 1) * quarters).div(4n),
  }));
  const network: Network = { ...scaled, connections };
  return { network, initialLevels };
}

function solve(given: RandomChain, faster = 1): FlowSolution {
  const { network, initialLevels } = build(given, faster);
  return solved(solveFlow(network, { initialLevels }));
}

const stock = (solution: FlowSolution, phase: number): Rational =>
  sum(
    solution.phases[phase]?.detail().machines.flatMap(({ infeed }) => infeed.map((buffer) => buffer.levelAtStart)) ??
      [],
  );

test("lost output = rise of stock − ∫ (accepted feed − need) dt", () => {
  let compared = 0;
  fc.assert(
    fc.property(randomChain, (given) => {
      const solution = solve(given);
      let surplus = ZERO;
      for (const [index, phase] of solution.phases.entries()) {
        const end = solution.phases[index + 1]?.fromMin;
        if (end === undefined) break;
        const accepted = phase.detail().feeds.get("feed") ?? ZERO;
        surplus = surplus.add(accepted.sub(solution.fullPerMin).mul(end.sub(phase.fromMin)));
        const lost = solution.fullPerMin.mul(end).sub(outputUpTo(solution, end));
        const rise = stock(solution, index + 1).sub(stock(solution, 0));
        expect(lost.toFraction()).toBe(rise.sub(surplus).toFraction());
        compared++;
      }
    }),
    { numRuns: 60 },
  );
  expect(compared).toBeGreaterThan(150);
});

test("in every phase flows are conserved, belts keep their limits, levels their bounds", () => {
  fc.assert(
    fc.property(randomChain, (given) => {
      const { network } = build(given);
      const solution = solve(given);
      for (const phase of solution.phases) {
        const { connections, machines, feeds } = phase.detail();
        const flow = (side: "from" | "to", id: string) =>
          sum(network.connections.filter((one) => one[side] === id).map((one) => connections.get(one.id) ?? ZERO));
        for (const { id } of network.dividers) expect(flow("to", id).equals(flow("from", id))).toBe(true);
        expect(flow("from", "feed").equals(feeds.get("feed") ?? ZERO)).toBe(true);
        for (const { id, belt } of network.connections) {
          if (belt !== null) expect((connections.get(id) ?? ZERO).compare(belt.ratePerMin)).toBeLessThanOrEqual(0);
        }
        for (const [k, { id, infeed, running }] of machines.entries()) {
          expect(running.compare(0n) >= 0 && running.compare(1n) <= 0).toBe(true);
          const buffer = infeed[0];
          if (buffer === undefined) throw new Error("every machine of these chains has one buffer");
          expect(buffer.inflowPerMin.equals(flow("to", id))).toBe(true);
          expect(buffer.inflowPerMin.sub(running.mul(whole(given.needs[k] ?? 1))).equals(buffer.netPerMin)).toBe(true);
          expect(buffer.levelAtStart.compare(0n) >= 0).toBe(true);
          expect(buffer.levelAtStart.compare(buffer.capacity) <= 0).toBe(true);
          if (buffer.levelAtStart.equals(buffer.capacity)) expect(buffer.netPerMin.compare(0n)).toBeLessThanOrEqual(0);
          if (buffer.levelAtStart.equals(0n)) expect(buffer.netPerMin.compare(0n)).toBeGreaterThanOrEqual(0);
          else expect(running.equals(1n)).toBe(true);
        }
      }
      expect(solution.phases.at(-1)?.moving).toEqual([]);
    }),
    { numRuns: 60 },
  );
});

test("all rates × 7: the same solution, seven times as fast", () => {
  fc.assert(
    fc.property(randomChain, (given) => {
      const slow = solve(given);
      const fast = solve(given, 7);
      const told = ({ phases }: FlowSolution, times: bigint, rates: bigint) =>
        phases.map(({ fromMin, outputPerMin, events }) => [
          fromMin.mul(times).toFraction(),
          outputPerMin.mul(rates).toFraction(),
          events.filter(({ what }) => what !== "feed"),
        ]);
      expect(told(fast, 7n, 1n)).toEqual(told(slow, 1n, 7n));
      expect(fast.rampUpLoss.equals(slow.rampUpLoss)).toBe(true);
    }),
    { numRuns: 50 },
  );
});

test("other names and another order of the machines change nothing but names", () => {
  fc.assert(
    fc.property(randomChain, (given) => {
      const { network, initialLevels } = build(given);
      const rename = (id: string) => (id.startsWith("machine-") ? `z${99 - Number(id.slice(8))}` : id);
      const renamed = solved(
        solveFlow(
          {
            ...network,
            machines: network.machines.map((one) => ({ ...one, id: rename(one.id) })).toReversed(),
            connections: network.connections.map((one) => ({ ...one, to: rename(one.to) })),
          },
          { initialLevels: initialLevels.map((one) => ({ ...one, machine: rename(one.machine) })) },
        ),
      );
      const plain = solve(given);
      const told = ({ phases }: FlowSolution, name: (id: string) => string) =>
        phases.map((phase) => ({
          from: phase.fromMin.toFraction(),
          output: phase.outputPerMin.toFraction(),
          events: phase.events
            .map((event) => `${event.what} ${event.what === "feed" ? "" : name(event.machine)}`)
            .sort(),
        }));
      expect(told(renamed, (id) => id)).toEqual(told(plain, rename));
    }),
    { numRuns: 50 },
  );
});

test("what each machine has made agrees with stepping through time", () => {
  fc.assert(
    fc.property(randomChain, (given) => {
      const { network, initialLevels } = build(given);
      const exact = madeByMachine(solved(solveFlow(network, { initialLevels })), rational("12"));
      const stepped = step(given, 12, 1 / 512);
      for (const [k, made] of stepped.entries()) {
        const expected = approximate(exact.get(`machine-${k + 1}`) ?? ZERO);
        expect(Math.abs(made - expected)).toBeLessThan(0.02 * (given.needs[k] ?? 1) + 0.5);
      }
    }),
    { numRuns: 40 },
  );
});

/**
 * The second method: small steps in floating-point numbers, buffers asking for their free room, and each divider
 * handing over by turns. Only for chains. Returns products made by each machine.
 */
function step({ needs, rooms, stocks, feed, belts, rule }: RandomChain, untilMin: number, dt: number): number[] {
  const count = needs.length;
  const levels = rooms.map((room, k) => (room * (stocks[k] ?? 0)) / 4);
  const made = needs.map(() => 0);
  // The connections in order: through-1, then branch-k and through-(k + 1) for each divider.
  const beltOf = (index: number) => (belts[index] ?? 1e6) * dt;
  for (let now = 0; now < untilMin - dt / 2; now += dt) {
    const asks = needs.map((need, k) => (rooms[k] ?? 0) - (levels[k] ?? 0) + need * dt);
    const branch = (k: number) => Math.min(asks[k] ?? 0, beltOf(2 * k + 1));
    // through[k]: what the line from divider k on can take.
    const through: number[] = new Array(count);
    through[count - 1] = Math.min(asks[count - 1] ?? 0, beltOf(2 * count - 2));
    for (let k = count - 2; k >= 0; k--) through[k] = Math.min(branch(k) + (through[k + 1] ?? 0), beltOf(2 * k));
    const offered = (feed.findLast(({ fromMin }) => fromMin <= now + dt / 2)?.ratePerMin ?? 0) * dt;
    let left = Math.min(offered, through[0] ?? 0);
    for (let k = 0; k < count; k++) {
      const beyond = through[k + 1] ?? 0;
      const fair = Math.min(branch(k), Math.max(left / 2, left - beyond));
      const taken = k === count - 1 ? left : rule === "even" ? fair : Math.min(branch(k), left);
      left -= taken;
      const inHand = (levels[k] ?? 0) + taken;
      const used = Math.min(inHand, (needs[k] ?? 0) * dt);
      levels[k] = inHand - used;
      made[k] = (made[k] ?? 0) + used;
    }
  }
  return made;
}
