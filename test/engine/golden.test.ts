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
    "batch-unloading.yaml 30337 21937 4200 78cd1673907f59d4
    creeping-chain.yaml 72000 not proved c0c94c703462c7c2
    custom-network.yaml 20792 12392 4200 890be30861d3a90a
    equal-loop.yaml 3222 2406 24 ff92f3d5cc376d59
    even-lanes.yaml 5648 3248 1200 d3722e49db253949
    five-unequal.yaml 5641 4741 90 62131ea7964affa5
    four-equal.yaml 5065 3737 16 9319f138386737e2
    jamming-mix.yaml 11354 11353 1 73edb7304434f3d9
    long-chain.yaml 39296 32832 64 f383734124c08291
    oversupplied-chain.yaml 38136 32856 88 04651689e095fa4c
    perishable-chain.yaml 13992 11368 16 821c58369088cd95
    pouch-trial.yaml 36000 not proved ab775758a3b63ba2
    rate-cut.yaml 22142 12842 4650 ee1d5629651e592a
    returning-mix.yaml 1412 812 300 e963d22276cd5587
    short-chain.yaml 17265 14215 25 5678f280361417ec
    take-off-mix.yaml 23792 12092 3900 c19b11c860d96157
    thirty-equal.yaml 50789 43397 96 e1e232880d17f813
    tin-assembly-tree.yaml 1081 649 24 19ce9ece001f099b
    tin-assembly.yaml 11122 9106 24 ac97864e2dd3d096
    undersupplied-chain.yaml 31734 30006 192 dce2cb96634c19d9
    unequal-chain.yaml 9813 6813 1000 b8222b41c021b52a
    unequal-tree.yaml 368 176 48 bbfb84d1b1c888d5
    unreliable-chain.yaml 1440000 not proved bb642554c0907976"
  `);
});
