/**
 * The engine's inner loop, in AssemblyScript: the part of TypeScript that compiles to WebAssembly. What is exported here is
 * what the host (../core.ts) calls, sets and reads.
 */
import { completions } from "./completions";
import { completionRoom, completionsInTick } from "./memory";
import { nextLook, whichIsSame } from "./recurrence";
import { hasRoomForSample, nextSample, takeSample } from "./samples";
import { tick } from "./schedule";
import { sweep } from "./tick";

export { put } from "./buffer";
export { startChance } from "./chance";
export { completions } from "./completions";
export { nextStep } from "./feed";
export { changeHeld, heldInAll, highHeld, longestDwell, lowHeld, peakHeld, peakTick, resetHeld } from "./held";
export { isSame, keep } from "./recurrence";
export { sampled, sampleFrom, takeSample } from "./samples";
export { startFrom, tick, wakeAll } from "./schedule";
export { productOf } from "./uniform";

/**
 * Tick after tick up to `to`, or until there may be no room left for the cycles that finish in the next, or for its sample.
 * @param isWatching stop, too, as soon as the state is a kept one again
 * @returns which kept state, or -1
 */
export function advance(to: i32, isWatching: bool): i32 {
  while (tick < to && hasRoom()) {
    const next = min(to, nextSample);
    const stop = isWatching ? min(next, nextLook()) : next;
    while (tick < stop && hasRoom()) sweep();
    if (tick === nextSample) takeSample();
    const found = isWatching ? whichIsSame() : -1;
    if (found >= 0) return found;
  }
  return -1;
}

function hasRoom(): bool {
  return completions + completionsInTick <= completionRoom && hasRoomForSample();
}
