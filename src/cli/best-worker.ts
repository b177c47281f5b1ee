/** What a worker thread of a search for the best start does: it reads the scenario once and tries starts. */
import { readScenario, type StartCode, type StartTrial, startPlayer, type Tables } from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { givenToThread } from "./threads.ts";

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface BestGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  readonly overrides: Overrides;
}

let player: Promise<ReturnType<typeof startPlayer>> | null = null;

export async function play(code: StartCode): Promise<StartTrial | null> {
  player ??= givenToThread<BestGiven>().then(({ text, name, tables, overrides }) => {
    const outcome = readScenario(text, { name, tables });
    if (!outcome.ok) throw new Error("the scenario has been read before and is refused all the same");
    return startPlayer(overridesOf(overrides)(outcome.scenario));
  });
  return (await player)(code);
}
