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
    "batch-unloading.yaml 30337 21937 4200 5dd692d7465a1c78
    creeping-chain.yaml 72000 not proved eb5ad9b0356ba2c0
    custom-network.yaml 20792 12392 4200 effc6f0905b3fe46
    equal-loop.yaml 2888 2072 24 d90e4717e8cd303d
    even-lanes.yaml 5648 3248 1200 91a6db37393b7ae0
    five-unequal.yaml 5641 4741 90 62131ea7964affa5
    four-equal.yaml 5065 3737 16 9319f138386737e2
    granted-chain.yaml 8976 7296 30 3b770556f7fd9cb6
    jamming-mix.yaml 11354 11353 1 f80e39b9881fa054
    long-chain.yaml 39296 32832 64 f383734124c08291
    oversupplied-chain.yaml 38136 32856 88 a66a7d0d8b00b482
    perishable-chain.yaml 13992 11368 16 821c58369088cd95
    pouch-trial.yaml 36000 not proved cb704b0747a4b6a1
    rate-cut.yaml 22142 12842 4650 d286e46d4fc4b568
    returning-mix.yaml 1412 812 300 e963d22276cd5587
    short-chain.yaml 17265 14215 25 5678f280361417ec
    take-off-mix.yaml 23792 12092 3900 ca388adc4254c2f7
    thirty-equal.yaml 50789 43397 96 5b4305c45750c5f7
    tin-assembly-tree.yaml 1081 649 24 96340bab2da62b1b
    tin-assembly.yaml 11122 9106 24 1cc57cebe0d5ec8e
    undersupplied-chain.yaml 31734 30006 192 dce2cb96634c19d9
    unequal-chain.yaml 9813 6813 1000 ddc6b32967aba2b0
    unequal-tree.yaml 368 176 48 bbfb84d1b1c888d5
    unreliable-chain.yaml 1440000 not proved ea832dedd4b6a0cc"
  `);
});
