/** What a worker thread of a comparison on the same luck does: it reads the scenario once and plays its variants. */
import {
  knownTactics,
  type LayoutsOptions,
  layoutVariants,
  luckGrid,
  NO_TACTIC,
  playVariant,
  prepare,
  readScenario,
  type Scenario,
  type Tables,
  type VariantRun,
  withHorizon,
} from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { givenToThread } from "./threads.ts";

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface LuckGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  readonly overrides: Overrides;
  readonly variants:
    | { readonly of: "tactics"; readonly ids: readonly string[] }
    | ({ readonly of: "layouts" } & Pick<LayoutsOptions, "line" | "ways" | "lengths">);
}

export interface LuckTask {
  readonly variant: number;
  readonly replication: number;
}

type Play = (task: LuckTask) => VariantRun;

let player: Promise<Play> | null = null;

export async function play(task: LuckTask): Promise<VariantRun> {
  player ??= givenToThread<LuckGiven>().then(playerOf);
  return (await player)(task);
}

function playerOf({ text, name, tables, overrides, variants }: LuckGiven): Play {
  const outcome = readScenario(text, { name, tables });
  if (!outcome.ok) throw new Error("the scenario has been read before and is refused all the same");
  const scenario = withHorizon(overridesOf(overrides)(outcome.scenario));
  return variants.of === "tactics" ? tacticPlayer(scenario, variants.ids) : layoutPlayer(scenario, variants);
}

function tacticPlayer(scenario: Scenario, ids: readonly string[]): Play {
  const prepared = prepare(scenario);
  const known = [NO_TACTIC, ...knownTactics(scenario)];
  return ({ variant, replication }) => {
    const tactic = known.find(({ id }) => id === ids[variant]);
    if (tactic === undefined || !prepared.ok) throw new Error(`there is no tactic ${ids[variant]}`);
    return playVariant(scenario, tactic, replication, luckGrid(scenario, prepared));
  };
}

function layoutPlayer(scenario: Scenario, asked: Omit<Extract<LuckGiven["variants"], { of: "layouts" }>, "of">): Play {
  const found = layoutVariants(scenario, asked);
  return ({ variant, replication }) => {
    const layout = found.ok ? found.variants[variant] : undefined;
    if (layout === undefined) throw new Error(`there is no layout ${variant}`);
    return layout.play(replication);
  };
}
