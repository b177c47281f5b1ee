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
    "batch-unloading.yaml 36571 26971 4800 8eafa612e60c995e
    creeping-chain.yaml 72000 not proved 08c3c9b8a5e59c93
    custom-network.yaml 4448 2648 600 89bf2dff74c5fdc0
    equal-loop.yaml 2150 1550 25 289ca4f5545c96eb
    even-lanes.yaml 1112 662 150 ee7131649827509f
    five-unequal.yaml 3505 3025 48 1c62b0561a650ddf
    four-equal.yaml 5056 3736 15 f7712884c7f1396e
    jamming-mix.yaml 11354 11353 1 95596936865cb2f5
    long-chain.yaml 80857 67777 120 0783c5ccb52573c2
    oversupplied-chain.yaml 38048 32848 80 98b8c6fc38d890bf
    perishable-chain.yaml 11437 9097 15 8f0da99256e7caee
    pouch-trial.yaml 7533 5833 20 6d56c98b76a8f0c2
    rate-cut.yaml 278 158 30 cd214dca6b0ba53a
    returning-mix.yaml 606 306 50 040178c3bcc80b49
    short-chain.yaml 14092 11372 20 ca6a31a4473906e9
    take-off-mix.yaml 13206 7446 180 d5979ea1e58b4c2d
    thirty-equal.yaml 51701 43401 100 0c59785b3de353bf
    tin-assembly-tree.yaml 1065 645 20 055f9c1c6d1bbc36
    tin-assembly.yaml 9952 8212 20 767bdb178e3eed0c
    undersupplied-chain.yaml 31574 29974 160 166f1749247dcdf9
    unequal-chain.yaml 15990 14415 225 b9ded1c27a93c1d6
    unequal-tree.yaml 184 94 30 22962804a13e5c4e
    unreliable-chain.yaml 288000 not proved 55e88b3c671ec85c"
  `);
});
