/** A scenario fitted to observed counts. */

import type { FitPlan } from "./fit-given.ts";
import type { FitDone } from "./fit-results.ts";

/** @param onRun told how many runs have been made */
export async function fitScenario(
  plan: Extract<FitPlan, { ok: true }>,
  onRun: (runs: number) => void = () => undefined,
): Promise<FitDone> {
  // Loaded only now, for the libraries that it needs.
  const { fitted } = await import("./fitted.ts");
  return fitted(plan, onRun);
}
