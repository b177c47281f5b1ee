/** What a flow solution says about a moment or up to a moment. */
import { larger, type Rational, smaller, ZERO } from "../../quantity/rational.ts";
import { type FlowMachineDetail, type FlowPhase, firstOfLast, type MovingBuffer } from "./phase.ts";
import type { FlowSolution } from "./solution.ts";

/**
 * The phase in force at a time; at an event, the one that it begins.
 *
 * @throws RangeError before time 0
 */
export function flowAt(solution: FlowSolution, tMin: Rational): FlowPhase {
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

/** Products of all machines, all kinds, made from the start to a time. */
export function outputUpTo(solution: FlowSolution, tMin: Rational): Rational {
  const phase = flowAt(solution, tMin);
  return phase.madeBefore.add(phase.outputPerMin.mul(tMin.sub(phase.fromMin)));
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
    const until = smaller(solution.phases[index + 1]?.fromMin ?? tMin, tMin);
    if (until.compare(fromMin) < 0) continue;
    const lasts = larger(until.sub(larger(phase.fromMin, fromMin)), ZERO);
    for (const machine of phase.detail().machines) {
      totals.set(machine.id, (totals.get(machine.id) ?? ZERO).add(rateOf(machine).mul(lasts)));
    }
    if (until.equals(tMin)) break;
  }
  return totals;
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

export interface ChangingBuffer {
  readonly machine: string;
  readonly item: string;
  /** Items/min, positive while it fills. */
  readonly netPerMin: Rational;
  /** When it stops changing; `null`: something turns its direction before it is full or empty. */
  readonly doneAtMin: Rational | null;
}

/** Buffers that fill or drain at a time. */
export function changingAt(solution: FlowSolution, tMin: Rational): ChangingBuffer[] {
  const now = flowAt(solution, tMin);
  const idOf = ({ machine, item }: MovingBuffer): string => JSON.stringify([machine, item]);
  const doneAt = new Map<string, Rational>();
  const open = new Map(now.moving.map((buffer) => [idOf(buffer), buffer.netPerMin.s]));
  for (const phase of solution.phases.slice(solution.phases.indexOf(now) + 1)) {
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

/**
 * From when the output, as it is at each moment, stays within a band around the settled output. On long chains it
 * comes phases before `settlingMin`.
 *
 * @param tolerance half the band's width, as a share of the settled output
 */
export function withinToleranceMin(solution: FlowSolution, tolerance: Rational): Rational {
  const { settledPerMin } = solution;
  const most = settledPerMin.mul(tolerance);
  const first = firstOfLast(
    solution.phases,
    ({ outputPerMin }) => outputPerMin.sub(settledPerMin).abs().compare(most) <= 0,
  );
  return first?.fromMin ?? solution.settlingMin;
}
