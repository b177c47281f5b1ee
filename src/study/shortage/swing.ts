/** How far a moving average swings. */
import type { Events } from "../../analysis/events.ts";

export interface Swing {
  /** Products within the window: the fewest, when first, and the most. */
  readonly low: number;
  readonly lowTick: number;
  readonly high: number;
}

/**
 * The extremes of what falls into the window (tick − half, tick + half] while its middle goes from one tick to another,
 * both included.
 */
export function swingOf({ count, tick, amount }: Events, half: number, fromTick: number, toTick: number): Swing {
  let entering = 0;
  let leaving = 0;
  let inside = 0;
  let middle = fromTick;
  const moveOn = (): void => {
    for (; entering < count && (tick[entering] ?? 0) <= middle + half; entering++) inside += amount[entering] ?? 0;
    for (; leaving < count && (tick[leaving] ?? 0) <= middle - half; leaving++) inside -= amount[leaving] ?? 0;
  };
  moveOn();
  let [low, lowTick, high] = [inside, middle, inside];
  for (;;) {
    const enters = entering < count ? (tick[entering] ?? 0) - half : Infinity;
    const leaves = leaving < count ? (tick[leaving] ?? 0) + half : Infinity;
    middle = Math.min(enters, leaves);
    if (middle > toTick) return { low, lowTick, high };
    moveOn();
    if (inside < low) [low, lowTick] = [inside, middle];
    high = Math.max(high, inside);
  }
}
