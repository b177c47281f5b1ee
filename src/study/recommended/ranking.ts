/** Which starts nothing beats, and the order in which they are shown. */

import { makesNothing } from "../outcome.ts";
import type { TacticResult } from "../results.ts";

export type Unranked = Omit<TacticResult, "undominated" | "beaten_by">;

/** What the comparison judges by; each the less the better. */
type Judged = readonly [settling: number, loss: number, handled: number, holdUp: number];

function judged(one: Unranked): Judged {
  const { items_handled: handled, hold_up_peak: holdUp } = one;
  if (one.slower_for_good) return [Infinity, Infinity, handled, holdUp];
  return [one.settling_min ?? Infinity, one.ramp_up_loss ?? Infinity, handled, holdUp];
}

function beats(a: Judged, b: Judged): boolean {
  return a.every((value, i) => value <= (b[i] ?? 0)) && a.some((value, i) => value < (b[i] ?? 0));
}

/** What is recommended first, then the others that nothing beats, the least loss first; what stops comes last. */
export function inOrder(results: readonly Unranked[], winner: string | null): TacticResult[] {
  const order = (a: Unranked, b: Unranked): number => {
    const [settling, loss, ...more] = judged(a);
    const [its, itsLoss, ...itsMore] = judged(b);
    const others = [itsLoss, its, ...itsMore];
    for (const [i, value] of [loss, settling, ...more].entries()) {
      const other = others[i] ?? 0;
      if (value !== other) return value < other ? -1 : 1;
    }
    return 0;
  };
  const sorted = results.toSorted(order);
  const running = sorted.filter((one) => !makesNothing(one));
  const marked = running.map((one): TacticResult => {
    const better = running.find((other) => beats(judged(other), judged(one)));
    return { ...one, undominated: better === undefined, beaten_by: better?.id ?? null };
  });
  const first = (one: TacticResult): number => (one.id === winner ? 0 : one.undominated ? 1 : 2);
  const beatenBy = marked.find(({ undominated }) => undominated)?.id ?? null;
  const stopped = sorted
    .filter(makesNothing)
    // The later the better.
    .toSorted((a, b) => (b.stops_at_min ?? Infinity) - (a.stops_at_min ?? Infinity) || 0)
    .map((one): TacticResult => ({ ...one, undominated: false, beaten_by: beatenBy }));
  return [...marked.toSorted((a, b) => first(a) - first(b)), ...stopped];
}
