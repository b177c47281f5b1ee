/** Finished cycles, or what leaves a plant without machines, as a train of events: at which tick how many products came. */
import type { Run } from "../engine/simulate.ts";
import { makerCount } from "./makers.ts";

/** Ticks strictly increase. */
export interface Events {
  readonly count: number;
  readonly tick: Int32Array;
  readonly amount: Float64Array;
}

/** @param amountOf products that one cycle of a maker adds (makers.ts), 0 to leave it out */
export function eventsOf({ completions, program }: Run, amountOf: (machine: number) => number): Events {
  const amounts = Float64Array.from({ length: makerCount(program) }, (_, maker) => amountOf(maker));
  const tick = new Int32Array(completions.count);
  const amount = new Float64Array(completions.count);
  let count = 0;
  for (let i = 0; i < completions.count; i++) {
    const added = amounts[completions.machine[i] ?? 0] ?? 0;
    if (added === 0) continue;
    const now = completions.tick[i] ?? 0;
    if (count > 0 && tick[count - 1] === now) {
      amount[count - 1] = (amount[count - 1] ?? 0) + added;
    } else {
      tick[count] = now;
      amount[count] = added;
      count++;
    }
  }
  return { count, tick: tick.subarray(0, count), amount: amount.subarray(0, count) };
}

/** The events of each maker by itself, one product a cycle. */
export function eventsByMaker(run: Run): Events[] {
  const { completions, program } = run;
  const counts = new Int32Array(makerCount(program));
  for (let i = 0; i < completions.count; i++) {
    const machine = completions.machine[i] ?? 0;
    counts[machine] = (counts[machine] ?? 0) + 1;
  }
  const ticks = Array.from(counts, (count) => new Int32Array(count));
  counts.fill(0);
  for (let i = 0; i < completions.count; i++) {
    const machine = completions.machine[i] ?? 0;
    const next = counts[machine] ?? 0;
    const own = ticks[machine];
    if (own) own[next] = completions.tick[i] ?? 0;
    counts[machine] = next + 1;
  }
  const ones = new Float64Array(Math.max(0, ...counts)).fill(1);
  return ticks.map((tick) => ({ count: tick.length, tick, amount: ones.subarray(0, tick.length) }));
}

/**
 * The first tick from which the train repeats with the period for good, given that it does so at its end.
 * @param endTick the train is known up to here
 */
export function repeatsFrom({ count, tick, amount }: Events, periodTicks: number, endTick: number): number {
  let late = count - 1;
  let early = count - 1;
  while (early >= 0 && (tick[early] ?? 0) > endTick - periodTicks) early--;
  for (; late >= 0; early--, late--) {
    const shifted = (tick[late] ?? 0) - periodTicks;
    const earlier = early >= 0 ? (tick[early] ?? 0) : 0;
    if (shifted <= 0 && earlier <= 0) break;
    if (shifted !== earlier || amount[late] !== amount[early]) return Math.max(shifted, earlier) + 1;
  }
  return 0;
}

/** Events and how they go on: not at all, or, where the line repeats, with the last period again and again. */
export interface Train extends Events {
  /** What the first i of them add up to, at i. */
  readonly sums: Float64Array;
  /** All are known up to here. */
  readonly endTick: number;
  readonly periodTicks: number | null;
}

/** @param amountOf as `eventsOf` has it */
export function trainOf(run: Run, amountOf: (machine: number) => number): Train {
  return asTrain(eventsOf(run, amountOf), run);
}

export function asTrain(events: Events, { recurrence, steppedTicks }: Pick<Run, "recurrence" | "steppedTicks">): Train {
  const { count, amount } = events;
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = (sums[i] ?? 0) + (amount[i] ?? 0);
  return { ...events, sums, endTick: steppedTicks, periodTicks: recurrence?.periodTicks ?? null };
}

/** Up to any tick: no period is copied out for it. */
export function amountUpTo(train: Train, tick: number): number {
  const { endTick, periodTicks } = train;
  if (tick <= endTick || periodTicks === null) return knownUpTo(train, tick);
  const periods = Math.ceil((tick - endTick) / periodTicks);
  const inPeriod = knownUpTo(train, endTick) - knownUpTo(train, endTick - periodTicks);
  return knownUpTo(train, tick - periods * periodTicks) + periods * inPeriod;
}

function knownUpTo({ count, tick, sums }: Train, upToTick: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((tick[middle] ?? 0) > upToTick) high = middle;
    else low = middle + 1;
  }
  return sums[low] ?? 0;
}

/** One by one as far as a tick. */
export function eventsUpTo({ count, tick, amount, endTick, periodTicks }: Train, upToTick: number): Events {
  if (upToTick <= endTick || count === 0 || periodTicks === null) return { count, tick, amount };
  let from = count;
  while (from > 0 && (tick[from - 1] ?? 0) > endTick - periodTicks) from--;
  const most = count + (count - from) * Math.ceil((upToTick - endTick) / periodTicks);
  const ticks = new Int32Array(most);
  const amounts = new Float64Array(most);
  ticks.set(tick);
  amounts.set(amount);
  let next = count;
  for (; from < next && (ticks[from] ?? 0) + periodTicks <= upToTick; from++, next++) {
    ticks[next] = (ticks[from] ?? 0) + periodTicks;
    amounts[next] = amounts[from] ?? 0;
  }
  return { count: next, tick: ticks.subarray(0, next), amount: amounts.subarray(0, next) };
}
