/** What a flow solution says about a moment or up to a moment. */
import { approximate, larger, minus, plus, type Rational, smaller, times, ZERO } from "../../quantity/rational.ts";
import { type FlowMachineDetail, type FlowPhase, firstOfLast, type MovingBuffer } from "./phase.ts";
import type { FlowSolution } from "./solution.ts";

/**
 * The phase in force at a time; at an event, the one that it begins. In a later repetition of the period it has the times
 * of that repetition.
 *
 * @throws RangeError before time 0
 */
export function flowAt(solution: FlowSolution, tMin: Rational): FlowPhase {
  const periods = repetitionsBefore(solution, tMin);
  if (periods === 0n || solution.period === null) return phaseIn(solution, tMin);
  const laterMin = solution.period.lengthMin.mul(periods);
  return phaseIn(solution, minus(tMin, laterMin)).repeated(laterMin, times(solution.settledPerMin, laterMin));
}

/** Whole periods that have been gone through at a time, but for the one among the phases. */
function repetitionsBefore({ period }: FlowSolution, tMin: Rational): bigint {
  const periods = period === null ? ZERO : tMin.sub(period.fromMin).div(period.lengthMin).floor();
  return periods.s > 0n ? periods.n : 0n;
}

function phaseIn(solution: FlowSolution, tMin: Rational): FlowPhase {
  let low = 0;
  let high = solution.phases.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const phase = solution.phases[middle];
    if (phase !== undefined && phase.fromMin.compare(tMin) <= 0) low = middle + 1;
    else high = middle;
  }
  const phase = solution.phases[low - 1];
  if (phase === undefined) throw new RangeError(`the flow solution begins at 0, not at ${tMin.toFraction()} min`);
  return phase;
}

/** The plant's output, all kinds, from the start to a time. */
export function outputUpTo(solution: FlowSolution, tMin: Rational): Rational {
  const phase = flowAt(solution, tMin);
  return plus(phase.madeBefore, times(phase.outputPerMin, minus(tMin, phase.fromMin)));
}

/**
 * Minutes that each machine has run from the start, or a later time, to a time, by id.
 *
 * Works the rates of every phase in between out again: ask once for all machines.
 */
export function runningMinutes(
  solution: FlowSolution,
  tMin: Rational,
  fromMin: Rational = ZERO,
): ReadonlyMap<string, Rational> {
  return accumulated(solution, fromMin, tMin, ({ running }) => running);
}

/** The same as the nearest numbers, where fractions have too many digits to be added up: to hold counts against. */
export function runningMinutesNearly(solution: FlowSolution, tMin: Rational, fromMin: Rational): Map<string, number> {
  const totals = new Map<string, number>();
  const [until, since] = [tMin, fromMin].map((time) => lengthsUpTo(solution, time));
  for (const [index, phase] of solution.phases.entries()) {
    const lasts = (until?.[index] ?? 0) - (since?.[index] ?? 0);
    if (lasts <= 0) continue;
    for (const [id, share] of phase.runningNearly()) totals.set(id, (totals.get(id) ?? 0) + share * lasts);
  }
  return totals;
}

/** As `minutesIn`, of every phase. */
function lengthsUpTo(solution: FlowSolution, tMin: Rational): number[] {
  const { phases, period } = solution;
  const times = repetitionsBefore(solution, tMin);
  const [minutes, folded] = [tMin, period === null ? tMin : tMin.sub(period.lengthMin.mul(times))].map(approximate);
  const starts = phases.map(({ fromMinNearly }) => fromMinNearly);
  const ends = [...starts.slice(1), period === null ? Infinity : approximate(period.fromMin.add(period.lengthMin))];
  const periodFrom = period === null ? Infinity : approximate(period.fromMin) * (1 - ROUNDING);
  return starts.map((start, index) => {
    const end = ends[index] ?? Infinity;
    const clipped = (until = 0): number => Math.max(0, Math.min(until, end) - start);
    return times > 0n && start >= periodFrom ? clipped(folded) + (end - start) * Number(times) : clipped(minutes);
  });
}

/** Of a time that is worked out in two ways. */
const ROUNDING = 1e-12;

/** Products, all kinds, that each machine has made from the start to a time, by id; as costly as `runningMinutes`. */
export function madeByMachine(solution: FlowSolution, tMin: Rational): ReadonlyMap<string, Rational> {
  return accumulated(solution, ZERO, tMin, ({ makesPerMin }) => makesPerMin);
}

