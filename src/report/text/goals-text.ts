/** Goals of a start in words. */
import type { GoalsTold } from "../../study/results.ts";
import { duration, items, listed } from "./figures.ts";

export function goalsText({ within_min: within, loss_below: lost, handled_below: handled }: GoalsTold): string {
  return listed([
    ...(within === null ? [] : [`95\u00a0% within ${duration(within)}`]),
    ...(lost === null ? [] : [`a loss below ${items(lost)}`]),
    ...(handled === null ? [] : [`fewer than ${items(handled)} handled`]),
  ]);
}
