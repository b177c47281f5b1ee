/** What a run says of the limits that its scenario states. */

import type { Outline } from "../analysis/analyse.ts";
import type { LimitResult } from "../analysis/plant-results.ts";

export interface OverLimits {
  /** Minutes for which more lay on the line than a limit allows; `null` without such a limit. */
  readonly over_limit_min: number | null;
  /** Items that lay longer than their limit; `null` without such a limit. */
  readonly over_limit_items: number | null;
}

export function overLimits({
  limits,
  hold_up: holdUp,
  dwell,
}: Pick<Outline, "limits" | "hold_up" | "dwell">): OverLimits {
  const isLimited = (on: LimitResult["what"]): boolean => limits.some(({ what }) => what === on);
  return {
    over_limit_min: isLimited("hold-up") ? holdUp.over_limit_min : null,
    over_limit_items: isLimited("dwell") ? dwell.over_limit_items : null,
  };
}
