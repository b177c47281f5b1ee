/** The recommended start with nothing that it does not need: as long as one step less is as good by the rule, that is taken. */
import { isBetter } from "../recommended/recommended.ts";
import { type Asked, covers, isBeaten, mayReplace, soundAmong } from "./front.ts";
import type { Grid } from "./grid.ts";
import { neighboursOf, weakerThan } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

/** What is taken has no neighbour that is better than it. @throws StoppedError */
export async function leanest(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<Trial> {
  const isBetterThan = (one: Trial, other: Trial): boolean =>
    isBetter(one.start, other.start, from.grain, asked.priority);
  const isIn = mayReplace(from, asked);
  let lean = from;
  for (;;) {
    const weaker = soundAmong([from, ...(await tried.ask(weakerThan(grid, lean.code)))]).filter(
      (one) =>
        one !== from &&
        isIn(one) &&
        covers(one.start, from.start, from.grain) &&
        !isBeaten(one, soundAmong(tried.all())),
    );
    let next: Trial | null = null;
    for (const one of weaker) {
      const beside = soundAmong(await tried.ask(neighboursOf(grid, one.code))).filter(isIn);
      if (!beside.some((other) => isBetterThan(other, one))) {
        next = one;
        break;
      }
    }
    if (next === null) return lean;
    lean = next;
  }
}
