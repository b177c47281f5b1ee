/**
 * Proving that a line has settled. Without random elements a line is a finite machine: once its whole state recurs, it
 * repeats for ever. (The same argument serves for dataflow graphs: A. H. Ghamarian and others, "Throughput analysis of
 * synchronous data flow graphs", ACSD 2006.)
 *
 * The state of an earlier tick is kept and each later one is held against it (core/recurrence.ts). The kept state is replaced
 * at growing intervals, so that it lies behind the ramp-up at last (after R. P. Brent, "An improved Monte Carlo factorization
 * algorithm", BIT 20, 1980). Two states are kept: one replaced often, which finds short periods soon, and one that
 * stays long enough to find long ones.
 */
import type { Program } from "../network/program.ts";
import { totalsNow } from "./over-time.ts";
import { interventionIsDue } from "./priming.ts";
import type { State } from "./state.ts";
import type { Totals } from "./totals.ts";

/** A proved recurrence: the states after `atTick - periodTicks` and after `atTick` are the same. */
export interface Recurrence {
  readonly atTick: number;
  readonly periodTicks: number;
  /** What one period adds to the totals; dwell times only once all that was held before has left. */
  readonly period: Totals;
}

interface Kept {
  tick: number;
  totals: Totals;
  until: number;
  /** The tick from which intervals grow: the start, or the last feed step or intervention. */
  from: number;
  readonly growth: number;
}

const SHORTEST_WATCH_TICKS = 64;
const GROWTHS = [1.25, 2];

export interface RecurrenceWatch {
  /**
   * Called after each tick, or after those that the core has gone up to `nextTick`; returns a recurrence once there is one.
   * @param found which kept state is the present one again, if the core has looked
   */
  readonly observe: (state: State, found?: number) => Recurrence | null;
  /** Whether the core is to look for the kept states. */
  readonly isLooking: (state: State) => boolean;
  /** The core may go up to there without a call. */
  readonly nextTick: (state: State) => number;
}

export function watchForRecurrence(program: Program, start: State): RecurrenceWatch {
  const { steps } = program.feed;
  const lastStepTick = steps.at(-1)?.tick ?? 0;
  const keptNow = (state: State) => ({ tick: state.tick, totals: totalsNow(program, state) });
  const watches = GROWTHS.map((growth, which): Kept => {
    start.core.keep(which);
    return { ...keptNow(start), until: SHORTEST_WATCH_TICKS, from: start.tick, growth };
  });
  let nextReplacement = SHORTEST_WATCH_TICKS;
  let toCome = start.interventionsToCome;

  const replace = (kept: Kept, which: number, state: State): void => {
    state.core.keep(which);
    Object.assign(kept, keptNow(state));
    const grown = kept.from + Math.floor((state.tick - kept.from) * kept.growth);
    kept.until = Math.max(state.tick + SHORTEST_WATCH_TICKS, grown);
  };
  // Feed steps and interventions still to come are part of the future, but not of the compared state: it is kept once the
  // last is in force. (The start is kept before the first feed steps are. It recurs only where no feed's item is ever taken.)
  const isToBeSteered = (state: State): boolean => state.nextStep < steps.length || interventionIsDue(state);
  let isWaiting = lastStepTick > 0;

  return {
    observe(state, found = watches.findIndex((_, which) => state.core.isSame(which))) {
      if (isToBeSteered(state)) {
        isWaiting = true;
        return null;
      }
      const hasChanged = isWaiting || state.interventionsToCome !== toCome;
      const kept = watches[found];
      if (!hasChanged && kept) {
        return {
          atTick: state.tick,
          periodTicks: state.tick - kept.tick,
          period: totalsNow(program, state, kept.totals),
        };
      }
      if (!hasChanged && state.tick < nextReplacement) return null;
      for (const [which, kept] of watches.entries()) {
        if (hasChanged) kept.from = state.tick;
        if (hasChanged || state.tick >= kept.until) replace(kept, which, state);
      }
      nextReplacement = Math.min(...watches.map(({ until }) => until));
      isWaiting = false;
      toCome = state.interventionsToCome;
      return null;
    },
    isLooking: (state) => !isToBeSteered(state),
    nextTick: (state) => {
      // The last feed step comes into force in the tick after its own; after an intervention there is a look in any case.
      if (state.nextStep < steps.length) return lastStepTick + 1;
      return interventionIsDue(state) ? Infinity : nextReplacement;
    },
  };
}
