/**
 * The search for the best starts. Where all doses with one another are few, all are tried. Else it begins with each dose of each
 * means alone, the best placements of stock, what is known from the file and the standard tactics, and joins the best of these;
 * then it looks at all that lies one step from each start on the list, until none of that is better.
 */
import type { Scenario } from "../../scenario/scenario.ts";
import { type Asked, frontOf, winnerBeside } from "./front.ts";
import { type Code, type Grid, keyOf, noCode } from "./grid.ts";
import { type Known, knownCodes } from "./known.ts";
import { provedLean } from "./lean.ts";
import { allDoses, allPlacements, neighboursOf, otherDoses } from "./neighbours.ts";
import { bestPlacements, MOST_PLACEMENTS, type PlacedCount } from "./placements.ts";
import type { Trial } from "./trial.ts";
import type { Tried } from "./tried.ts";

export interface Found {
  readonly none: Trial;
  readonly known: Known;
  readonly placements: readonly PlacedCount[];
  readonly isComplete: boolean;
  /** As good by the rule as all that was tried on the grid, and so are none of its neighbours better; `null`: not looked for. */
  readonly proved: Trial | null;
  /** Starts on the list of which not all neighbours were tried, the recommended one never. */
  readonly openStarts: number;
}

/** How much is tried. */
export interface Bounds {
  /** Starts in all, but for the proof of the recommended one. */
  readonly most: number;
  /** All starts, or all placements, are tried where they are no more than this. */
  readonly complete: number;
  readonly completePlacements: number;
}

export const USUAL_BOUNDS: Bounds = { most: 700, complete: 1000, completePlacements: MOST_PLACEMENTS };

/** @throws StoppedError */
export async function searchStarts(
  scenario: Scenario,
  grid: Grid,
  tried: Tried,
  asked: Asked,
  { most, complete, completePlacements }: Bounds,
): Promise<Found> {
  const mayTry = (more: number): boolean => tried.count() + more <= most;
  const nothing = noCode(grid);
  const [none] = await tried.ask([nothing]);
  if (none === undefined) throw new Error("the line as it is has been played before");
  const known = knownCodes(scenario, grid);
  await tried.ask([...known.values()]);
  const all = allCodes(grid, Math.min(most, complete));
  if (all !== null) {
    await tried.ask(all);
    const placements = await bestPlacements(grid, tried, mayTry, completePlacements);
    return { none, known, placements, isComplete: true, ...(await climb(grid, tried, none, asked, most)) };
  }
  await tried.ask(aloneCodes(grid));
  // Half is kept for what follows.
  const mayPlace = (more: number): boolean => tried.count() + more <= most / 2;
  const placements = await bestPlacements(grid, tried, mayPlace, completePlacements);
  await tried.ask(joinedCodes(frontOf(tried.all()), placements).slice(0, Math.max(0, Math.floor(most / 4))));
  const climbed = await climb(grid, tried, none, asked, most);
  return { none, known, placements, isComplete: false, ...climbed };
}

function allCodes(grid: Grid, most: number): Code[] | null {
  const doses = allDoses(grid, most);
  const placements = allPlacements(grid, most);
  if (doses === null || placements === null || doses.length * placements.length > most) return null;
  return doses.flatMap((dose) => placements.map((placed) => ({ known: null, doses: dose, placed })));
}

function aloneCodes(grid: Grid): Code[] {
  const nothing = noCode(grid);
  return grid.dials.flatMap(({ doses }, d) =>
    doses.map((_, i) => ({ ...nothing, doses: nothing.doses.with(d, i + 1) })),
  );
}

/** The best of each means with the best of the others, and with the best placements. */
function joinedCodes(front: readonly Trial[], placements: readonly PlacedCount[]): Code[] {
  const own = front.map(({ code }) => code).filter(({ known }) => known === null);
  const stocked = [...placements.map(({ best }) => best.code), ...own.filter(isStocked)];
  const dosed = own.filter((code) => !isStocked(code));
  return [
    ...dosed.flatMap((code) => dosed.map((other) => joined(code, other))),
    ...dosed.flatMap((code) => stocked.map(({ placed }) => ({ ...code, placed }))),
  ];
}

function isStocked({ placed }: Code): boolean {
  return placed.some((amount) => amount > 0);
}

function joined(a: Code, b: Code): Code {
  return { ...a, doses: a.doses.map((dose, i) => (dose > 0 ? dose : (b.doses[i] ?? 0))) };
}

type Climbed = Pick<Found, "proved" | "openStarts">;

/** The recommended one first, and then what lies beside the others as far as may be. */
async function climb(grid: Grid, tried: Tried, none: Trial, asked: Asked, most: number): Promise<Climbed> {
  // What lies beside the grid has no neighbours on it, and must not hide those that have.
  const own = (): Trial[] => tried.all().filter(({ code }) => code.known === null);
  const leads = (one: Trial | null): Trial | null => winnerBeside(one, none, own(), asked);
  let proved: Trial | null = null;
  const seen = new Set<string>();
  const seenFar = new Set<string>();
  for (;;) {
    const winner = leads(proved);
    if (winner !== null && winner !== proved) {
      proved = await provedLean(grid, tried, winner, (one) => leads(one) === one);
      if (proved !== null) seen.add(keyOf(proved.code));
      continue;
    }
    const front = frontOf(own());
    const open = front.filter(({ code }) => !seen.has(keyOf(code)));
    const [next = front.find(({ code }) => !seenFar.has(keyOf(code)))] = open;
    if (next === undefined) return { proved, openStarts: 0 };
    // Where one dose up or down is no better, one further off may be.
    const codes = open.length > 0 ? neighboursOf(grid, next.code) : otherDoses(grid, next.code);
    const fresh = codes.filter((code) => !tried.isKnown(code)).length;
    if (fresh > 0 && tried.count() + fresh > most) return { proved, openStarts: open.length };
    await tried.ask(codes);
    (open.length > 0 ? seen : seenFar).add(keyOf(next.code));
  }
}
