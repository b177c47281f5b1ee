/** A tick by itself. */
import { bookTotals } from "../../src/engine/over-time.ts";
import type { State } from "../../src/engine/state.ts";
import { sweep } from "../../src/engine/tick.ts";
import type { Program } from "../../src/network/program.ts";

/** With a turn for every element, and the totals up to date after it. */
export function advanceOneTick(program: Program, state: State): void {
  state.core.wakeAll();
  sweep(program, state);
  bookTotals(state);
}
