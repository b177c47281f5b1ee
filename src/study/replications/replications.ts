/**
 * Replications of a scenario under chance: so many, or until the interval of a figure is narrow enough. They may be played
 * several at a time and come back in any order; they are taken in in theirs, and those beyond the one at which the rule
 * stops are dropped, so that the result does not depend on how many are played at a time.
 */
import type { Replications, Until } from "../../analysis/chance-results.ts";
import { lossMoney } from "../../analysis/money.ts";
import type { Result } from "../../analysis/result.ts";
import { type StoppingState, stoppingState, UNTIL_COVERAGE_PERCENT } from "../../analysis/statistics/stopping.ts";
import { stopsAreEnough } from "../../analysis/stops.ts";
import type { Network } from "../../network/network.ts";
import type { Costs } from "../../scenario/costs.ts";
import { type OutputBand, outputBand } from "./output-band.ts";
import type { Replication, ReplicationGrid } from "./replication.ts";
import { figuresOf, type Kept, type ReplicationFigures, replicationsOf, stopsOf } from "./replications-figures.ts";

export const MOST_REPLICATIONS = 10_000;
/** Where only a figure's interval is asked for, and it does not get narrow enough. */
export const USUAL_MOST = 1000;

/** Figures whose interval can be asked for, as in the result; of a machine, `uptime.` and its id. */
export const UNTIL_FIGURES = ["settled_output_per_min", "ramp_up_loss", "hold_up_settled", "made"] as const;
export type UntilFigure = (typeof UNTIL_FIGURES)[number] | { readonly uptimeOf: string };

export interface ReplicationsAsked {
  /** At most so many; all of them where `until` is `null`. */
  readonly most: number;
  readonly until: { readonly figure: UntilFigure; readonly share: number } | null;
  /** The file's. */
  readonly seed: string;
  /** In the order of the network, and their infeed buffers. */
  readonly machines: readonly string[];
  readonly buffers: readonly InfeedBuffer[];
}

export interface InfeedBuffer {
  readonly machine: string;
  readonly item: string;
  readonly capacity: number;
}

/** @param seed the file's */
export function askFor(
  { machines }: Pick<Network, "machines">,
  asked: Pick<ReplicationsAsked, "most" | "until" | "seed">,
): ReplicationsAsked {
  return {
    ...asked,
    machines: machines.map(({ id }) => id),
    buffers: machines.flatMap(({ id, infeed }) =>
      infeed.map(({ item, count }) => ({ machine: id, item, capacity: count })),
    ),
  };
}

/** Replications taken in so far, 1 to n without a gap. */
export interface Collected {
  readonly kept: readonly Kept[];
  /** Of the first; `null` before it. */
  readonly grid: ReplicationGrid | null;
  /** Added up over them: products up to each point, items in infeed buffers as in a replication. */
  readonly madeSum: Float64Array;
  readonly levelSum: Float64Array;
  /** Whether the rule was reached; without one, whether all are there. */
  readonly isEnough: boolean;
}

export const NONE_COLLECTED: Collected = {
  kept: [],
  grid: null,
  madeSum: new Float64Array(),
  levelSum: new Float64Array(),
  isEnough: false,
};

export interface PlayOptions {
  /** How many are played at a time. */
  readonly jobs: number;
  /** No more are begun after it; what has come by then counts. */
  readonly stop?: { readonly aborted: boolean };
  readonly onDone?: (collected: Collected) => void;
}

/** @throws whatever playing throws, unless it was told to stop before */
export async function playReplications(
  asked: ReplicationsAsked,
  play: (replication: number) => Promise<Replication>,
  { jobs, stop, onDone }: PlayOptions,
): Promise<Collected> {
  const waiting = new Map<number, Replication>();
  let collected = NONE_COLLECTED;
  let begun = 0;
  const takeIn = (): void => {
    for (;;) {
      const next = waiting.get(collected.kept.length + 1);
      if (next === undefined || collected.isEnough) return;
      waiting.delete(next.replication);
      collected = withNext(collected, next, asked);
    }
  };
  const playSome = async (): Promise<void> => {
    while (begun < asked.most && !collected.isEnough && !stop?.aborted) {
      const replication = ++begun;
      waiting.set(replication, await play(replication));
      takeIn();
      onDone?.(collected);
    }
  };
  try {
    await Promise.all(Array.from({ length: jobs }, playSome));
  } catch (error) {
    if (!stop?.aborted) throw error;
  }
  return collected;
}

/** The next in order, taken in. */
export function withNext(before: Collected, next: Replication, asked: ReplicationsAsked): Collected {
  const { levels, grid, ...kept } = next;
  const n = before.kept.length + 1;
  const after = {
    kept: [...before.kept, kept],
    grid: before.grid ?? grid,
    madeSum: added(before.madeSum, next.made),
    levelSum: added(before.levelSum, levels),
    isEnough: false,
  };
  return { ...after, isEnough: asked.until === null ? n === asked.most : isNarrow(after, asked) };
}

/** All that were asked for at once, in their order. */
export function collectedOf(kept: readonly Kept[], grid: ReplicationGrid, levelSum: Float64Array): Collected {
  let madeSum: Float64Array = new Float64Array();
  for (const { made } of kept) madeSum = added(madeSum, made);
  return { kept, grid, madeSum, levelSum, isEnough: true };
}

/** Adds to sums of whole numbers, which stay exact. */
function added(sums: Float64Array, more: Float64Array | Int32Array): Float64Array {
  if (sums.length === 0) return Float64Array.from(more);
  for (const [i, value] of more.entries()) sums[i] = (sums[i] ?? 0) + value;
  return sums;
}

