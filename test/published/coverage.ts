/**
 * How often 95 % intervals hold what is known of a line: two Bernoulli machines of 0.9 with a buffer of five, many times over,
 * each time with other seeds. By replications, as `run --replications` has them, the warm-up cut off each; and by batch means
 * of one long run.
 */
import { batchMeansInterval } from "../../src/analysis/statistics/batch-means.ts";
import { meanInterval } from "../../src/analysis/statistics/interval.ts";
import { mean } from "../../src/analysis/statistics/moments.ts";
import { bernoulliLine } from "../reference/bernoulli-line.ts";
import { bernoulliPair } from "../reference/bernoulli-pair.ts";
import { type PairGiven, pairFile } from "./bernoulli.ts";
import { machineOf, type Plant, plantOf, runOf } from "./plant.ts";

export interface Coverage {
  readonly what: string;
  readonly held: number;
  readonly of: number;
  /** Where no interval was given, since the run was too short. */
  readonly none: number;
}

const LEVEL = 0.95;
const PAIR: PairGiven = { p1: 0.9, p2: 0.9, room: 5 };
const REPLICATIONS = 10;
const SLOTS = 1000;
/** The second eigenvalue is 0.967: a start is forgotten to a thousandth. */
const WARM_UP = 200;
const LONG_RUN = 20_000;

export function replicationsCoverage(times: number, seed = "coverage"): Coverage {
  const plant = plantOf(pairFile(PAIR, WARM_UP + SLOTS));
  const known = bernoulliPair(PAIR.p1, PAIR.p2, PAIR.room).rate;
  let held = 0;
  for (let i = 0; i < times; i++) {
    const rates = Array.from({ length: REPLICATIONS }, (_, r) => mean(madeAfterWarmUp(plant, `${seed}/${i}/${r}`)));
    if (holds(meanInterval(rates, LEVEL), known)) held += 1;
  }
  return { what: `mean of ${REPLICATIONS} replications of ${SLOTS} slots`, held, of: times, none: 0 };
}

export function batchMeansCoverage(times: number, seed = "coverage"): Coverage {
  const plant = plantOf(pairFile(PAIR, WARM_UP + LONG_RUN));
  const known = bernoulliPair(PAIR.p1, PAIR.p2, PAIR.room).rate;
  let held = 0;
  let none = 0;
  for (let i = 0; i < times; i++) {
    const found = batchMeansInterval(madeAfterWarmUp(plant, `${seed}/long/${i}`), LEVEL);
    if (!found.enough) none += 1;
    else if (holds(found.interval, known)) held += 1;
  }
  return { what: `batch means of one run of ${LONG_RUN} slots`, held, of: times - none, none };
}

/** Slot by slot. */
function madeAfterWarmUp(plant: Plant, seed: string): Float64Array {
  const { completions } = runOf(plant, seed);
  const last = machineOf(plant, "last");
  const made = new Float64Array(plant.horizonTicks - WARM_UP);
  for (let c = 0; c < completions.count; c++) {
    const slot = (completions.tick[c] ?? 0) - WARM_UP - 1;
    if (completions.machine[c] === last && slot >= 0) made[slot] = (made[slot] ?? 0) + 1;
  }
  return made;
}

function holds({ low, high }: { readonly low: number | null; readonly high: number | null }, known: number): boolean {
  return low !== null && high !== null && low <= known && known <= high;
}

/** What the warm-up leaves, as a share of the rate: far below any interval's width. */
export function warmUpBias(): number {
  const line = bernoulliLine({ p: [PAIR.p1, PAIR.p2], rooms: [PAIR.room] });
  const { rate } = line.transient(WARM_UP + SLOTS, "empty");
  return rate.slice(WARM_UP).reduce((sum, one) => sum + one, 0) / SLOTS / line.rate - 1;
}