function accumulated(
  solution: FlowSolution,
  fromMin: Rational,
  tMin: Rational,
  rateOf: (machine: FlowMachineDetail) => Rational,
): ReadonlyMap<string, Rational> {
  const totals = new Map<string, Rational>();
  for (const [index, phase] of solution.phases.entries()) {
    const lasts = minutesIn(solution, index, tMin).sub(minutesIn(solution, index, fromMin));
    if (lasts.equals(ZERO)) {
      if (phase.fromMin.compare(tMin) > 0) break;
      if (totals.size > 0) continue;
    }
    for (const machine of phase.detail().machines) {
      totals.set(machine.id, (totals.get(machine.id) ?? ZERO).add(rateOf(machine).mul(lasts)));
    }
  }
  return totals;
}

/** For how long a phase has been in force from the start to a time, whenever it was. */
function minutesIn(solution: FlowSolution, index: number, tMin: Rational): Rational {
  const { phases, period } = solution;
  const start = phases[index]?.fromMin ?? ZERO;
  const times = repetitionsBefore(solution, tMin);
  const repeats = period !== null && start.compare(period.fromMin) >= 0;
  const end = phases[index + 1]?.fromMin ?? period?.fromMin.add(period.lengthMin) ?? null;
  const folded = period === null ? tMin : tMin.sub(period.lengthMin.mul(times));
  const clipped = (until: Rational): Rational => larger((end === null ? until : smaller(until, end)).sub(start), ZERO);
  if (!repeats) return clipped(tMin);
  return times === 0n || end === null ? clipped(tMin) : clipped(folded).add(end.sub(start).mul(times));
}

/**
 * Products, all kinds, that one machine has made from the start to a time.
 *
 * @throws RangeError for a machine that the network does not have
 */
export function madeUpTo(solution: FlowSolution, machine: string, tMin: Rational): Rational {
  const made = madeByMachine(solution, tMin).get(machine);
  if (made === undefined) throw new RangeError(`the network has no machine ${machine}`);
  return made;
}

export interface ChangingBuffer extends MovingBuffer {
  /** When it stops changing; `null`: something turns its direction before it is full or empty. */
  readonly doneAtMin: Rational | null;
}

/** Buffers that fill or drain at a time. */
export function changingAt(solution: FlowSolution, tMin: Rational): ChangingBuffer[] {
  const now = flowAt(solution, tMin);
  const idOf = ({ machine, item, side }: MovingBuffer): string => JSON.stringify([machine, item, side]);
  const doneAt = new Map<string, Rational>();
  const open = new Map(now.moving.map((buffer) => [idOf(buffer), buffer.netPerMin.s]));
  for (const phase of phasesAfter(solution, tMin)) {
    if (open.size === 0) break;
    const then = new Map(phase.moving.map((buffer) => [idOf(buffer), buffer.netPerMin.s]));
    for (const [id, direction] of open) {
      if (then.get(id) === direction) continue;
      open.delete(id);
      if (!then.has(id)) doneAt.set(id, phase.fromMin);
    }
  }
  return now.moving.map((buffer) => ({ ...buffer, doneAtMin: doneAt.get(idOf(buffer)) ?? null }));
}

/** The phases that begin later than a time, up to a whole period later where the flows repeat. */
function* phasesAfter(solution: FlowSolution, tMin: Rational): Generator<FlowPhase> {
  const { phases, period, settledPerMin } = solution;
  const gone = repetitionsBefore(solution, tMin);
  for (const repetition of period === null ? [0n] : [gone, gone + 1n]) {
    const laterMin = period === null ? ZERO : period.lengthMin.mul(repetition);
    for (const phase of phases) {
      const isPast = plus(phase.fromMin, laterMin).compare(tMin) <= 0;
      const isOutside = repetition > 0n && period !== null && phase.fromMin.compare(period.fromMin) < 0;
      if (isPast || isOutside) continue;
      yield repetition === 0n ? phase : phase.repeated(laterMin, times(settledPerMin, laterMin));
    }
  }
}

/**
 * From when the output, as it is at each moment, stays within a band around the settled output. On long chains it
 * comes phases before `settlingMin`. Where it swings by more for ever, that time stands for it.
 *
 * @param tolerance half the band's width, as a share of the settled output
 * @returns `null` where a pattern that repeats leaves the band again and again
 */
export function withinToleranceMin(solution: FlowSolution, tolerance: Rational): Rational | null {
  const { settledPerMin } = solution;
  const most = times(settledPerMin, tolerance);
  const first = firstOfLast(
    solution.phases,
    ({ outputPerMin }) => minus(outputPerMin, settledPerMin).abs().compare(most) <= 0,
  );
  return first?.fromMin ?? null;
}
