/** The list of starts: which are on it, what one step less loses, their names, and how the file states them. */
import type { Tactic } from "../../scenario/tactic.ts";
import { tacticBody } from "../../scenario/write-tactic.ts";
import { NO_TACTIC } from "../play.ts";
import { isBetter } from "../recommended.ts";
import type { KnownStart, OneLess, TacticEntry } from "./best-results.ts";
import { type Asked, frontOf, shortList, soundAmong, winnerAmong } from "./front.ts";
import { type Code, type Grid, nameOf, tacticOf } from "./grid.ts";
import { weakerThan } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

/** Starts of the list. */
const MOST_STARTS = 12;

/** Nothing done and what is recommended are always among them, and no other that one of these beats. */
export function listFrom(none: Trial, winner: Trial | null, trials: readonly Trial[]) {
  const front = frontOf(trials).filter(({ start }) => start.id !== none.start.id && start.id !== winner?.start.id);
  const must = winner === null || winner.start.id === none.start.id ? [none] : [none, winner];
  const shown = shortList(front, must, MOST_STARTS);
  return { shown, leftOut: Math.max(0, front.length + must.length - shown.length) };
}

export async function lessOf(
  grid: Grid,
  tried: Tried,
  listed: readonly Trial[],
  { priority }: Asked,
): Promise<Map<Trial, OneLess>> {
  const found = new Map<Trial, OneLess>();
  for (const trial of listed) {
    const [first, ...others] = soundAmong(await tried.ask(weakerThan(grid, trial.code)));
    if (first === undefined) continue;
    const least = others.reduce(
      (best, one) => (isBetter(one.start, best.start, one.grain, priority) ? one : best),
      first,
    );
    const { lost: ramp_up_loss, timeMin: to_95_min } = least.start;
    found.set(trial, { what: lessText(grid, trial.code, least.code), ramp_up_loss, to_95_min });
  }
  return found;
}

function lessText(grid: Grid, code: Code, less: Code): string {
  const at = code.placed.findIndex((amount, i) => amount !== less.placed[i]);
  if (at >= 0) return `nothing at ${grid.machines[at]?.id ?? ""}`;
  const dial = code.doses.findIndex((dose, i) => dose !== less.doses[i]);
  const doses = grid.dials[dial]?.doses ?? [];
  const weaker = doses[(less.doses[dial] ?? 0) - 1];
  return weaker?.name ?? `without ${doses[(code.doses[dial] ?? 0) - 1]?.name ?? ""}`;
}

/** Those that are known keep their names, the others are numbered. */
export function namesFor(grid: Grid, listed: readonly Trial[]): Map<Trial, Tactic> {
  const own = new Set(grid.known.map(({ id }) => id));
  let nth = 0;
  const next = (): string => {
    nth++;
    return own.has(`start-${nth}`) ? next() : `start-${nth}`;
  };
  return new Map(
    listed.map((trial) => {
      const isNumbered = trial.code.known === null && nameOf(grid, trial.code) !== NO_TACTIC.id;
      return [trial, tacticOf(grid, trial.code, isNumbered ? next() : undefined)];
    }),
  );
}

/** Of the tactics that are known without a search. */
export function bestKnown(none: Trial, tried: Tried, asked: Asked): KnownStart | null {
  const known = tried.all().filter(({ code }) => code.known !== null);
  const best = winnerAmong(none, known, asked) ?? (none.start.isSlower ? null : none);
  if (best === null) return null;
  const { lost: ramp_up_loss, timeMin: to_95_min, handled: items_handled } = best.start;
  return { id: best.code.known ?? NO_TACTIC.id, ramp_up_loss, to_95_min, items_handled };
}

export function entryOf(tactic: Tactic): TacticEntry {
  const body = tacticBody(tactic);
  const { prefill } = { prefill: undefined, ...body };
  return prefill instanceof Map ? { ...body, prefill: Object.fromEntries(prefill) } : body;
}
