/**
 * Transients of two Bernoulli machines: expected output and level slot by slot, exactly from the chain's transition matrix
 * (test/reference/bernoulli-line.ts), and what is lost in the first 100 slots against running at the long-run rate from the
 * start (S. M. Meerkov, L. Zhang, "Transient behavior of serial production lines with Bernoulli machines", IIE Transactions
 * 40(3), 2008: an empty start loses most; from memory).
 *
 * Empty and half-full starts are written as a prefill. Slot 1 is not left to chance (bernoulli.ts), and the last machine takes
 * one item in it: for half of N, half of N and one are placed. Outfeeds can't be filled by hand, so for a full start the last
 * machine is held off until both buffers are full for sure; time counts from then.
 */
import { whole } from "../../src/quantity/rational.ts";
import { bernoulliLine, type Start, startLevels } from "../reference/bernoulli-line.ts";
import { type PairGiven, pairFile } from "./bernoulli.ts";
import { bufferOf, machineOf, type Plant, plantOf, runOf } from "./plant.ts";
import type { Known, Study } from "./study.ts";

export const SLOTS = 100;
/** Slots of output, one by one, that are compared. */
const CHECKED = [1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 50, 100];
const STARTS = ["empty", "half-full", "full"] as const;
const GIVEN: readonly PairGiven[] = [
  { p1: 0.9, p2: 0.9, room: 5 },
  { p1: 0.9, p2: 0.9, room: 10 },
  { p1: 0.8, p2: 0.8, room: 5 },
  { p1: 0.6, p2: 0.6, room: 10 },
];
/** The first machine needs one slot for each item and one for its first; at 0.6 ten are in by then but for 1e-29. */
const HELD_SLOTS = 100;

const SOURCE =
  "Transition matrix of that chain; that an empty start loses most: S. M. Meerkov, L. Zhang, IIE Transactions 40(3), 2008 (from memory)";

export function transientStudies(): Study[] {
  return GIVEN.flatMap((given) => {
    const line = bernoulliLine({ p: [given.p1, given.p2], rooms: [given.room] });
    return STARTS.map((start): Study => {
      const { rate, buffers } = line.transient(SLOTS, start);
      const loss = 100 - rate.reduce((sum, one) => sum + one, 0) / line.rate;
      const started = startedPlant(given, start);
      return {
        name: `from ${start}: ${given.p1}, ${given.p2}, N ${given.room}`,
        source: SOURCE,
        known: [
          { figure: "loss in 100 slots, %", value: loss },
          ...CHECKED.map((slot) => atSlot("output", slot, rate[slot - 1])),
          ...CHECKED.map((slot) => atSlot("level", slot, buffers[slot - 1]?.[0])),
        ],
        replications: 10_000,
        fewer: 1500,
        replicate: (seed) => {
          const { taken, level } = slotBySlot(started, seed);
          const all = taken.reduce((sum, one) => sum + one, 0);
          return [
            100 - all / line.rate,
            ...CHECKED.map((slot) => taken[slot - 1] ?? Number.NaN),
            ...CHECKED.map((slot) => level[slot - 1] ?? Number.NaN),
          ];
        },
      };
    });
  });
}

function atSlot(curve: string, slot: number, value = Number.NaN): Known {
  return { figure: `${curve} in slot ${slot}`, value, curve };
}

interface Started {
  readonly plant: Plant;
  /** The tick before the first slot that counts. */
  readonly before: number;
}

function startedPlant(given: PairGiven, start: Exclude<Start, readonly number[]>): Started {
  const [level = 0] = startLevels(start, [given.room]);
  if (start !== "full") {
    const stock = level === 0 ? "{ first: full }" : `{ first: full, last: ${level + 1} }`;
    const file = pairFile(given, 1 + SLOTS, `tactics: { start: { prefill: ${stock} } }`);
    return { plant: plantOf(file), before: 1 };
  }
  const file = pairFile(given, HELD_SLOTS + SLOTS, "tactics: { start: { prefill: { first: full } } }");
  const seconds = (slots: number) => whole(slots).div(60n);
  const plant = plantOf(file, {
    interventions: [
      { whenFull: null, afterMin: seconds(0), actions: [{ do: "hold", machines: ["last"] }] },
      { whenFull: null, afterMin: seconds(HELD_SLOTS), actions: [{ do: "release", machines: ["last"] }] },
    ],
  });
  return { plant, before: HELD_SLOTS };
}

/** What the last machine took in each slot, and the level after it, from the level's changes and what the first made. */
export function slotBySlot({ plant, before }: Started, seed: string): { taken: number[]; level: number[] } {
  const { samples, completions } = runOf(plant, seed);
  const buffers = plant.program.buffer.count;
  const places = [bufferOf(plant, "first", "part"), bufferOf(plant, "last", "part")];
  const first = machineOf(plant, "first");
  const made = new Set<number>();
  for (let i = 0; i < completions.count; i++) {
    if (completions.machine[i] === first) made.add(completions.tick[i] ?? 0);
  }
  if (samples.everyTicks !== 1) throw new Error("the run is too long to be sampled slot by slot");
  const levelAt = (tick: number): number =>
    places.reduce((sum, place) => sum + (samples.level[(tick - 1) * buffers + place] ?? Number.NaN), 0);
  const ticks = Array.from({ length: SLOTS }, (_, s) => before + 1 + s);
  return {
    taken: ticks.map((tick) => levelAt(tick - 1) + (made.has(tick) ? 1 : 0) - levelAt(tick)),
    level: ticks.map(levelAt),
  };
}
