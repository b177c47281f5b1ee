/**
 * The engine's inner loop, in AssemblyScript: the part of TypeScript that compiles to WebAssembly. What is exported here is
 * what the host (../core.ts) calls, sets and reads.
 */
import { completions } from "./completions";
import { completionRoom, completionsInTick } from "./memory";
import { nextLook, whichIsSame } from "./recurrence";
import { hasRoomForSample, nextSample, takeSample } from "./samples";
import { goal, goTo, isAwaited, tick } from "./schedule";
import { pass, sweep } from "./tick";

export { put } from "./buffer";
export { startChance } from "./chance";
export { completions } from "./completions";
export { nextStep } from "./feed";
export {
  changeHoldUp,
  highHoldUp,
  holdUpInAll,
  longestDwell,
  lowHoldUp,
  peakHoldUp,
  peakTick,
  resetHoldUp,
} from "./hold-up";
export { isSame, keep } from "./recurrence";
export { sampled, sampleFrom, takeSample } from "./samples";
export { startFrom, tick, wakeAll } from "./schedule";
export { productOf } from "./uniform";

/** What `advance` returns beside which kept state. */
const NOTHING = -1;
const AWAITED = -2;

/**
 * Tick after tick up to `to`, or until an awaited buffer is full, or there may be no room left for the cycles that finish in the
 * next, or for its sample.
 * @param isWatching stop, too, as soon as the state is a kept one again
 * @returns which kept state, AWAITED after a tick in which such a buffer got full, or NOTHING
 */
export function advance(to: i32, isWatching: bool): i32 {
  while (tick < to && hasRoom()) {
    const next = min(to, nextSample);
    goTo(isWatching ? min(next, nextLook()) : next);
    while (hasRoom()) {
      pass(goal);
      if (tick >= goal) break;
      sweep();
    }
    if (tick === nextSample) takeSample();
    const found = isWatching ? whichIsSame() : NOTHING;
    if (found !== NOTHING) return found;
    if (isAwaited) return AWAITED;
  }
  return NOTHING;
}

function hasRoom(): bool {
  return completions + completionsInTick <= completionRoom && hasRoomForSample();
}
