/**
 * A fingerprint of the whole run of each example, so that no change of behaviour goes unseen. After a change that is
 * meant, `npx vitest run test/engine/golden.test.ts --update` writes the new table; look at what has moved.
 */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { fingerprint } from "./lines.ts";

const FOLDER = new URL("../../scenarios/", import.meta.url);

function runOf(file: string): Run {
  const read = readScenario(readFileSync(new URL(file, FOLDER), "utf8"));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return simulate(prepared.program, { horizonTicks: prepared.horizonTicks, seed: read.scenario.seed });
}

test("every example runs as it did", () => {
  const files = readdirSync(FOLDER).filter((name) => name.endsWith(".yaml"));
  const rows = files.toSorted().map((file) => {
    const run = runOf(file);
    const { atTick, periodTicks } = run.recurrence ?? { atTick: "not", periodTicks: "proved" };
    return [file, run.steppedTicks, atTick, periodTicks, fingerprint(run)].join(" ");
  });
  // Example, ticks stepped, recurrence at tick, period in ticks, fingerprint.
  expect(rows.join("\n")).toMatchInlineSnapshot(`
    "batch-unloading.yaml 74801 53801 10500 54f4ab8355ec8650
    creeping-chain.yaml 144000 not proved fa4402ffd864083c
    custom-network.yaml 41584 24784 8400 b3f2f91ff1b17058
    equal-loop.yaml 5776 4144 48 a865376614b83897
    even-lanes.yaml 5648 3248 1200 91a6db37393b7ae0
    five-unequal.yaml 16665 14415 225 e9f1841bf280f138
    four-equal.yaml 9954 7298 32 b5ef658df72e7d22
    granted-chain.yaml 17610 14250 60 32bb31f258005697
    jamming-mix.yaml 22173 22172 1 941a3f6735b65f82
    long-chain.yaml 100891 84731 160 95977a5cf9e4df68
    oversupplied-chain.yaml 98211 84791 220 7d4e06c3166fc5f9
    perishable-chain.yaml 27483 22203 32 620cf87d1cfcb40f
    pouch-trial.yaml 72000 not proved 23bc06f614fceda9
    rate-cut.yaml 44284 25684 9300 95455e115afd7224
    returning-mix.yaml 2824 1624 600 140461490f5242e2
    short-chain.yaml 33863 27763 50 43b81fa3acff7046
    take-off-mix.yaml 47584 24184 7800 adeab82cae5500dc
    thirty-equal.yaml 124673 105953 240 12035cf0e7bbf928
    tin-assembly-tree.yaml 2132 1268 48 f8b3aa6192bec1b6
    tin-assembly.yaml 21769 17785 48 07ad006997601cca
    undersupplied-chain.yaml 63193 59737 384 d6b3d929e5fbc7e5
    unequal-chain.yaml 22190 16190 2000 ed38bbe57d10453d
    unequal-tree.yaml 1100 620 120 f77293a3920e9bb9
    unreliable-chain.yaml 1440000 not proved ea832dedd4b6a0cc"
  `);
});
