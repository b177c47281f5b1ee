/** After the recurrence: one period observed, and whole periods leapt over. */
import type { Program } from "../network/program.ts";
import { bookTotals, totalsNow, unbookTotals } from "./over-time.ts";
import { BELT, BELT_INTS, beltField, setBeltField } from "./records.ts";
import type { Recurrence } from "./recurrence.ts";
import { resetExtremes, type State } from "./state.ts";
import type { Totals } from "./totals.ts";

export interface SettledPeriod extends Levels {
  readonly totals: Totals;
}

export interface Levels {
  /** Lowest and highest level in the period, by buffer. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** Fewest and most items in the period, by belt. */
  readonly beltLow: Int32Array;
  readonly beltHigh: Int32Array;
}

/**
 * Until all that was held at the recurrence has left, dwell times are still those of the ramp-up. (Where some of it
 * circulates in a return loop for ever, they never repeat, and every tick is stepped.)
 */
export function findSettledPeriod(
  program: Program,
  state: State,
  { atTick, periodTicks, period }: Recurrence,
  horizonTicks: number,
  stepTo: (tick: number) => void,
): SettledPeriod | null {
  const mostTick = horizonTicks - periodTicks;
  while (holdsOlder(program, state, atTick, period)) {
    if (state.tick >= mostTick) return null;
    stepTo(Math.min(state.tick + periodTicks, mostTick));
  }
  return state.tick <= mostTick ? observePeriod(program, state, periodTicks, stepTo) : null;
}

/** Levels repeat even where dwell times never do. `null` where the horizon has no whole period left. */
export function observeLast(
  program: Program,
  state: State,
  { periodTicks }: Recurrence,
  horizonTicks: number,
  stepTo: (tick: number) => void,
): Levels | null {
  const fromTick = horizonTicks - periodTicks;
  if (state.tick > fromTick) return null;
  stepTo(fromTick);
  const { low, high, beltLow, beltHigh } = observePeriod(program, state, periodTicks, stepTo);
  return { low, high, beltLow, beltHigh };
}

function observePeriod(
  program: Program,
  state: State,
  periodTicks: number,
  stepTo: (tick: number) => void,
): SettledPeriod {
  const before = beltField(state.belts, "high");
  resetExtremes(state);
  const totals = totalsNow(program, state);
  stepTo(state.tick + periodTicks);
  const settled = {
    totals: totalsNow(program, state, totals),
    low: state.marks.low.slice(),
    high: state.marks.high.slice(),
    beltLow: beltField(state.belts, "low"),
    beltHigh: beltField(state.belts, "high"),
  };
  setBeltField(
    state.belts,
    "high",
    before.map((high, b) => Math.max(high, settled.beltHigh[b]!)),
  );
  return settled;
}

/** Whether an item that was there at a tick still is, but for those that nothing in a whole period moves. */
function holdsOlder({ belt, machine, buffer }: Program, state: State, thanTick: number, period: Totals): boolean {
  const holds = (born: Int32Array, ring: number, head: number, count: number, room: number): boolean => {
    for (let n = 0; n < count; n++) if (born[ring + ((head + n) % room)]! <= thanTick) return true;
    return false;
  };
  for (let b = 0; b < belt.count; b++) {
    if (period.passed[belt.connection[b]!] === 0) continue;
    const [head, count] = [state.belts[b * BELT_INTS + BELT.head]!, state.belts[b * BELT_INTS + BELT.count]!];
    if (holds(state.placeBorn, belt.ring[b]!, head, count, belt.capacity[b]!)) return true;
  }
  for (let m = 0; m < machine.count; m++) {
    if (period.cycles[m] === 0) continue;
    for (let b = machine.infeed[m]!; b < machine.infeed[m + 1]!; b++) {
      const { ring, capacity } = buffer;
      if (holds(state.bufferBorn, ring[b]!, state.bufferHead[b]!, state.bufferCount[b]!, capacity[b]!)) return true;
    }
  }
  return false;
}

/**
 * Skips whole periods: totals grow by as many periods, and every time in the state moves on with the clock, but for when
 * that was fed or made which lies still.
 */
export function leap(program: Program, state: State, periods: number, periodTicks: number, period: Totals): void {
  const { belt, machine, buffer } = program;
  const ticks = periods * periodTicks;
  const moveOn = (times: Int32Array, from: number, count: number): void => {
    for (let i = from; i < from + count; i++) times[i]! += ticks;
  };
  bookTotals(state);
  state.tick += ticks;
  moveOn(state.paceDue, 0, state.paceDue.length);
  moveOn(state.placeReady, 0, state.placeReady.length);
  for (let b = 0; b < belt.count; b++) {
    state.belts[b * BELT_INTS + BELT.entryDue]! += ticks;
    state.belts[b * BELT_INTS + BELT.exitDue]! += ticks;
    if (period.passed[belt.connection[b]!] === 0) continue;
    moveOn(state.placeBorn, belt.ring[b]!, belt.capacity[b]!);
    state.belts[b * BELT_INTS + BELT.leftAt]! += ticks;
  }
  for (let m = 0; m < machine.count; m++) {
    if (period.cycles[m] === 0) continue;
    for (let b = machine.infeed[m]!; b < machine.infeed[m + 1]!; b++) {
      moveOn(state.bufferBorn, buffer.ring[b]!, buffer.capacity[b]!);
    }
  }
  for (let i = 0; i < state.totals.all.length; i++) state.totals.all[i]! += periods * period.all[i]!;
  unbookTotals(state);
  state.core.startCalendar();
}
