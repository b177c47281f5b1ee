/** Ticks, which the core does (core/tick.ts says what happens in one). */
import type { Program } from "../network/program.ts";
import { type Samples, takeSamplesOver } from "./samples.ts";
import { type State, takeOver } from "./state.ts";

/** The next tick. */
export function sweep(_: Program, state: State): void {
  advance(state, state.tick + 1, false);
}

/**
 * Tick after tick up to `to`, or until an awaited buffer is full.
 * @param isWatching stop, too, as soon as the state is one of the two kept ones again
 * @param samples where those go that the core takes
 * @returns which kept state; below 0 none
 */
export function advance(state: State, to: number, isWatching: boolean, samples?: Samples): number {
  while (state.tick < to) {
    const found = state.core.advance(to, isWatching);
    takeOver(state);
    if (samples) takeSamplesOver(samples, state);
    if (found !== -1) return found;
  }
  return -1;
}
