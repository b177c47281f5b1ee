/** After the recurrence: one period observed, and whole periods leapt over. */
import type { Program } from "../network/program.ts";
import { bookTotals, totalsNow, unbookTotals } from "./over-time.ts";
import { BELT, BELT_INTS, PLACE, PLACE_INTS } from "./record-offsets.ts";
import { beltField } from "./records.ts";
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
  /** Of all items on belts and in buffers together. */
  readonly holdUpLow: number;
  readonly holdUpHigh: number;
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
  const holdsOlder = lookForOlder(program, atTick, period);
  while (holdsOlder(state)) {
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
  const { totals: _, ...levels } = observePeriod(program, state, periodTicks, stepTo);
  return levels;
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
    low: state.noted.low.slice(),
    high: state.noted.high.slice(),
    beltLow: beltField(state.belts, "low"),
    beltHigh: beltField(state.belts, "high"),
    holdUpLow: state.core.lowHoldUp.value,
    holdUpHigh: state.core.highHoldUp.value,
  };
  for (const [b, high] of before.entries()) {
    const at = b * BELT_INTS + BELT.high;
    state.belts[at] = Math.max(high, state.belts[at]!);
  }
  return settled;
}

/**
 * Whether an item that was there at a tick still is, but for those that nothing in a whole period moves. Where the last was
 * found the next is looked for first.
 */
function lookForOlder({ belt, machine, buffer }: Program, thanTick: number, period: Totals): (state: State) => boolean {
  const belts = [...belt.connection.keys()].filter((b) => period.passed[belt.connection[b]!] !== 0);
  const buffers = [...machine.infeed.subarray(0, machine.count).keys()].flatMap((m) =>
    period.cycles[m] === 0
      ? []
      : Array.from({ length: machine.infeed[m + 1]! - machine.infeed[m]! }, (_, i) => machine.infeed[m]! + i),
  );
  const onBelts = belts.length;
  const count = onBelts + buffers.length;
  let first = 0;
  return (state) => {
    for (let n = 0; n < count; n++) {
      const i = (first + n) % count;
      const isOlder =
        i < onBelts
          ? isOlderOnBelt(belt, state, belts[i]!, thanTick)
          : isOlderInBuffer(buffer, state, buffers[i - onBelts]!, thanTick);
      if (!isOlder) continue;
      first = i;
      return true;
    }
    return false;
  };
}

function isOlderOnBelt(belt: Program["belt"], { belts, places }: State, b: number, thanTick: number): boolean {
  const [ring, end] = [belt.ring[b]!, belt.ring[b]! + belt.capacity[b]!];
  const at = b * BELT_INTS;
  let place = ring + (belts[at + BELT.head]! - belts[at + BELT.ring]!) / (4 * PLACE_INTS);
  for (let n = belts[at + BELT.count]!; n > 0; n--) {
    if (places[place * PLACE_INTS + PLACE.born]! <= thanTick) return true;
    place = place + 1 === end ? ring : place + 1;
  }
  return false;
}

function isOlderInBuffer(buffer: Program["buffer"], state: State, b: number, thanTick: number): boolean {
  const [ring, capacity, head] = [buffer.ring[b]!, buffer.capacity[b]!, state.bufferHead[b]!];
  for (let n = state.bufferCount[b]!; n > 0; n--) {
    if (state.bufferBorn[ring + ((head + n - 1) % capacity)]! <= thanTick) return true;
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
  bookTotals(state);
  state.tick += ticks;
  for (let i = 0; i < state.paceDue.length; i++) state.paceDue[i]! += ticks;
  for (let b = 0; b < belt.count; b++) {
    const record = state.belts.subarray(b * BELT_INTS, (b + 1) * BELT_INTS);
    record[BELT.entryDue]! += ticks;
    record[BELT.exitDue]! += ticks;
    const isMoving = period.passed[belt.connection[b]!] !== 0;
    if (isMoving) record[BELT.leftAt]! += ticks;
    for (let place = belt.ring[b]!; place < belt.ring[b]! + belt.capacity[b]!; place++) {
      state.places[place * PLACE_INTS + PLACE.ready]! += ticks;
      if (isMoving) state.places[place * PLACE_INTS + PLACE.born]! += ticks;
    }
  }
  for (let m = 0; m < machine.count; m++) {
    if (period.cycles[m] === 0) continue;
    for (let b = machine.infeed[m]!; b < machine.infeed[m + 1]!; b++) {
      const places = state.bufferBorn.subarray(buffer.ring[b]!, buffer.ring[b]! + buffer.capacity[b]!);
      for (let i = 0; i < places.length; i++) places[i]! += ticks;
    }
  }
  for (let i = 0; i < state.totals.all.length; i++) state.totals.all[i]! += periods * period.all[i]!;
  unbookTotals(state);
  state.core.startFrom(state.tick);
}
