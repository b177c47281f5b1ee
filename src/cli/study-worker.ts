/** What a worker thread of a study of single runs does: it reads the scenario once and plays what it is asked for. */
import {
  type LaidOut,
  type LayoutsDrawn,
  type LayoutsOptions,
  layoutsDrawn,
  readScenario,
  type Tables,
} from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { givenToThread } from "./threads.ts";

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface StudyGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  /** With the study's horizon. */
  readonly overrides: Overrides;
  readonly layouts: Pick<LayoutsOptions, "line" | "ways" | "lengths" | "growTo">;
}

let drawn: Promise<LayoutsDrawn> | null = null;

/** A layout, by its place. */
export async function play(index: number): Promise<LaidOut> {
  drawn ??= givenToThread<StudyGiven>().then(drawnFrom);
  return (await drawn).layOut(index);
}

function drawnFrom({ text, tables, name, overrides, layouts }: StudyGiven): LayoutsDrawn {
  const outcome = readScenario(text, { name, tables });
  const found = outcome.ok ? layoutsDrawn(overridesOf(overrides)(outcome.scenario), layouts) : null;
  if (!found?.ok) throw new Error("the scenario has been read before and is refused all the same");
  return found;
}
