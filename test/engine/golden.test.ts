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
  return simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
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
    "creeping-chain.yaml 72000 not proved dbc7daad7b401fed
    custom-network.yaml 4448 2648 600 51219f3c78b0f43b
    long-chain.yaml 80857 67777 120 ca34c13b4a61fb14
    oversupplied-chain.yaml 38048 32848 80 1195dcf7fbd3b0a5
    short-chain.yaml 14092 11372 20 09659c1d272a3e9a
    undersupplied-chain.yaml 31574 29974 160 0326b4ce6dbfc190
    unequal-chain.yaml 15990 14415 225 3a4cfcc43fa9df26"
  `);
});
