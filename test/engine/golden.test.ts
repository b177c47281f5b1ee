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
    "batch-unloading.yaml 30337 21937 4200 f863f10364fb62db
    creeping-chain.yaml 72000 not proved 714bc85a98d57b5f
    custom-network.yaml 20792 12392 4200 1588c7b75b03150b
    equal-loop.yaml 3222 2406 24 296c87208c83d909
    even-lanes.yaml 5648 3248 1200 26f8a614f1a2c9f5
    five-unequal.yaml 5641 4741 90 36a2648741f28378
    four-equal.yaml 5065 3737 16 34ed90b1b1125e5c
    jamming-mix.yaml 11354 11353 1 5b4f5b8cab578f7a
    long-chain.yaml 39296 32832 64 f3407e0d7d908190
    oversupplied-chain.yaml 38136 32856 88 0f0d10ab58a925c2
    perishable-chain.yaml 13992 11368 16 5ec4e9a7338564c9
    pouch-trial.yaml 36000 not proved 30e7f512b759acce
    rate-cut.yaml 22142 12842 4650 3218fe7bc23ae07c
    returning-mix.yaml 1412 812 300 326c15dda11c99ec
    short-chain.yaml 17265 14215 25 f7f6d02ad7118ced
    take-off-mix.yaml 23792 12092 3900 87c2f8f486295b68
    thirty-equal.yaml 50789 43397 96 58c78f49cec57779
    tin-assembly-tree.yaml 1081 649 24 e190d10534095d98
    tin-assembly.yaml 11122 9106 24 d7cffee97b1e81c0
    undersupplied-chain.yaml 31734 30006 192 e36c23e3e3ea4ec4
    unequal-chain.yaml 9813 6813 1000 2a50b4d8ef544335
    unequal-tree.yaml 368 176 48 7e1f411edb4a9f26
    unreliable-chain.yaml 1440000 not proved 2759bab1761c782f"
  `);
});
