/** The centred moving average of a train of events, and the time from which it stays where it should. */
import type { Events } from "./events.ts";

/** Products per tick over `windowTicks` ticks around `tick`; nothing comes before tick 0, and what comes after `endTick` is left out of the mean. */
export function averageAt(events: Events, windowTicks: number, tick: number, endTick: number): number {
  const half = Math.floor(windowTicks / 2);
  const from = tick - half;
  const to = Math.min(tick + half, endTick);
  let total = 0;
  for (let i = firstAfter(events, from); i < events.count && (events.tick[i] ?? 0) <= to; i++) {
    total += events.amount[i] ?? 0;
  }
  return total / (to - from);
}

/** Index of the first event after a tick. */
function firstAfter({ count, tick }: Events, after: number): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((tick[middle] ?? 0) > after) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * For each range, the first tick from which the average stays within it up to the end, or `null` where it is outside
 * at the end. Ranges are in products per tick, bounds included.
 */
export function staysFrom(
  events: Events,
  windowTicks: number,
  endTick: number,
  ranges: readonly { readonly low: number; readonly high: number }[],
): (number | null)[] {
  const half = Math.floor(windowTicks / 2);
  const width = 2 * half;
  const found = ranges.map((): number | null => null);
  const open = new Set(ranges.keys());
  // Walks back from the end over the moments at which an event enters or leaves the window (tick - half, tick + half].
  let last = events.count - 1;
  let before = last;
  let inside = 0;
  let tick = endTick - half;
  while (tick >= 0 && open.size > 0) {
    while (last >= 0 && (events.tick[last] ?? 0) > tick + half) inside -= events.amount[last--] ?? 0;
    while (before >= 0 && (events.tick[before] ?? 0) > tick - half) inside += events.amount[before--] ?? 0;
    const average = inside / width;
    const entered = before >= 0 ? (events.tick[before] ?? 0) + half - 1 : -1;
    const leaves = last >= 0 ? (events.tick[last] ?? 0) - half - 1 : -1;
    const next = Math.max(entered, leaves, -1);
    for (const i of open) {
      const range = ranges[i];
      if (range && average >= range.low && average <= range.high) found[i] = next + 1;
      else open.delete(i);
    }
    tick = next;
  }
  return found;
}
