/** What a worker thread of replications does: it reads the scenario once and runs it with one seed after another. */
import { playReplication, prepare, type Replication, readScenario, type Tables, withHorizon } from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { givenToThread } from "./threads.ts";

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface ReplicationsGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  readonly overrides: Overrides;
}

type Play = (replication: number) => Replication;

let player: Promise<Play> | null = null;

export async function play(replication: number): Promise<Replication> {
  player ??= givenToThread<ReplicationsGiven>().then(playerOf);
  return (await player)(replication);
}

function playerOf({ text, name, tables, overrides }: ReplicationsGiven): Play {
  const outcome = readScenario(text, { name, tables });
  const scenario = outcome.ok ? withHorizon(overridesOf(overrides)(outcome.scenario)) : null;
  const prepared = scenario && prepare(scenario);
  if (!scenario || !prepared?.ok) throw new Error("the scenario has been read before and is refused all the same");
  return (replication) => playReplication(prepared, scenario.seed, replication);
}
