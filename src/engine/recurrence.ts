/**
 * Proving that a line has settled. Without random elements a line is a finite machine: once its whole state recurs, it
 * repeats for ever. (The same argument serves for dataflow graphs: A. H. Ghamarian and others, "Throughput analysis of
 * synchronous data flow graphs", ACSD 2006.)
 *
 * The state of an earlier tick is kept and each later one is held against it. The kept state is replaced at growing
 * intervals, so that it lies behind the ramp-up at last (after R. P. Brent, "An improved Monte Carlo factorization
 * algorithm", BIT 20, 1980). Two states are kept: one replaced often, which finds short periods soon, and one that
 * stays long enough to find long ones.
 *
 * States are compared as the future sees them: times count from the present, and all that is due by now is due alike.
 */
import type { Program } from "../network/program.ts";
import { totalsNow } from "./over-time.ts";
import { interventionIsDue } from "./priming.ts";
import type { State, Totals } from "./state.ts";

/** A proved recurrence: the states after `atTick - periodTicks` and after `atTick` are the same. */
export interface Recurrence {
  readonly atTick: number;
  readonly periodTicks: number;
  /** What one period adds to the totals; dwell times only once all that was held before has left. */
  readonly period: Totals;
}

interface Kept {
  readonly state: Pick<State, (typeof DECIDING)[number]>;
  tick: number;
  totals: Totals;
  until: number;
  /** The tick from which intervals grow: the start, or the last feed step or intervention. */
  from: number;
  interventionsToCome: number;
  readonly growth: number;
}

/** The fields of a state that decide its future. */
const DECIDING = [
  "paceDue",
  "paceLag",
  "feedTurn",
  "vehicleItems",
  "beltHead",
  "beltCount",
  "placeReady",
  "placeItem",
  "bufferCount",
  "dividerTurn",
  "mergeTurn",
  "machineBusy",
] as const;

const SHORTEST_WATCH_TICKS = 64;
const GROWTHS = [1.25, 2];

export interface RecurrenceWatch {
  /** Called after each tick; returns a recurrence once there is one. */
  readonly observe: (state: State) => Recurrence | null;
}

export function watchForRecurrence(program: Program, start: State): RecurrenceWatch {
  const watches = GROWTHS.map((growth) => keep(program, start, growth));
  let isWaiting = false;
  return {
    observe(state) {
      // Feed steps and interventions still to come are part of the future, but not of the compared state: it is kept once
      // the last is in force. (The start is kept before the first feed steps are. It recurs only where no feed's item is
      // ever taken.)
      if (state.nextStep < program.feed.steps.length || interventionIsDue(state)) {
        isWaiting = true;
        return null;
      }
      for (const kept of watches) {
        const changed = isWaiting || state.interventionsToCome !== kept.interventionsToCome;
        if (!changed && isSame(program, state, kept)) {
          return {
            atTick: state.tick,
            periodTicks: state.tick - kept.tick,
            period: totalsNow(program, state, kept.totals),
          };
        }
        if (changed) kept.from = state.tick;
        if (changed || state.tick >= kept.until) replace(program, kept, state);
      }
      isWaiting = false;
      return null;
    },
  };
}

function keep(program: Program, state: State, growth: number): Kept {
  return {
    state: {
      paceDue: state.paceDue.slice(),
      paceLag: state.paceLag.slice(),
      feedTurn: state.feedTurn.slice(),
      vehicleItems: state.vehicleItems.slice(),
      beltHead: state.beltHead.slice(),
      beltCount: state.beltCount.slice(),
      placeReady: state.placeReady.slice(),
      placeItem: state.placeItem.slice(),
      bufferCount: state.bufferCount.slice(),
      dividerTurn: state.dividerTurn.slice(),
      mergeTurn: state.mergeTurn.slice(),
      machineBusy: state.machineBusy.slice(),
    },
    tick: state.tick,
    totals: totalsNow(program, state),
    until: SHORTEST_WATCH_TICKS,
    from: state.tick,
    interventionsToCome: state.interventionsToCome,
    growth,
  };
}

function replace(program: Program, kept: Kept, state: State): void {
  for (const field of DECIDING) kept.state[field].set(state[field]);
  kept.tick = state.tick;
  kept.interventionsToCome = state.interventionsToCome;
  kept.totals = totalsNow(program, state);
  const grown = kept.from + Math.floor((state.tick - kept.from) * kept.growth);
  kept.until = Math.max(state.tick + SHORTEST_WATCH_TICKS, grown);
}

function isSame(program: Program, state: State, kept: Kept): boolean {
  return (
    samePaces(program, state, kept) &&
    sameCounts(state.bufferCount, kept.state.bufferCount) &&
    sameCounts(state.beltCount, kept.state.beltCount) &&
    sameCounts(state.machineBusy, kept.state.machineBusy) &&
    sameCounts(state.feedTurn, kept.state.feedTurn) &&
    sameCounts(state.vehicleItems, kept.state.vehicleItems) &&
    sameCounts(state.dividerTurn, kept.state.dividerTurn) &&
    sameCounts(state.mergeTurn, kept.state.mergeTurn) &&
    sameBelts(program, state, kept)
  );
}

function sameCounts(a: Int32Array | Uint8Array, b: Int32Array | Uint8Array): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** A pace that is due by now starts a new schedule at its next turn, whatever its lag; a feed or vehicle only after an interval. */
function samePaces(program: Program, state: State, kept: Kept): boolean {
  const { paceDue, paceLag } = kept.state;
  for (let i = 0; i < paceDue.length; i++) {
    const now = state.paceDue[i]! - state.tick;
    const then = paceDue[i]! - kept.tick;
    const restartsFrom = i < 2 * program.feed.count ? -state.paceWhole[i]! : 0;
    if (now <= restartsFrom && then <= restartsFrom) continue;
    if (now !== then || state.paceLag[i] !== paceLag[i]) return false;
  }
  return true;
}

/** An item that may leave at the next tick at the latest is simply waiting. */
function sameBelts(program: Program, state: State, kept: Kept): boolean {
  const { ring, capacity } = program.belt;
  for (let b = 0; b < capacity.length; b++) {
    const count = state.beltCount[b]!;
    for (let n = 0; n < count; n++) {
      const here = ring[b]! + ((state.beltHead[b]! + n) % capacity[b]!);
      const there = ring[b]! + ((kept.state.beltHead[b]! + n) % capacity[b]!);
      if (state.placeItem[here] !== kept.state.placeItem[there]) return false;
      const now = state.placeReady[here]! - state.tick;
      const then = kept.state.placeReady[there]! - kept.tick;
      if (now !== then && (now > 1 || then > 1)) return false;
    }
  }
  return true;
}