/** The interval is looked at after ten, and then after a twentieth more each time, since each look works all figures out anew. */
function isLookedAt(n: number): boolean {
  let look = LEAST_LOOKED_AT;
  while (look < n) look += Math.max(1, Math.floor(look / 20));
  return look === n;
}

/** As few as the rule ever stops at. */
export const LEAST_LOOKED_AT = 10;

function isNarrow(collected: Collected, asked: ReplicationsAsked): boolean {
  return isLookedAt(collected.kept.length) && (untilState(collected, asked)?.enough ?? false);
}

/** How the rule stands; `null` where none was asked for, or no replication has the figure. */
function untilState(collected: Collected, asked: ReplicationsAsked): StoppingState | null {
  const { kept, grid, madeSum } = collected;
  const { until, machines } = asked;
  if (until === null || grid === null) return null;
  const figures = figuresOf(kept, grid, madeSum, machines.length);
  const known = valuesOf(until.figure, figures, machines);
  if (known === null) return null;
  const state = stoppingState(known, { share: until.share, least: LEAST_LOOKED_AT });
  // An interval that there is not yet can't be narrow enough, nor can one of no width.
  const isOne = stopsAreEnough(stopsOf(kept, grid)) && state.reached !== 0;
  return { ...state, reached: isOne ? state.reached : null, enough: isOne && state.enough };
}

function valuesOf(
  figure: UntilFigure,
  { output, settledPerMin, lost, holdUpSettled, made, uptimes }: ReplicationFigures,
  machines: readonly string[],
): readonly number[] | null {
  if (typeof figure === "object") return uptimes[machines.indexOf(figure.uptimeOf)] ?? null;
  switch (figure) {
    case "settled_output_per_min":
      return output.mark === null ? null : settledPerMin;
    case "ramp_up_loss":
      return lost;
    case "hold_up_settled":
      return holdUpSettled;
    case "made":
      return made;
  }
}

/** A figure, or `null` where the text names none. */
export function untilFigure(text: string, machines: readonly string[]): UntilFigure | null {
  const plain = UNTIL_FIGURES.find((figure) => figure === text);
  if (plain !== undefined) return plain;
  const uptimeOf = /^uptime\.(.+)$/.exec(text)?.[1];
  return uptimeOf !== undefined && machines.includes(uptimeOf) ? { uptimeOf } : null;
}

function figureName(figure: UntilFigure): string {
  return typeof figure === "object" ? `uptime.${figure.uptimeOf}` : figure;
}

/** @throws RangeError for fewer than two replications */
export function summariseReplications(collected: Collected, asked: ReplicationsAsked): ReplicationsSummary {
  const { kept, grid, madeSum, levelSum } = collected;
  if (grid === null || kept.length < 2) throw new RangeError(`${kept.length} replications are too few`);
  const { seed, machines } = asked;
  const figures = figuresOf(kept, grid, madeSum, machines.length);
  const { n, seed: own, ...others } = replicationsOf(kept, figures, { grid, madeSum, machines, seed });
  const replications = {
    n,
    asked: asked.until === null ? asked.most : null,
    seed: own,
    until: untilResult(collected, asked),
    ...others,
  };
  return {
    replications,
    each: kept.map((_, i) => ({
      replication: i + 1,
      made: figures.made[i] ?? 0,
      settledPerMin: figures.output.mark === null ? null : (figures.settledPerMin[i] ?? null),
      lost: figures.lost?.[i] ?? null,
      holdUp: figures.holdUpSettled?.[i] ?? null,
      uptimes: figures.uptimes.map((own) => own?.[i] ?? null),
    })),
    grid,
    band: outputBand(kept, grid, replications.median.replication),
    buffers: asked.buffers.map((buffer, b) => ({
      ...buffer,
      level: Array.from({ length: grid.points }, (_, i) => (levelSum[i * asked.buffers.length + b] ?? 0) / n),
    })),
  };
}

/** Beside the head of the result, as the JSON has it. */
export function withReplications(
  { title, tick_s, horizon_min, seed, ...others }: Result,
  replications: Replications,
  costs: Costs | null,
): Result {
  const money = lossMoney(costs, replications.ramp_up_loss?.mean ?? null);
  return { title, tick_s, horizon_min, seed, replications, ...others, ...money };
}

/** What a report of replications is made from. */
export interface ReplicationsSummary {
  readonly replications: Replications;
  readonly each: readonly ReplicationRow[];
  readonly grid: ReplicationGrid;
  readonly band: OutputBand;
  /** Mean level of each infeed buffer at each point of the grid. */
  readonly buffers: readonly (InfeedBuffer & { readonly level: readonly number[] })[];
}

export interface ReplicationRow {
  readonly replication: number;
  readonly made: number;
  /** These are `null` where the run is too short. */
  readonly settledPerMin: number | null;
  readonly lost: number | null;
  readonly holdUp: number | null;
  /** By machine. */
  readonly uptimes: readonly (number | null)[];
}

function untilResult(collected: Collected, asked: ReplicationsAsked): Until | null {
  const { until } = asked;
  if (until === null) return null;
  const state = untilState(collected, asked);
  return {
    figure: figureName(until.figure),
    share: until.share,
    reached: collected.isEnough,
    half_width: state?.reached ?? null,
    about: state?.about ?? null,
    coverage_percent: UNTIL_COVERAGE_PERCENT,
  };
}
