/** Parts of a tactic that change nothing: without them the line runs alike, item for item. */
import type { Run } from "../../engine/simulate.ts";
import type { TacticNote } from "../../network/tactics/contribution.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { statedParts, type Tactic, type TacticPart } from "../../scenario/tactic.ts";
import { type Played, playRun, UnplayableError } from "../play.ts";

export type IdlePart = TacticPart | "belts";

/** What a note says of a part is the reason why it changes nothing. */
const TOLD: Readonly<Record<TacticNote["note"], IdlePart>> = {
  "boost-limited": "boost",
  "not-metered": "metered",
  "no-even-divider": "farEndFirst",
  "no-second-feed": "secondFeed",
};

/**
 * Those that are stated and change neither what happens when nor what hands place. Under chance none is looked for.
 * @param own what is seen with all parts, and `none` what with nothing done
 */
export function idleParts(scenario: Scenario, { tactic, notes }: Played, own: string, none: string): IdlePart[] {
  if (scenario.random.machines.length + scenario.random.feeds.length > 0) return [];
  const told = new Set(notes.map(({ note }) => TOLD[note]));
  const all = partsOf(tactic);
  const seenWithout = (part: IdlePart): string | null => {
    if (all.length === 1) return none;
    try {
      const { played, run } = playRun(scenario, without(tactic, part));
      return seenOf(played, run);
    } catch (error) {
      // Not even to be simulated without it.
      if (error instanceof UnplayableError) return null;
      throw error;
    }
  };
  return all.filter((part) => !told.has(part) && seenWithout(part) === own);
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
