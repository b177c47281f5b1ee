/** The recommended start with nothing that it does not need: as long as one step less is as good by the rule, that is taken. */
import { isBetter } from "../recommended/recommended.ts";
import { type Asked, covers, isBeaten, mayReplace, soundAmong } from "./front.ts";
import type { Grid } from "./grid.ts";
import { neighboursOf, weakerThan } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import { askInTurn, type Tried } from "./tried.ts";

/** What is taken has no neighbour that is better than it. @throws StoppedError */
export async function leanest(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<Trial> {
  const isIn = mayReplace(from, asked);
  const refused = new Set<Trial>();
  const isAsGood = (one: Trial): boolean =>
    isIn(one) && covers(one.start, from.start, from.grain) && !isBeaten(one, soundAmong(tried.all()));
  const oneLess = async ({ code }: Trial): Promise<Trial | undefined> => {
    const weaker = soundAmong([from, ...(await tried.ask(weakerThan(grid, code)))]);
    return weaker.find((one) => one !== from && !refused.has(one) && isAsGood(one));
  };
  const isProved = async (one: Trial): Promise<boolean> => {
    if (!isAsGood(one)) return false;
    const beside = neighboursOf(grid, one.code);
    const fresh = beside.filter((code) => !tried.isKnown(code));
    const hasBetter = (others: readonly Trial[]): boolean =>
      soundAmong([one, ...others]).some(
        (other) => isIn(other) && isBetter(other.start, one.start, from.grain, asked.priority),
      );
    return !hasBetter(await tried.ask(beside.filter(tried.isKnown))) && askInTurn(tried, fresh, hasBetter);
  };
  let lean = from;
  // To prove one takes far more than to find it: all steps at once, and only the last is proved; where it cannot be, one by one.
  for (let most = Infinity; ; ) {
    const way: Trial[] = [];
    for (let next = await oneLess(lean); next !== undefined && way.length < most; next = await oneLess(next))
      way.push(next);
    if (way.length === 0) return lean;
    for (let last = way.pop(); last !== undefined; last = way.pop()) {
      if (await isProved(last)) {
        lean = last;
        break;
      }
      refused.add(last);
      most = 1;
    }
  }
}
