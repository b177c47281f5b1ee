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
    "batch-unloading.yaml 59841 43041 8400 d19b585f0323a794
    creeping-chain.yaml 144000 not proved fa4402ffd864083c
    custom-network.yaml 41584 24784 8400 b3f2f91ff1b17058
    equal-loop.yaml 5776 4144 48 a865376614b83897
    even-lanes.yaml 11296 6496 2400 3f86197cb1f6af70
    five-unequal.yaml 13332 11532 180 1d42209c703cd5bf
    four-equal.yaml 9954 7298 32 b5ef658df72e7d22
    granted-chain.yaml 17610 14250 60 32bb31f258005697
    granted-long-chain.yaml 78464 65664 128 db1d6639889b86c5
    granted-tins.yaml 21769 17785 48 07ad006997601cca
    granted-unreliable.yaml 1152000 not proved 8a28c73c92d9a29b
    jamming-mix.yaml 22173 22172 1 941a3f6735b65f82
    long-chain.yaml 78464 65664 128 db1d6639889b86c5
    oversupplied-chain.yaml 76272 65712 176 b9526115cc32d506
    perishable-chain.yaml 27483 22203 32 620cf87d1cfcb40f
    pouch-trial.yaml 72000 not proved 23bc06f614fceda9
    rate-cut.yaml 44284 25684 9300 95455e115afd7224
    returning-mix.yaml 2824 1624 600 140461490f5242e2
    short-chain.yaml 33863 27763 50 43b81fa3acff7046
    take-off-mix.yaml 47584 24184 7800 adeab82cae5500dc
    thirty-equal.yaml 99739 84763 192 0327afdca29ac096
    tin-assembly-tree.yaml 2132 1268 48 f8b3aa6192bec1b6
    tin-assembly.yaml 21769 17785 48 07ad006997601cca
    undersupplied-chain.yaml 63193 59737 384 d6b3d929e5fbc7e5
    unequal-chain.yaml 22190 16190 2000 ed38bbe57d10453d
    unequal-tree.yaml 736 352 96 cd23cecaca9e8525
    unreliable-chain.yaml 1152000 not proved 8a28c73c92d9a29b"
  `);
});
