/** The recommended start item by item: some of one machine's stock at another, or what hands have left, in ever smaller steps down to one. */
import { best } from "../recommended/recommended.ts";
import { type Asked, mayReplace, soundAmong } from "./front.ts";
import type { Grid } from "./grid.ts";
import { shifted } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

/** Finer than the rule: here every item counts. */
const FINE = { products: 0.5, minutes: 0.01 };
/** Starts tried at most. */
const MOST_BY_ITEM = 400;

export interface ByItem {
  readonly best: Trial;
  /** No item more, less or elsewhere is better. */
  readonly isProved: boolean;
}

/** @throws StoppedError */
export async function itemByItem(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<ByItem> {
  const largest = Math.max(0, ...from.code.placed);
  if (from.code.known !== null || largest === 0) return { best: from, isProved: from.code.known === null };
  const isIn = mayReplace(from, asked);
  const most = tried.count() + MOST_BY_ITEM;
  let winner = from;
  // Of all seen, not of two at a time: better by more than a grain may go round in a circle.
  const seen = new Set([from]);
  for (let count = Math.max(1, Math.floor(largest / 2)); count >= 1; count = Math.floor(count / 2)) {
    for (;;) {
      const codes = shifted(grid, winner.code, count);
      const fresh = codes.filter((code) => !tried.isKnown(code)).length;
      if (tried.count() + fresh > most) return { best: winner, isProved: false };
      for (const one of await tried.ask(codes)) if (isIn(one)) seen.add(one);
      const sound = soundAmong([...seen]);
      const least = best(
        sound.map(({ start }) => start),
        FINE,
        asked.priority,
      );
      const next = sound.find(({ start }) => start === least);
      if (next === undefined || next === winner) break;
      winner = next;
    }
  }
  return { best: winner, isProved: true };
}
