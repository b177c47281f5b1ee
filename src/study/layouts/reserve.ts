/** The stock that each layout leaves in infeed buffers, beside the line as it stands: it bridges stops of the feed. */

import { settledPerMin } from "../outcome.ts";
import type { Played } from "../play.ts";
import { type Grain, grainIn } from "../recommended/recommended.ts";
import { infeedStock, settledIntake } from "../recommended/starts.ts";
import type { Unweighed } from "./layout-runs.ts";

interface Laid {
  readonly result: Unweighed;
  readonly base: Played | null;
}

/** @param today the line as it stands; without it, or where that has not settled, nothing is known */
export function withReserve(all: readonly Laid[], today: string | null): Unweighed[] {
  const standing = all.find(({ result }) => result.id === today)?.base ?? null;
  if (standing === null || standing.result.settling.time_min === null) return all.map(({ result }) => result);
  const stockOfToday = infeedStock(standing.result);
  const perMin = settledIntake(standing.result);
  return all.map(({ result, base }) => {
    if (base === null || base.result.settling.time_min === null) return result;
    const stock = infeedStock(base.result);
    return {
      ...result,
      reserve_kept: stockOfToday === 0 ? 1 : stock / stockOfToday,
      bridges_less_min: perMin > 0 ? Math.max(0, stockOfToday - stock) / perMin : 0,
    };
  });
}

/** Below it two layouts are equal: a cycle of each final machine, of the line as it stands or the first that can be built. */
export function grainOf(all: readonly Laid[], today: string | null): Grain {
  const standing = all.find(({ result }) => result.id === today)?.base ?? all.find(({ base }) => base !== null)?.base;
  if (!standing) return NO_GRAIN;
  return grainIn(standing.output.oneCycle, settledPerMin(standing.result.output));
}

export const NO_GRAIN: Grain = { products: 0, minutes: 0 };
