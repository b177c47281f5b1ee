/**
 * What is made, as a curve of straight pieces: the products of each cycle accrue evenly while it runs. So the curve of a
 * machine that never waits is straight, whatever the phase of its cycles, and does not depend on the tick.
 */
import type { Run } from "../engine/simulate.ts";
import { eventsByMaker } from "./events.ts";

/** Knots, in ticks from the start to the end of what is known; `made[i]` products by `tick[i]`, straight in between. */
export interface MadeCurve {
  readonly tick: Float64Array;
  readonly made: Float64Array;
}

/** When a machine ran without a gap: from and to, in ticks, alternating and rising; and how fast. */
export interface RunningTime {
  readonly ticks: readonly number[];
  readonly cyclesPerTick: number;
}

/** By maker (makers.ts), up to the end of what was stepped. An item that leaves takes a tick. */
export function runningTimes(run: Run): RunningTime[] {
  const { program, recurrence, steppedTicks } = run;
  return eventsByMaker(run).map(({ tick, count }, m) => {
    const cycle = cycleTicks(program, m);
    const ticks: number[] = [];
    let end = 0;
    const finish = (atTick: number, elapsed: number, length: number): void => {
      // A cycle that follows at once keeps to the machine's own schedule, of which the engine counts whole ticks.
      const ideal = end + length;
      const follows = ticks.length > 0 && Math.abs(ideal - atTick) < 1;
      end = follows ? ideal : atTick - elapsed + length;
      if (follows) ticks[ticks.length - 1] = Math.min(end, steppedTicks);
      else if (end - length < steppedTicks) ticks.push(Math.max(0, end - length), Math.min(end, steppedTicks));
    };
    for (let i = 0; i < count; i++) finish(tick[i] ?? 0, Math.ceil(cycle), cycle);
    // A cycle under way at the end: in a line that repeats, the one that ends in the next period.
    if (recurrence !== null) {
      const before = steppedTicks - recurrence.periodTicks;
      const next = tick.find((one) => one > before);
      if (next !== undefined) finish(next + recurrence.periodTicks, Math.ceil(cycle), cycle);
    } else {
      const open = run.openCycleTicks[m] ?? 0;
      if (open > 0) finish(steppedTicks, open, open);
    }
    return { ticks, cyclesPerTick: 1 / cycle };
  });
}

function cycleTicks({ machine, pace }: Run["program"], m: number): number {
  const own = machine.pace[m];
  return own === undefined ? 1 : (pace.whole[own] ?? 0) + (pace.rest[own] ?? 0) / (pace.parts[own] ?? 1);
}

/** One of those whose output is told: its index, and the products of one of its cycles. */
export interface Maker {
  readonly machine: number;
  readonly perCycle: number;
}

/** The curve of several machines together. */
export function madeCurve(running: readonly RunningTime[], makers: readonly Maker[], endTick: number): MadeCurve {
  const counted = makers.map(({ machine, perCycle }) => {
    const { ticks = [], cyclesPerTick = 0 } = running[machine] ?? {};
    return { ticks, perTick: perCycle * cyclesPerTick };
  });
  const tick = knotsOf(counted, endTick);
  const slopeChange = new Float64Array(tick.length);
  const begun = new Int32Array(tick.length);
  for (const { ticks, perTick } of counted) {
    let knot = 0;
    let sign = 1;
    for (const at of ticks) {
      knot = indexOf(tick, at, knot);
      slopeChange[knot] = (slopeChange[knot] ?? 0) + sign * perTick;
      begun[knot] = (begun[knot] ?? 0) + sign;
      sign = -sign;
    }
  }
  const made = new Float64Array(tick.length);
  let slope = 0;
  let run = 0;
  for (let i = 1; i < tick.length; i++) {
    run += begun[i - 1] ?? 0;
    // Exactly nothing is made while none runs, whatever the rounding of sums.
    slope = run === 0 ? 0 : slope + (slopeChange[i - 1] ?? 0);
    made[i] = (made[i - 1] ?? 0) + slope * ((tick[i] ?? 0) - (tick[i - 1] ?? 0));
  }
  return { tick, made };
}

/** All moments at which a machine begins or ends to run, each once, with 0 and the end. */
function knotsOf(counted: readonly { readonly ticks: readonly number[] }[], endTick: number): Float64Array {
  const all = new Float64Array(2 + counted.reduce((total, { ticks }) => total + ticks.length, 0));
  let count = 0;
  for (const { ticks } of counted) for (const at of ticks) all[count++] = at;
  all[count++] = 0;
  all[count] = endTick;
  all.sort();
  let kept = 0;
  for (const at of all) if (kept === 0 || all[kept - 1] !== at) all[kept++] = at;
  return all.slice(0, kept);
}

/** What is known of it at a tick, and no more. */
export function curveUpTo(curve: MadeCurve, endTick: number): MadeCurve {
  const knots = indexOf(curve.tick, endTick);
  const cut = (values: Float64Array, last: number): Float64Array => {
    const kept = new Float64Array(knots + 1);
    kept.set(values.subarray(0, knots));
    kept[knots] = last;
    return kept;
  };
  return { tick: cut(curve.tick, endTick), made: cut(curve.made, madeBy(curve, endTick)) };
}

/** Products made by a tick, in the middle of a piece too. */
export function madeBy({ tick, made }: MadeCurve, atTick: number): number {
  const next = indexOf(tick, atTick);
  const [to, after] = [tick[next] ?? atTick, made[next] ?? made.at(-1) ?? 0];
  if (to === atTick || next === 0) return after;
  const [from, before] = [tick[next - 1] ?? 0, made[next - 1] ?? 0];
  return before + ((after - before) * (atTick - from)) / (to - from);
}

/** Index of the first knot at a tick or after it. @param from no knot before this one is; it is looked for near there first */
function indexOf(tick: Float64Array, at: number, from = 0): number {
  let low = from;
  let high = tick.length;
  for (let near = 1; near < high - low; near *= 2) {
    if ((tick[low + near] ?? Infinity) >= at) high = low + near;
    else low += near;
  }
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((tick[middle] ?? Infinity) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** How far the curve is ahead of a steady rate between two ticks: least, most, and on average over the time. */
export interface Ahead {
  readonly low: number;
  readonly high: number;
  readonly mean: number;
  /** Root of the mean square about the mean. */
  readonly deviation: number;
}

export function aheadOf(curve: MadeCurve, perTick: number, fromTick: number, toTick: number): Ahead {
  let tick = fromTick;
  let ahead = madeBy(curve, fromTick) - perTick * fromTick;
  let low = ahead;
  let high = ahead;
  let area = 0;
  let squares = 0;
  const first = ahead;
  for (let i = indexOf(curve.tick, fromTick); tick < toTick; i++) {
    const nextTick = Math.min(curve.tick[i] ?? toTick, toTick);
    const next = (curve.tick[i] === nextTick ? (curve.made[i] ?? 0) : madeBy(curve, nextTick)) - perTick * nextTick;
    area += ((ahead + next) / 2) * (nextTick - tick);
    const [before, after] = [ahead - first, next - first];
    squares += ((before * before + before * after + after * after) / 3) * (nextTick - tick);
    low = Math.min(low, next);
    high = Math.max(high, next);
    tick = nextTick;
    ahead = next;
  }
  const ticks = toTick - fromTick;
  if (ticks <= 0) return { low, high, mean: ahead, deviation: 0 };
  const mean = area / ticks;
  return { low, high, mean, deviation: Math.sqrt(Math.max(0, squares / ticks - (mean - first) ** 2)) };
}
