/** A run looked at in a few chosen ticks only: what has been counted by then, and what lies where. */
import type { Program } from "../network/program.ts";
import { initialState } from "./start-state.ts";
import { advance } from "./tick.ts";

/** Row i is of the end of the tick `ticks[i]`. */
export interface Observation {
  /** Finished cycles since the start, at `row * machines + machine`. */
  readonly cycles: Float64Array;
  /** Items that feeds have released since the start, at `row * feeds + feed`. */
  readonly fed: Float64Array;
  /** Items in buffers, at `row * buffers + buffer`. */
  readonly levels: Int32Array;
  /** Items on belts, at `(row * places + place) * items + item`. */
  readonly onPlaces: Int32Array;
}

/**
 * Steps through every tick up to the last one looked at, from an empty line.
 * @param ticks rising; 0 is the start
 * @param seed of what is left to chance
 */
export function observe(program: Program, ticks: readonly number[], seed?: string): Observation {
  const { machine, feed, buffer, places, itemCount } = program;
  const state = initialState(program, 0, seed);
  const seen: Observation = {
    cycles: new Float64Array(ticks.length * machine.count),
    fed: new Float64Array(ticks.length * feed.count),
    levels: new Int32Array(ticks.length * buffer.count),
    onPlaces: new Int32Array(ticks.length * places.length * itemCount),
  };
  for (const [row, tick] of ticks.entries()) {
    advance(state, tick, false);
    // What finished when is not looked at: the counts say it.
    state.completions.count = 0;
    seen.cycles.set(state.totals.cycles, row * machine.count);
    seen.fed.set(state.totals.fed, row * feed.count);
    seen.levels.set(state.bufferCount, row * buffer.count);
    seen.onPlaces.set(state.onPlaces, row * places.length * itemCount);
  }
  state.release();
  return seen;
}
