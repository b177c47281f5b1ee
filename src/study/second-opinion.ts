/** The flow solution, where a study needs it. */
import type { FlowRefusal, FlowSolution } from "../analysis/flow/flow.ts";
import type { Run } from "../engine/simulate.ts";

/**
 * Where the whole state recurs, the rates are proved, and no study tells the flow solution beside them: solving it would
 * only take time, in some plants more than the run. Under chance it says nothing of the long run.
 */
export function flowUnlessProved(
  { recurrence, program }: Run,
  solve: () => FlowSolution | FlowRefusal,
): FlowSolution | FlowRefusal {
  if (program.random !== null) return { applies: false, reason: "under chance the long run is not that of the means" };
  return recurrence === null ? solve() : { applies: false, reason: "the rates are proved without it" };
}
