/** The list of starts: which are on it, what one step less loses, their names, and how the file states them. */
import type { Tactic } from "../../scenario/tactic.ts";
import { NO_TACTIC } from "../play.ts";
import { isBetter } from "../recommended/recommended.ts";
import type { KnownStart, OneLess } from "./best-results.ts";
import { type Asked, beats, frontOf, shortList, soundAmong, winnerAmong } from "./front.ts";
import { type Code, type Grid, keyOf, noCode, tacticOf } from "./grid.ts";
import type { Known } from "./known.ts";
import { weakerThan } from "./neighbours.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

/** Starts of the list. */
const MOST_STARTS = 12;

/** Nothing done and what is recommended are always among them, and no other that one of these beats. */
export function listFrom(none: Trial, winner: Trial | null, trials: readonly Trial[]) {
  const isApart = ({ start }: Trial): boolean =>
    start.id !== none.start.id &&
    start.id !== winner?.start.id &&
    // What is recommended has nothing that it does not need, and so may be worse within the grain.
    (winner === null || !(beats(start, winner.start) || beats(winner.start, start)));
  const front = frontOf(trials).filter(isApart);
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
export function namesFor(grid: Grid, known: Known, listed: readonly Trial[]): Map<Trial, Tactic> {
  const names = namesByKey(known);
  const own = new Set(grid.known.map(({ id }) => id));
  let nth = 0;
  const next = (): string => {
    nth++;
    return own.has(`start-${nth}`) ? next() : `start-${nth}`;
  };
  return new Map(
    listed.map((trial) => {
      const isNone = keyOf(trial.code) === keyOf(noCode(grid));
      const id = isNone ? NO_TACTIC.id : (names.get(keyOf(trial.code)) ?? next());
      return [trial, grid.known.find((one) => one.id === id) ?? tacticOf(grid, trial.code, id)];
    }),
  );
}

/** Of those that are the same start the first-named. */
function namesByKey(known: Known): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const [id, code] of known) if (!names.has(keyOf(code))) names.set(keyOf(code), id);
  return names;
}

/** Of the tactics that are known without a search, by the name of the first that does it; `null`: not even doing nothing is left. */
export function bestKnown(none: Trial, known: Known, tried: Tried, asked: Asked) {
  const names = namesByKey(known);
  const best =
    winnerAmong(
      none,
      tried.all().filter(({ code }) => names.has(keyOf(code))),
      asked,
    ) ?? (none.start.isSlower ? null : none);
  return best && { trial: best, id: names.get(keyOf(best.code)) ?? NO_TACTIC.id };
}

export function knownStart({ trial, id }: NonNullable<ReturnType<typeof bestKnown>>): KnownStart {
  const { lost: ramp_up_loss, timeMin: to_95_min, handled: items_handled } = trial.start;
  return { id, ramp_up_loss, to_95_min, items_handled };
}
