/** Parts of a tactic that change nothing: without them the line runs alike, item for item. */
import type { Run } from "../../engine/simulate.ts";
import type { TacticNote } from "../../network/tactics/contribution.ts";
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { statedParts, statedText, type Tactic } from "../../scenario/tactic.ts";
import { type Played, runOnly, tryTactic, UnplayableError } from "../play.ts";
import type { IdlePart } from "../results.ts";

/** What a note says of a part is the reason why it changes nothing. */
const TOLD: Readonly<Record<TacticNote["note"], IdlePart>> = {
  "boost-limited": "boost",
  "not-metered": "metered",
  "no-even-divider": "farEndFirst",
  "no-second-feed": "secondFeed",
};

/**
 * Tactics to be looked at beside these, each without one part that may change nothing. Under chance none is looked for.
 * @throws UnplayableError
 */
export function withoutParts(scenario: Scenario, tactics: readonly Tactic[]): Tactic[] {
  if (hasChance(scenario.random)) return [];
  const known = new Set(tactics.map(statedText));
  return tactics.flatMap((tactic) => {
    const { notes } = tryTactic(scenario, tactic).primed;
    return mayBeIdle({ tactic, notes }).flatMap((part): Tactic[] => {
      const other = without(tactic, part);
      const isNew = !known.has(statedText(other));
      known.add(statedText(other));
      return isNew ? [other] : [];
    });
  });
}

/**
 * Those that are stated and change neither what happens when nor what hands place.
 * @param seen by what a tactic does: what is seen of its run, `null` where it cannot be simulated
 */
export function idleParts(
  played: Pick<Played, "tactic" | "notes">,
  seen: ReadonlyMap<string, string | null>,
): IdlePart[] {
  const own = seen.get(statedText(played.tactic));
  return mayBeIdle(played).filter((part) => seen.get(statedText(without(played.tactic, part))) === own);
}

function mayBeIdle({ tactic, notes }: Pick<Played, "tactic" | "notes">): IdlePart[] {
  const told = new Set(notes.map(({ note }) => TOLD[note]));
  return partsOf(tactic).filter((part) => !told.has(part));
}

export function partsOf(tactic: Tactic): IdlePart[] {
  return statedParts(tactic).flatMap((part): IdlePart[] =>
    part === "prefill" && tactic.prefill?.belts ? [part, "belts"] : [part],
  );
}

function without(tactic: Tactic, part: IdlePart): Tactic {
  if (part !== "belts") return { ...tactic, [part]: null };
  return { ...tactic, prefill: tactic.prefill && { ...tactic.prefill, belts: false } };
}

/** All that can be seen of a run, but for whether a machine without items was held or starved. */
export function seenOf(
  { startsAfterMin, itemsHandled }: Pick<Played, "startsAfterMin" | "itemsHandled">,
  { program, totals, noted, openCycleTicks }: Run,
): string {
  const { fed, passed, placed, taken, made, cycles, holdUpTicks, dwellTicks, bufferTicks } = totals;
  const arrays = [fed, passed, placed, taken, made, cycles, holdUpTicks, dwellTicks, bufferTicks, openCycleTicks];
  return JSON.stringify([
    [startsAfterMin, itemsHandled, program.tickS.toFraction(), noted.peakHoldUp, noted.peakTick],
    ...[...arrays, noted.firstItem, noted.fullAt].map((array) => Array.from(array)),
  ]);
}

/** `null` where it cannot be simulated. */
export function seenAlone(scenario: Scenario, tactic: Tactic): string | null {
  try {
    const { run, ...hands } = runOnly(scenario, tactic);
    return seenOf(hands, run);
  } catch (error) {
    if (error instanceof UnplayableError) return null;
    throw error;
  }
}
