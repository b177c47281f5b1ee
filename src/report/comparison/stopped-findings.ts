/** What a comparison says of tactics with which the line comes to a standstill. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { baselineOf, makesNothing, nameOf } from "../text/baseline.ts";
import { duration, listed } from "../text/figures.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";

interface StoppedFinding {
  readonly code: "stopped";
  readonly text: string;
}

/** Where nothing that is compared keeps the line going. */
export function standstillSentence({ feed_ends: feedEnds, tactics }: Comparison): string {
  if (feedEnds) {
    return "No feed offers anything in the end, so the line stops whatever is done: there is nothing to compare.";
  }
  const whatever = tactics.every(makesNothing)
    ? "whatever is done"
    : "with nothing done and with all that the floor grants";
  return `The line comes to a standstill ${whatever}: ${CHANGE_FIRST}.`;
}

/** Of a line that stops as it is and not with the winner. */
export function stopsAsItIs(comparison: Comparison): string {
  const base = baselineOf(comparison);
  if (base === undefined || !makesNothing(base)) return "";
  const { stops_at_min: stop } = base;
  return ` Without a tactic the line comes to a standstill${stop === null ? "" : `, at ${duration(stop)}`}.`;
}

export function stopped(comparison: Comparison): StoppedFinding[] {
  const all = comparison.tactics.filter(makesNothing);
  if (all.length === 0) return [];
  const never = all.filter((tactic) => tactic.first_product_min === null);
  const later = all.filter((tactic) => tactic.first_product_min !== null);
  const parts: string[] = [];
  if (later.length > 0) parts.push(`The line stops for good with ${listed(later.map(withTime))}`);
  if (never.length > 0) {
    const whom = listed(never.map(({ id }) => nameOf(id)));
    parts.push(`${parts.length === 0 ? "The line" : "it"} never makes anything with ${whom}`);
  }
  return [{ code: "stopped", text: `${parts.join("; ")}.${atTheNextStop(comparison)}` }];
}

function withTime({ id, stops_at_min: stop }: TacticResult): string {
  return stop === null ? nameOf(id) : `${nameOf(id)} at ${duration(stop)}`;
}

/** A lucky start is no cure. */
function atTheNextStop(comparison: Comparison): string {
  if (comparison.winner === null || stopsAsItIs(comparison) === "" || comparison.feed_ends) return "";
  return ` A start that gets round the standstill need not do so when something stops later: ${CHANGE_FIRST}.`;
}
