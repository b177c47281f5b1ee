/**
 * What is fed is somewhere, assembled or not: nothing is lost or made up across machines either.
 *
 * A bill of materials says how much of a raw kind one item of each kind holds: a raw item one of itself; where a cycle
 * makes several kinds, all that it took is in the first of them, shared evenly, and none in the others, which is as good a
 * convention as any that gives out just what was taken. The bill is made from the recipes alone.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { onBelt } from "../../src/engine/belt-items.ts";
import { simulate } from "../../src/engine/simulate.ts";
import type { State } from "../../src/engine/state.ts";
import type { Totals } from "../../src/engine/totals.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { type Rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { stateAt } from "../analysis/runs.ts";
import { cases } from "./cases.ts";
import { amongOthers } from "./collecting-lines.ts";
import { networkOf, randomPlants } from "./random-plants.ts";
import { randomTimings, timed } from "./random-tactics.ts";

type Bill = ReadonlyMap<string, Rational>;

/** Kinds that no machine makes. */
function rawKindsOf({ feeds }: Network): string[] {
  return [...new Set(feeds.flatMap(({ items }) => items.map(({ item }) => item)))];
}

/** How much of a raw kind is in one item of each kind. */
function billOf(raw: string, { machines }: Network): Bill {
  const bill = new Map([[raw, whole(1)]]);
  for (const { takes, makes } of machines) {
    const [first] = makes;
    const content = contentOf(Object.fromEntries(takes.map(({ item, count }) => [item, count])), bill);
    if (first !== undefined) bill.set(first.item, content.div(whole(first.count)));
  }
  return bill;
}

function contentOf(counts: Readonly<Record<string, number>>, bill: Bill): Rational {
  return sum(Object.entries(counts).map(([kind, count]) => (bill.get(kind) ?? ZERO).mul(whole(count))));
}

/** Items by kind, counted on the belts and in the buffers one by one. */
function lyingIn(program: Program, state: State): Record<string, number> {
  const { network, belt, buffer } = program;
  const counts: Record<string, number> = {};
  const add = (item: number, count: number): void => {
    const kind = network.items[item] ?? "";
    counts[kind] = (counts[kind] ?? 0) + count;
  };
  for (let b = 0; b < belt.count; b++) onBelt(program, state, b, (item) => add(item, 1));
  for (const [b, count] of state.bufferCount.entries()) add(buffer.item[b] ?? -1, count);
  return counts;
}

/** What cycles under way have taken. */
function takenIn({ machines }: Network, { machineBusy }: State): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const [m, { takes }] of machines.entries()) {
    if (machineBusy[m] === 0) continue;
    for (const { item, count } of takes) counts[item] = (counts[item] ?? 0) + count;
  }
  return counts;
}

function byKind({ items }: Network, totals: Float64Array): Record<string, number> {
  return Object.fromEntries(items.map((kind, index) => [kind, totals[index] ?? 0]));
}

/** Items fed by kind: by the count of kinds, which the counts of feeds bear out. */
function fedIn(network: Network, { fed, fedItems }: Totals): Record<string, number> {
  const inAll = (counts: Float64Array): number => counts.reduce((total, count) => total + count, 0);
  expect(inAll(fedItems)).toBe(inAll(fed));
  return byKind(network, fedItems);
}

const MINUTES = [2, 10, 45];
const anyNetworks = amongOthers(randomPlants({ shared: true, mixed: true }).map(networkOf));
const someNetworks = amongOthers(randomPlants({ shared: true, mixed: true, mostGroups: 3 }).map(networkOf));

test("raw items fed = those lying about, bound in products and in cycles under way, or gone; at any time", () => {
  fc.assert(
    fc.property(anyNetworks, randomTimings, fc.constantFrom(...MINUTES), (plain, timings, minutes) => {
      const built = timed(plain, timings);
      const tickS = autoTickS(built);
      const program = compile(built, tickS);
      const horizonTicks = ticksWithin(whole(minutes), tickS);
      const { totals } = simulate(program, { horizonTicks, check: true });
      // The run leaps over whole periods; what lies about is counted after every tick was done.
      const state = stateAt(program, horizonTicks);
      const fed = fedIn(built, totals);
      for (const raw of rawKindsOf(built)) {
        const bill = billOf(raw, built);
        const accounted = [lyingIn(program, state), takenIn(built, state), byKind(built, totals.left)];
        const found = sum(accounted.map((counts) => contentOf(counts, bill)));
        expect(found.toFraction()).toBe(String(fed[raw]));
      }
    }),
    { numRuns: cases(20) },
  );
});

test("in a period that repeats, what leaves holds just what is fed", () => {
  let repeating = 0;
  const count = cases(30);
  fc.assert(
    fc.property(someNetworks, (built) => {
      const tickS = autoTickS(built);
      const { recurrence } = simulate(compile(built, tickS), { horizonTicks: ticksWithin(whole(60), tickS) });
      if (recurrence === null) return;
      repeating++;
      const fed = fedIn(built, recurrence.period);
      for (const raw of rawKindsOf(built)) {
        const gone = contentOf(byKind(built, recurrence.period.left), billOf(raw, built));
        expect(gone.toFraction()).toBe(String(fed[raw]));
      }
    }),
    { numRuns: count },
  );
  expect(repeating).toBeGreaterThan(0.8 * count);
});

test("Little's law, kind by kind, over a settled period: items × ticks = ticks between feed or make and take", () => {
  // J. D. C. Little, Operations Research 9(3), 1961. For kinds that only machines take, and of which none stands still.
  let applied = 0;
  const count = cases(60);
  fc.assert(
    fc.property(amongOthers(randomPlants({ mixed: true, mostGroups: 3 }).map(networkOf)), (built) => {
      const tickS = autoTickS(built);
      const { settledPeriod } = simulate(compile(built, tickS), { horizonTicks: ticksWithin(whole(60), tickS) });
      if (settledPeriod === null) return;
      const { taken, holdUpTicks, dwellTicks, cycles, passed } = settledPeriod.totals;
      const moves = (kind: string): boolean =>
        built.machines.every(({ takes }, m) => !takes.some(({ item }) => item === kind) || (cycles[m] ?? 0) > 0) &&
        built.connections.every(({ only }, c) => !only?.includes(kind) || (passed[c] ?? 0) > 0);
      for (const [index, kind] of built.items.entries()) {
        if ((taken[index] ?? 0) === 0 || !moves(kind)) continue;
        applied++;
        expect(dwellTicks[index]).toBe(holdUpTicks[index]);
      }
    }),
    { numRuns: count },
  );
  // About one in two plants has such a kind; the draw decides.
  expect(applied).toBeGreaterThan(0.15 * count);
});
