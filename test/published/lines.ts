/**
 * Lines of three and more Bernoulli machines, written as two are (bernoulli.ts).
 *
 * A machine between two others holds the item that it works on: it takes it in one up slot and makes it in a later one. The
 * book's takes and makes in the same slot, and holds nothing. Held to its own exact chain (test/reference/holding-line.ts),
 * the line must be right as two machines are. The book's rate for the same rooms is another one, though the item too many in
 * the machine and the slot too many after idling nearly make up for one another: by the two chains the line here makes up to
 * 0.8 % more (N = 2, unlike machines), 0.0015 % from N = 5. For lines too long for a chain there is the book's aggregation, whose
 * error is about 1 % in usual cases (Li and Meerkov 2009, chapter 4; from memory); test/reference measures up to 2.2 % where
 * rooms are two, and 2 % are allowed for here.
 */
import { bernoulliLine } from "../reference/bernoulli-line.ts";
import { aggregated } from "../reference/bernoulli-pair.ts";
import { holdingLine } from "../reference/holding-line.ts";
import { bernoulli } from "./bernoulli.ts";
import { afterWarmUp, machineOf, plantOf } from "./plant.ts";
import type { Known, Study } from "./study.ts";

const SLOTS = 100_000;
const WARM_UP = 2000;

interface LineGiven {
  readonly p: readonly number[];
  readonly rooms: readonly number[];
}

/** Machines m1, m2, … make part-1, part-2, …; room n is an outfeed of one and an infeed of n − 1. */
export function lineFile({ p, rooms }: LineGiven, slots: number): string {
  const each = <T>(line: (machine: number, p: number) => T): T[] => p.map((one, m) => line(m + 1, one));
  const infeed = (machine: number): number => (machine === 1 ? 2 : (rooms[machine - 2] ?? 2) - 1);
  return `
title: ${p.length} Bernoulli machines
horizon: ${slots} s
tick: 1 s
feeds: { blanks: { item: part-0, rate: 60/min } }
machines:
${each((m) => `  m${m}: { cycle: 1 s, takes: { part-${m - 1}: 1 }, makes: { part-${m}: 1 }, infeed: ${infeed(m)}, outfeed: 1 }`).join("\n")}
lines:
${each((m) => `  l${m}: { layout: chain, from: ${m === 1 ? "blanks" : `m${m - 1}`}, to: m${m}, belt: none }`).join("\n")}
random:
  machines:
${each((m, one) => `    m${m}: ${bernoulli(one)}`).join("\n")}
`;
}

const alike = (value: number, count: number): number[] => new Array<number>(count).fill(value);
const PUBLISHED = "Li and Meerkov, chapter 4: Markov chain of its convention";

const HOLDING = "Markov chain of machines that hold the item they work on (test/reference/holding-line.ts)";

export function lineStudies(): Study[] {
  return [
    { p: alike(0.9, 3), rooms: [2, 2], away: 0.001 },
    { p: alike(0.9, 3), rooms: [3, 3], away: 0.001 },
    { p: [0.8, 0.9, 0.85, 0.9], rooms: [2, 3, 2], away: 0.002 },
    { p: [0.7, 0.8, 0.9, 0.8, 0.7], rooms: alike(2, 4), away: 0.01 },
    { p: alike(0.9, 3), rooms: [5, 5], away: 0.0001 },
  ].map(({ away, ...given }) =>
    lineStudy(given, [
      { figure: "items a slot", value: holdingLine(given).rate, source: HOLDING, width: 0.002 },
      {
        figure: `book's rate, within ${100 * away} %`,
        value: bernoulliLine(given).rate,
        source: PUBLISHED,
        within: away,
      },
    ]),
  );
}

export function longLineStudies(): Study[] {
  return [
    { p: alike(0.9, 10), rooms: alike(5, 9) },
    { p: [0.9, 0.85, 0.95, 0.8, 0.9, 0.9, 0.85, 0.95, 0.9, 0.8, 0.9, 0.95], rooms: alike(4, 11) },
  ].map((given) =>
    lineStudy(given, [
      {
        figure: "items a slot, within 2 %",
        value: aggregated(given.p, given.rooms).rate,
        source: "Li and Meerkov, chapter 4: aggregation, an approximation (from memory)",
        within: 0.02,
      },
    ]),
  );
}

function lineStudy(given: LineGiven, known: readonly Known[]): Study {
  const plant = plantOf(lineFile(given, SLOTS));
  const last = machineOf(plant, `m${given.p.length}`);
  return {
    name: `Bernoulli line ${named(given.p)}, N ${named(given.rooms)}`,
    source: PUBLISHED,
    known,
    replications: 40,
    fewer: 6,
    replicate: (seed) => {
      const { ticks, added } = afterWarmUp(plant, seed, WARM_UP);
      const rate = added(({ cycles }) => cycles[last]) / ticks;
      return known.map(() => rate);
    },
  };
}

function named(values: readonly number[]): string {
  const [first] = values;
  return values.length > 2 && values.every((value) => value === first)
    ? `${values.length} × ${first}`
    : values.join(", ");
}
