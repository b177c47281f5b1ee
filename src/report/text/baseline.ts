/** The tactic that all others are compared with, names as sentences have them, and what stands still. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { minutesOrDash } from "./cells.ts";
import { minutesCell } from "./figures.ts";
import { oneLine } from "./text-width.ts";

export const BASELINE = "none";

export function baselineOf<T extends { readonly id: string }>({
  tactics,
}: {
  readonly tactics: readonly T[];
}): T | undefined {
  return tactics.find(({ id }) => id === BASELINE);
}

export function nameOf(id: string): string {
  return id === BASELINE ? `doing nothing (${BASELINE})` : oneLine(id);
}

const DAY_MIN = 1440;

/** What has not settled within the horizon is given a day. */
export function givenMin({ horizon_min: horizonMin }: Pick<Comparison, "horizon_min">): number {
  return Math.max(DAY_MIN, horizonMin);
}

/** A standstill, which nothing speaks for. */
export function makesNothing({ settled_per_min: settled }: TacticResult): boolean {
  return settled === 0;
}

/** For tables: when it settles, or that it stops, and when. */
export function settlesCell({ stops_at_min: stop, settling_min: at }: TacticResult): string {
  return stop === null ? minutesOrDash(at) : `stops ${minutesCell(stop)}`;
}
