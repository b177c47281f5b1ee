/** What a worker thread of a study of single runs does: it reads the scenario once and plays what nobody else has begun. */
import {
  comparing,
  growing,
  growingGroup,
  knownTactics,
  type LayoutsOptions,
  layoutsDrawn,
  rational,
  readScenario,
  type Scenario,
  shortening,
  type Tables,
} from "../index.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { givenToThread } from "./threads.ts";

/** What is studied, told in plain data. */
export type StudyAsked =
  | ({ readonly of: "layouts" } & Pick<LayoutsOptions, "line" | "ways" | "lengths" | "growTo">)
  | { readonly of: "compare"; readonly tactics: readonly string[] }
  | { readonly of: "shortage"; readonly levels: readonly string[]; readonly feeds: readonly string[] }
  | { readonly of: "grow"; readonly counts: readonly number[] };

/** What every worker is given: a text that has been read and prepared before without an error. */
export interface StudyGiven {
  readonly text: string;
  readonly tables: Tables;
  readonly name: string;
  /** With the study's horizon. */
  readonly overrides: Overrides;
  readonly asked: StudyAsked;
}

export interface StudyShare {
  readonly of: number;
  /** In memory that all threads share: the first place that nobody has begun. */
  readonly next: Int32Array;
}

type Play = (place: number) => unknown;

/** @returns places and what they came to; without those that failed, which the main thread tries again to tell why */
export async function play({ of, next }: StudyShare): Promise<(readonly [number, unknown])[]> {
  const playOne = playerOf(await givenToThread<StudyGiven>());
  const found: (readonly [number, unknown])[] = [];
  for (let place = Atomics.add(next, 0, 1); place < of; place = Atomics.add(next, 0, 1)) {
    try {
      found.push([place, playOne(place)]);
    } catch {}
  }
  return found;
}

function playerOf({ text, tables, name, overrides, asked }: StudyGiven): Play {
  const outcome = readScenario(text, { name, tables });
  if (!outcome.ok) throw refusedAllTheSame();
  return playerIn(overridesOf(overrides)(outcome.scenario), asked);
}

function playerIn(scenario: Scenario, asked: StudyAsked): Play {
  switch (asked.of) {
    case "layouts": {
      const drawn = layoutsDrawn(scenario, asked);
      if (!drawn.ok) throw refusedAllTheSame();
      return drawn.layOut;
    }
    case "compare": {
      const known = knownTactics(scenario);
      const tactics = asked.tactics.flatMap((name) => known.find(({ id }) => id === name) ?? []);
      return comparing(scenario, tactics).play;
    }
    case "shortage":
      return shortening(scenario, asked.levels.map(rational), asked).play;
    case "grow": {
      const chain = growingGroup(scenario);
      if (typeof chain === "string") throw refusedAllTheSame();
      return growing(scenario, chain, asked.counts).play;
    }
  }
}

function refusedAllTheSame(): Error {
  return new Error("the scenario has been read before and is refused all the same");
}
