/** A run looked at in any order of ticks is the run looked at once. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { observe } from "../../src/engine/observe.ts";
import { playerOf } from "../../src/engine/player.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { ROOT } from "../tidy/sources.ts";

test.each(["short-chain", "equal-loop", "unreliable-chain"])("%s, forwards and back", (name) => {
  const read = readScenario(readFileSync(join(ROOT, `scenarios/${name}.yaml`), "utf8"));
  const prepared = read.ok ? prepare(read.scenario) : null;
  if (!prepared?.ok) throw new Error("the example does not read");
  const { program } = prepared;
  const player = playerOf(program, undefined, "1");
  fc.assert(
    fc.property(fc.array(fc.nat(9000), { minLength: 1, maxLength: 6 }), (ticks) => {
      for (const tick of ticks) {
        const { levels, cycles, fed, beltStart, at, holdUp } = player.frameAt(tick);
        const seen = observe(program, [tick], "1");
        expect(levels).toEqual(seen.levels);
        expect(cycles).toEqual(seen.cycles);
        expect(fed).toEqual(seen.fed);
        const onBelts = seen.onPlaces.reduce((sum, count) => sum + count, 0);
        expect(beltStart.at(-1)).toBe(onBelts);
        expect(holdUp).toBe(onBelts + levels.reduce((sum, level) => sum + level, 0));
        expect(at.every((share) => share >= 0 && share <= 1)).toBe(true);
      }
    }),
    { numRuns: 20 },
  );
  player.release();
});
