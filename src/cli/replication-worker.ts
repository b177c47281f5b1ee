/** What a worker thread of replications does: it reads the scenario once and runs it with one seed after another. */
import Tinypool from "tinypool";
import { playReplication, prepare, type Replication, readScenario, type Tables, withHorizon } from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface ReplicationsGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  readonly overrides: Overrides;
}

const given: ReplicationsGiven = Tinypool.workerData;
const outcome = readScenario(given.text, { name: given.name, tables: given.tables });
const scenario = outcome.ok ? withHorizon(overridesOf(given.overrides)(outcome.scenario)) : null;
const prepared = scenario && prepare(scenario);

export function play(replication: number): Replication {
  if (!scenario || !prepared?.ok) throw new Error("the scenario has been read before and is refused all the same");
  return playReplication(prepared, scenario.seed, replication);
}
