/** Where stock helps: for a number of buffers to fill, those with which the line has full output first, beside what is naive. */
import { type Code, type Grid, handledAt, handledBy, noCode } from "./grid.ts";
import { allPlacements, more, moved } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

export interface PlacedCount {
  readonly buffers: number;
  readonly best: Trial;
  /** `null` where hands cannot place so much there. */
  readonly head: Trial | null;
  readonly tail: Trial | null;
  /** As many items in equal shares of all buffers. */
  readonly even: Trial | null;
  /** All were tried; else none that has one buffer moved is better, if `isProved`. */
  readonly isComplete: boolean;
  readonly isProved: boolean;
}

/** So many are tried one and all. */
export const MOST_PLACEMENTS = 300;
/** Numbers of buffers looked at, on a long line. */
const MOST_COUNTS = 8;

/**
 * @param mayTry whether so many more may be tried
 * @param complete where they are no more than this, all are
 */
export async function bestPlacements(
  grid: Grid,
  tried: Tried,
  mayTry: (more: number) => boolean,
  complete = MOST_PLACEMENTS,
): Promise<PlacedCount[]> {
  if (grid.machines.length === 0) return [];
  const none = noCode(grid);
  const all = allPlacements(grid, complete);
  const codes = (all ?? []).map((placed) => ({ ...none, placed }));
  if (all !== null) await tried.ask(codes);
  const found: PlacedCount[] = [];
  let last: Code = none;
  for (const buffers of countsFor(grid)) {
    const naive = await naiveOf(grid, tried, buffers);
    let isProved = true;
    let best: Trial | null;
    if (all === null) {
      const starts = [
        await grown(grid, tried, last, buffers),
        naive.head,
        naive.tail,
        ...(await middle(grid, tried, buffers)),
      ];
      const climbed = await settledOn(grid, tried, bestOf(starts), mayTry);
      [best, isProved] = [climbed.best, climbed.isProved];
    } else {
      best = bestOf(await tried.ask(codes.filter(({ placed }) => filledIn(placed) === buffers)));
    }
    if (best === null) continue;
    last = best.code;
    const even = await one(tried, { ...none, placed: spread(grid, best.start.handled) });
    found.push({ buffers, best, ...naive, even, isComplete: all !== null, isProved });
    if (!isProved) break;
  }
  return found;
}

function filledIn(placed: readonly number[]): number {
  return placed.filter((amount) => amount > 0).length;
}

function countsFor(grid: Grid): number[] {
  const costs = grid.machines.map(({ rooms, portion }) => handledAt(rooms, portion)).toSorted((a, b) => a - b);
  let items = 0;
  const most = costs.filter((cost) => {
    items += cost;
    return items <= grid.mostItems;
  }).length;
  const counts = Array.from({ length: most }, (_, i) => i + 1);
  if (most <= 12) return counts;
  return [...new Set(Array.from({ length: MOST_COUNTS }, (_, i) => Math.round(most ** ((i + 1) / MOST_COUNTS))))];
}

async function one(tried: Tried, code: Code): Promise<Trial | null> {
  const [trial = null] = await tried.ask([code]);
  return trial;
}

async function naiveOf(grid: Grid, tried: Tried, buffers: number): Promise<Pick<PlacedCount, "head" | "tail">> {
  const count = grid.machines.length;
  const from = (first: number): Promise<Trial | null> => filledFrom(grid, tried, first, buffers);
  return { head: await from(0), tail: await from(count - buffers) };
}

async function filledFrom(grid: Grid, tried: Tried, first: number, buffers: number): Promise<Trial | null> {
  const placed = grid.machines.map(({ portion }, i) => (i >= first && i < first + buffers ? portion : 0));
  return handledBy(grid, placed) > grid.mostItems ? null : one(tried, { ...noCode(grid), placed });
}

async function middle(grid: Grid, tried: Tried, buffers: number): Promise<(Trial | null)[]> {
  const free = grid.machines.length - buffers;
  return [
    await filledFrom(grid, tried, Math.round(free / 3), buffers),
    await filledFrom(grid, tried, Math.round(free / 2), buffers),
  ];
}

/** From fewer buffers on, each time with the one that helps most. */
async function grown(grid: Grid, tried: Tried, from: Code, buffers: number): Promise<Trial | null> {
  let best = await one(tried, from);
  while (best !== null && filledIn(best.code.placed) < buffers) best = bestOf(await tried.ask(more(grid, best.code)));
  return best;
}

/** Until no buffer moved to another machine makes it better. */
async function settledOn(
  grid: Grid,
  tried: Tried,
  from: Trial | null,
  mayTry: (more: number) => boolean,
): Promise<{ readonly best: Trial | null; readonly isProved: boolean }> {
  let best = from;
  while (best !== null) {
    const codes = moved(grid, best.code);
    if (!mayTry(codes.filter((code) => !tried.isKnown(code)).length)) return { best, isProved: false };
    const better: Trial | null = bestOf([best, ...(await tried.ask(codes))]);
    if (better === best) break;
    best = better;
  }
  return { best, isProved: true };
}

/** The first full output; then the 95 % time, then the loss; of equals the first. */
function bestOf(trials: readonly (Trial | null)[]): Trial | null {
  let best: Trial | null = null;
  for (const trial of trials) if (trial !== null && (best === null || isFuller(trial, best))) best = trial;
  return best;
}

const ROUNDING = 1e-9;

function isFuller(a: Trial, b: Trial): boolean {
  const [own, its] = [orderOf(a), orderOf(b)];
  const at = own.findIndex((value, i) => Math.abs(value - (its[i] ?? 0)) > ROUNDING);
  return at >= 0 && (own[at] ?? 0) < (its[at] ?? 0);
}

function orderOf({ start, fullMin }: Trial): number[] {
  const isSound = start.isSettled && !start.isSlower && start.makesNoLess;
  return [
    isSound ? 0 : 1,
    fullMin ?? Number.MAX_VALUE,
    start.timeMin ?? Number.MAX_VALUE,
    start.lost ?? Number.MAX_VALUE,
  ];
}

/** In equal shares of every buffer's room, what is left over one by one from the head. */
function spread({ machines }: Grid, items: number): number[] {
  const room = machines.reduce((sum, { rooms }) => sum + handledAt(rooms, Infinity), 0);
  const placed = machines.map(({ rooms }) => Math.floor((Math.max(...rooms) * items) / room));
  let left = items - machines.reduce((sum, { rooms }, i) => sum + handledAt(rooms, placed[i] ?? 0), 0);
  return placed.map((amount, i) => {
    const rooms = machines[i]?.rooms ?? [];
    const cost = handledAt(rooms, amount + 1) - handledAt(rooms, amount);
    if (cost === 0 || cost > left) return amount;
    left -= cost;
    return amount + 1;
  });
}
