/**
 * Two unreliable machines with a buffer.
 *
 * Geometric times, cycles of a slot (S. B. Gershwin, Manufacturing Systems Engineering, Prentice Hall 1994, chapter 3; from
 * memory). A machine that works in a slot fails with p in it, one that is down is repaired with r; the level, from 0 to N,
 * counts what the second machine works on, a machine is starved at 0 or blocked at N, can't fail then, and which it is, is
 * judged by the level before the slot. In the file: a cycle of one second and many ticks, breakdowns counted in running time,
 * geometric in steps of a second, so that a machine fails at the end of a cycle or not at all, and no direct hand-over takes
 * longer than a tick. An item that the first machine has ended and has no room for is the Nth: it keeps the machine from
 * working, and so from failing, as the full buffer does in the book. So N = outfeed + infeed + 2, one in each machine.
 * What ticks add: an idle machine starts a tick after its item has come, and of two cycles that should end at once one may
 * end a tick after the other. Both cost parts of a slot in proportion to the tick, so rates at two ticks give the limit.
 *
 * Exponential times and a flow (J. Li, S. M. Meerkov, Production Systems Engineering, chapter 11; from memory): failing goes on
 * in clock time. In the file: cycles of one tick, many to an up time, and a buffer of as many items as the flow's holds; items
 * so small that the flow is their limit, from two sizes again.
 */
import { type FlowPairGiven, flowPair, type GeometricPairGiven, geometricPair } from "../reference/unreliable-pair.ts";
import { inTheLimit } from "./limit.ts";
import { afterWarmUp, machineOf, type Plant, plantOf } from "./plant.ts";
import type { Study } from "./study.ts";

const GEOMETRIC: readonly GeometricPairGiven[] = [
  { r1: 0.1, p1: 0.01, r2: 0.1, p2: 0.01, room: 4 },
  { r1: 0.1, p1: 0.01, r2: 0.1, p2: 0.01, room: 10 },
  { r1: 0.1, p1: 0.01, r2: 0.1, p2: 0.01, room: 20 },
  { r1: 0.1, p1: 0.01, r2: 0.2, p2: 0.01, room: 10 },
  { r1: 0.2, p1: 0.05, r2: 0.15, p2: 0.03, room: 8 },
];

export function geometricFile(given: GeometricPairGiven, slots: number, ticksPerSlot: number): string {
  const stops = (p: number, r: number): string =>
    `{ breakdowns: { between: { geometric: 1/${p} s, step: 1 s }, repair: { geometric: 1/${r} s, step: 1 s } } }`.replaceAll(
      /1\/(0\.\d+) s/g,
      (_, chance: string) => `1000/${Math.round(1000 * Number(chance))} s`,
    );
  return `
title: Two machines with geometric up and down times
horizon: ${slots} s
tick: 1/${ticksPerSlot} s
feeds: { blanks: { item: blank, rate: 120/min } }
machines:
  first: { cycle: 1 s, takes: { blank: 1 }, makes: { part: 1 }, infeed: 2, outfeed: 1 }
  last:  { cycle: 1 s, takes: { part: 1 }, makes: { piece: 1 }, infeed: ${given.room - 3}, outfeed: 1 }
lines:
  supply:  { layout: chain, from: blanks, to: first, belt: none }
  between: { layout: chain, from: first, to: last, belt: none }
random:
  machines:
    first: ${stops(given.p1, given.r1)}
    last:  ${stops(given.p2, given.r2)}
`;
}

const SLOTS = 100_000;
const WARM_UP_SLOTS = 2000;
const FINE = 20;

export function geometricStudies(): Study[] {
  return GEOMETRIC.map((given) => {
    const { r1, p1, r2, p2, room } = given;
    const ticks = [FINE, 2 * FINE] as const;
    const plants = [
      plantOf(geometricFile(given, SLOTS, ticks[0])),
      plantOf(geometricFile(given, SLOTS, ticks[1])),
    ] as const;
    return {
      name: `geometric r ${r1}, ${r2}, p ${p1}, ${p2}, N ${room}`,
      source:
        "S. B. Gershwin, Manufacturing Systems Engineering, Prentice Hall 1994, chapter 3 (from memory); the same from a Markov chain",
      ...inTheLimit([{ figure: "items a slot", value: geometricPair(given).rate }], ticks, (length, seed) => [
        rateIn(plants[length], ticks[length], seed, WARM_UP_SLOTS),
      ]),
      replications: 40,
      fewer: 6,
    };
  });
}

const FLOWS: readonly FlowPairGiven[] = [
  { lambda1: 0.1, mu1: 0.9, lambda2: 0.1, mu2: 0.9, room: 1 },
  { lambda1: 0.05, mu1: 0.45, lambda2: 0.05, mu2: 0.45, room: 10 },
  { lambda1: 0.1, mu1: 0.5, lambda2: 0.2, mu2: 0.8, room: 3 },
];

/** A unit of time is a second, in which a machine makes so many items. */
export function flowFile({ lambda1, mu1, lambda2, mu2, room }: FlowPairGiven, seconds: number, items: number): string {
  const mean = (rate: number): string => `{ exponential: 100/${Math.round(100 * rate)} s }`;
  const stops = (lambda: number, mu: number): string =>
    `{ breakdowns: { between: ${mean(lambda)}, counted: clock, repair: ${mean(mu)} } }`;
  return `
title: Two machines with exponential up and down times
horizon: ${seconds} s
tick: 1/${items} s
feeds: { blanks: { item: blank, rate: ${60 * items}/min } }
machines:
  first: { cycle: 1/${items} s, takes: { blank: 1 }, makes: { part: 1 }, infeed: 2, outfeed: 1 }
  last:  { cycle: 1/${items} s, takes: { part: 1 }, makes: { piece: 1 }, infeed: ${room * items - 1}, outfeed: 1 }
lines:
  supply:  { layout: chain, from: blanks, to: first, belt: none }
  between: { layout: chain, from: first, to: last, belt: none }
random:
  machines:
    first: ${stops(lambda1, mu1)}
    last:  ${stops(lambda2, mu2)}
`;
}

const SECONDS = 20_000;
const WARM_UP_SECONDS = 1000;

export function flowStudies(): Study[] {
  return FLOWS.map((given) => {
    const { lambda1, mu1, lambda2, mu2, room } = given;
    const few = room < 5 ? 20 : 5;
    const items = [few, 2 * few] as const;
    const plants = [plantOf(flowFile(given, SECONDS, items[0])), plantOf(flowFile(given, SECONDS, items[1]))] as const;
    return {
      name: `flow λ ${lambda1}, ${lambda2}, μ ${mu1}, ${mu2}, N ${room}`,
      source: "Li and Meerkov, chapter 11 (from memory); the limit of a Markov chain",
      ...inTheLimit([{ figure: "made a unit of time", value: flowPair(given) }], items, (length, seed) => [
        rateIn(plants[length], items[length], seed, WARM_UP_SECONDS) / items[length],
      ]),
      replications: 40,
      fewer: 6,
    };
  });
}

/** Items in the long run, to a second. */
function rateIn(plant: Plant, ticksPerS: number, seed: string, warmUpS: number): number {
  const last = machineOf(plant, "last");
  const run = afterWarmUp(plant, seed, warmUpS * ticksPerS);
  return (run.added(({ cycles }) => cycles[last]) / run.ticks) * ticksPerS;
}
