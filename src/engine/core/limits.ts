/** Time for which more lies on the line than its limits allow. */
import {
  bufferCount,
  holdUp,
  itemCount,
  limitBuffers,
  limitBuffersStart,
  limitCount,
  limitIsPlant,
  limitItem,
  limitMost,
  limitPeak,
  limitPeakTick,
  limitPlace,
  onPlaces,
  overAnyTicks,
  overLimitItemTicks,
  overLimitTicks,
} from "./memory";
import { tick } from "./schedule";

/** At the end of a tick. */
export function countOverLimits(): void {
  let isOver = false;
  for (let i = 0; i < limitCount; i++) {
    let lies: f64 = limitIsPlant[i] ? holdUp[limitItem[i]] : 0;
    const place = limitPlace[i];
    if (place >= 0) lies += onPlaces[place * itemCount + limitItem[i]];
    for (let b = limitBuffersStart[i]; b < limitBuffersStart[i + 1]; b++) lies += bufferCount[limitBuffers[b]];
    if (lies > limitMost[i]) {
      overLimitTicks[i] = overLimitTicks[i] + 1;
      overLimitItemTicks[i] = overLimitItemTicks[i] + (lies - <f64>limitMost[i]);
      isOver = true;
    }
    if (lies > limitPeak[i]) {
      limitPeak[i] = lies;
      limitPeakTick[i] = tick;
    }
  }
  if (isOver) overAnyTicks[0] = overAnyTicks[0] + 1;
}
