/** What studies look at of a run is what is told of it as a whole. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { knownTactics } from "../../src/study/comparison/standard-tactics.ts";
import { NO_TACTIC, play, tryOut } from "../../src/study/play.ts";
import { scenarioOf } from "./layouts-plants.ts";

test.each(["short-chain", "tin-assembly", "perishable-chain", "batch-unloading", "creeping-chain", "unreliable-chain"])(
  "%s: a start in outline is the same start played in full",
  (name) => {
    const text = readFileSync(new URL(`../../scenarios/${name}.yaml`, import.meta.url), "utf8");
    const scenario = scenarioOf(text.replace(/^horizon: .*$/m, "horizon: 40 min"));
    for (const tactic of [NO_TACTIC, ...knownTactics(scenario).slice(0, 6)]) {
      const { result, ...others } = tryOut(scenario, tactic);
      const full = play(scenario, tactic);
      expect(full).toEqual({ ...others, result: full.result });
      expect(full.result).toMatchObject(result);
    }
  },
);
