/** The recommended start item by item: some of one machine's stock at another, or what hands have left, in ever smaller steps down to one. */
import { best } from "../recommended/recommended.ts";
import { type Asked, covers, mayReplace, soundAmong } from "./front.ts";
import type { Code, Grid } from "./grid.ts";
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

/** Item by item, and then without the crumbs that do nothing by the rule. @throws StoppedError */
export async function itemByItem(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<ByItem> {
  const found = await settledByItem(grid, tried, from, asked);
  const best = await swept(tried, found.best, asked);
  return best === found.best ? found : { best, isProved: false };
}

/** Of a full buffer, no more than a crumb. */
const CRUMB = 1 / 10;

/** Nothing at machines with next to nothing, the least first, as long as that is as good to the rule's grain. */
async function swept(tried: Tried, found: Trial, asked: Asked): Promise<Trial> {
  const isIn = mayReplace(found, asked);
  const crumb = CRUMB * Math.max(0, ...found.code.placed);
  const at = [...found.code.placed.keys()].filter((i) => isCrumb(found.code.placed[i] ?? 0, crumb));
  let clean = found;
  for (const i of at.toSorted((a, b) => (found.code.placed[a] ?? 0) - (found.code.placed[b] ?? 0))) {
    const without: Code = { ...clean.code, placed: clean.code.placed.with(i, 0) };
    const [one] = soundAmong([found, ...(await tried.ask([without]))]).filter((trial) => trial !== found);
    if (one !== undefined && isIn(one) && covers(one.start, found.start, found.grain)) clean = one;
  }
  return clean;
}

function isCrumb(amount: number, most: number): boolean {
  return amount > 0 && amount <= most;
}

async function settledByItem(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<ByItem> {
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
