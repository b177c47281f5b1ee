/** The tactic that all others are compared with, and names as sentences have them. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { oneLine } from "../text-width.ts";

export const BASELINE = "none";

export function baselineOf({ tactics }: Comparison): TacticResult | undefined {
  return tactics.find(({ id }) => id === BASELINE);
}

export function nameOf(id: string): string {
  return id === BASELINE ? `doing nothing (${BASELINE})` : oneLine(id);
}
