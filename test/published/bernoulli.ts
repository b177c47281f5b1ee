/**
 * Two Bernoulli machines with a buffer of N (J. Li, S. M. Meerkov, Production Systems Engineering, Springer 2009, chapter 4;
 * formulas from memory), written as a scenario.
 *
 * The book: in each slot machine i is up with probability p[i], by itself; an up machine makes an item if its upstream buffer
 * held one at the slot's start and its downstream buffer has room once the machine after it has taken its own.
 *
 * In the file: a tick, a slot and both machines' cycles are one second. A machine that is up and down in turn, for geometric
 * numbers of slots with means 1/(1 − p) and 1/p, counted by the clock, is up in each slot with probability p, by itself. The
 * items go from hand to hand (`belt: none`): in its turn the first machine ends a cycle, hands the product over, and starts
 * the next, which its feed always lets it; the last machine had its turn before and has taken its own. So the first makes an
 * item in each up slot in which the buffer has room, the last takes one in each up slot in which it held one, and
 * N = outfeed of the first + infeed of the last, hence at least 2. What the last has taken is not in the buffer and leaves
 * when its cycle ends, in its next up slot: the rate is the same, and what it takes is what the book counts.
 *
 * All machines start up, so slot 1 is not left to chance: nothing can be made in it, and the last machine takes one item if
 * there is one. Slot s + 1 is the book's slot s, from the level that this leaves.
 */

import { BLOCKED, STARVED, STATE_COUNT } from "../../src/engine/states.ts";
import { bernoulliPair } from "../reference/bernoulli-pair.ts";
import { afterWarmUp, bufferOf, machineOf, type Plant, plantOf } from "./plant.ts";
import type { Study } from "./study.ts";

const SLOTS = 100_000;
const WARM_UP = 1000;

export interface PairGiven {
  readonly p1: number;
  readonly p2: number;
  readonly room: number;
}

/** @param more further lines of the file */
export function pairFile({ p1, p2, room }: PairGiven, slots: number, more = ""): string {
  return `
title: Two Bernoulli machines with a buffer of ${room}
horizon: ${slots} s
tick: 1 s
feeds:
  blanks: { item: blank, rate: 60/min }
machines:
  first: { cycle: 1 s, takes: { blank: 1 }, makes: { part: 1 }, infeed: 2, outfeed: 1 }
  last:  { cycle: 1 s, takes: { part: 1 }, makes: { piece: 1 }, infeed: ${room - 1}, outfeed: 1 }
lines:
  supply:  { layout: chain, from: blanks, to: first, belt: none }
  between: { layout: chain, from: first, to: last, belt: none }
random:
  machines:
    first: ${bernoulli(p1)}
    last:  ${bernoulli(p2)}
${more}`;
}

/** Up in each slot of a second with probability p, by itself. */
export function bernoulli(p: number): string {
  const geometric = (chance: number): string => `{ geometric: ${inSeconds(chance)}, step: 1 s }`;
  return `{ breakdowns: { between: ${geometric(1 - p)}, counted: clock, repair: ${geometric(p)} } }`;
}

/** 1/chance seconds, exactly, for chances of at most four decimals. */
function inSeconds(chance: number): string {
  return `10000/${Math.round(10_000 * chance)} s`;
}

/** Items between the machines at the ends of slots, added over slots. */
export function levelTicks(plant: Plant, added: (buffer: number) => number): number {
  return added(bufferOf(plant, "first", "part")) + added(bufferOf(plant, "last", "part"));
}

/** The issue's four, then those of chapter 4's formulas with a buffer of two or more. */
const PAIRS: readonly PairGiven[] = [
  { p1: 0.9, p2: 0.9, room: 2 },
  { p1: 0.8, p2: 0.9, room: 3 },
  { p1: 0.9, p2: 0.7, room: 5 },
  { p1: 0.95, p2: 0.95, room: 10 },
  { p1: 0.9, p2: 0.9, room: 5 },
  { p1: 0.8, p2: 0.8, room: 4 },
  { p1: 0.5, p2: 0.6, room: 2 },
  { p1: 0.9, p2: 0.7, room: 3 },
  { p1: 0.95, p2: 0.95, room: 5 },
];

const SOURCE =
  "J. Li, S. M. Meerkov, Production Systems Engineering, Springer 2009, chapter 4 (from memory); the same from a Markov chain";
/** Of the full width of the 99 % interval of a rate. */
const NARROW = 0.002;

export function pairStudies(): Study[] {
  return PAIRS.map((given) => {
    const { p1, p2, room } = given;
    const { rate, buffer, starved, blocked } = bernoulliPair(p1, p2, room);
    const plant = plantOf(pairFile(given, SLOTS));
    const first = machineOf(plant, "first");
    const last = machineOf(plant, "last");
    return {
      name: `two Bernoulli machines ${p1}, ${p2}, N ${room}`,
      source: SOURCE,
      known: [
        { figure: "items a slot", value: rate, width: NARROW },
        { figure: "mean buffer", value: buffer },
        { figure: "first up and blocked", value: blocked },
        { figure: "last up and starved", value: starved },
      ],
      replications: 60,
      fewer: 6,
      replicate: (seed) => {
        const { ticks, added } = afterWarmUp(plant, seed, WARM_UP);
        return [
          added(({ cycles }) => cycles[last]) / ticks,
          levelTicks(plant, (at) => added(({ bufferTicks }) => bufferTicks[at])) / ticks,
          added(({ stateTicks }) => stateTicks[first * STATE_COUNT + BLOCKED]) / ticks,
          added(({ stateTicks }) => stateTicks[last * STATE_COUNT + STARVED]) / ticks,
        ];
      },
    };
  });
}
