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

/**
 * Item by item, and then without the crumbs that do nothing by the rule. What gains nothing by the rule is not worth counting
 * items for: whole buffers stay.
 * @throws StoppedError
 */
export async function itemByItem(grid: Grid, tried: Tried, from: Trial, asked: Asked): Promise<ByItem> {
  const found = await settledByItem(grid, tried, from, asked);
  if (found.best === from) return found;
  const best = await swept(tried, found.best, asked);
  if (isWorth(best, from)) return best === found.best ? found : { best, isProved: false };
  const beside = soundAmong([from, ...(await tried.ask(shifted(grid, from.code, 1)))]);
  const isIn = mayReplace(from, asked);
  return { best: from, isProved: !beside.some((one) => isIn(one) && isWorth(one, from)) };
}

function isWorth({ start }: Trial, { start: than, grain, code }: Trial): boolean {
  return !covers({ ...than, handled: than.handled - crumbOf(code) }, start, grain);
}

/** Of a full buffer, no more than a crumb. */
const CRUMB = 1 / 10;

function crumbOf({ placed }: Code): number {
  return CRUMB * Math.max(0, ...placed);
}

/** Nothing at machines with next to nothing, the least first, as long as that is as good to the rule's grain. */
async function swept(tried: Tried, found: Trial, asked: Asked): Promise<Trial> {
  const isIn = mayReplace(found, asked);
  const crumb = crumbOf(found.code);
  const without = async ({ code }: Trial): Promise<Trial | undefined> => {
    const at = [...code.placed.keys()].filter((i) => isCrumb(code.placed[i] ?? 0, crumb));
    const inOrder = at.toSorted((a, b) => (code.placed[a] ?? 0) - (code.placed[b] ?? 0));
    const trials = await tried.ask(inOrder.map((i) => ({ ...code, placed: code.placed.with(i, 0) })));
    const sound = soundAmong([found, ...trials]);
    return sound.find((one) => one !== found && isIn(one) && covers(one.start, found.start, found.grain));
  };
  let clean = found;
  for (let next = await without(clean); next !== undefined; next = await without(next)) clean = next;
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
