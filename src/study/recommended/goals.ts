/** What a start is to reach, as `best` and `prime` are asked. */
import type { GoalsTold } from "../results.ts";
import type { Start } from "./recommended.ts";

export interface Goals {
  readonly withinMin: number | null;
  readonly lossBelow: number | null;
  readonly handledBelow: number | null;
}

export const NO_GOALS: Goals = { withinMin: null, lossBelow: null, handledBelow: null };

export function goalsTold({ withinMin, lossBelow, handledBelow }: Goals): GoalsTold {
  return { within_min: withinMin, loss_below: lossBelow, handled_below: handledBelow };
}

export type Reached = Pick<Start, "lost" | "timeMin" | "handled">;

export function reaches(start: Reached, goals: Goals): boolean {
  return shortOf(start, goals) <= 0 && isAffordable(start, goals);
}

export function isAffordable({ handled }: Pick<Start, "handled">, { handledBelow }: Goals): boolean {
  return handledBelow === null || handled < handledBelow;
}

/** By how much it misses time and loss, the larger miss in shares of its goal; what is not known misses by any measure. */
export function shortOf({ lost, timeMin }: Pick<Start, "lost" | "timeMin">, { withinMin, lossBelow }: Goals): number {
  // Below, not at: losses are items, and no two differ by less than this.
  const loss = lossBelow === null ? -Infinity : missed((lost ?? Infinity) + 1e-9, lossBelow);
  return Math.max(loss, withinMin === null ? -Infinity : missed(timeMin ?? Infinity, withinMin));
}

function missed(value: number, goal: number): number {
  return (value - goal) / Math.max(1, Math.abs(goal));
}
