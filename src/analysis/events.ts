/** Finished cycles as a train of events: at which tick how many products came. */
import type { Run } from "../engine/simulate.ts";

/** Ticks strictly increase. */
export interface Events {
  readonly count: number;
  readonly tick: Int32Array;
  readonly amount: Float64Array;
}

/** @param amountOf products that one cycle of a machine adds, 0 to leave the machine out */
export function eventsOf({ completions }: Run, amountOf: (machine: number) => number): Events {
  const tick = new Int32Array(completions.count);
  const amount = new Float64Array(completions.count);
  let count = 0;
  for (let i = 0; i < completions.count; i++) {
    const added = amountOf(completions.machine[i] ?? 0);
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

/** The events of each machine by itself, one product a cycle. */
export function eventsByMachine(run: Run): Events[] {
  const { completions, program } = run;
  const counts = new Int32Array(program.machine.count);
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
  return ticks.map((tick) => ({ count: tick.length, tick, amount: new Float64Array(tick.length).fill(1) }));
}

export function amountUpTo({ count, tick, amount }: Events, upToTick: number): number {
  let total = 0;
  for (let i = 0; i < count && (tick[i] ?? 0) <= upToTick; i++) total += amount[i] ?? 0;
  return total;
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

/** A train that repeats with the period at its end, carried on as far as `upToTick`. */
export function carriedOn(events: Events, periodTicks: number, endTick: number, upToTick: number): Events {
  const { count, tick, amount } = events;
  if (upToTick <= endTick || count === 0) return events;
  const ticks = Array.from(tick);
  const amounts = Array.from(amount);
  let next = ticks.findIndex((one) => one > endTick - periodTicks);
  for (; next >= 0 && (ticks[next] ?? Infinity) + periodTicks <= upToTick; next++) {
    ticks.push((ticks[next] ?? 0) + periodTicks);
    amounts.push(amounts[next] ?? 0);
  }
  return { count: ticks.length, tick: Int32Array.from(ticks), amount: Float64Array.from(amounts) };
}
