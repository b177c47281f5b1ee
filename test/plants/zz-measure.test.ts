import fc from "fast-check";
import { test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { exact, whole } from "../../src/quantity/rational.ts";
import { collectingLines, fileOf } from "./collecting-lines.ts";
import { appendFileSync, writeFileSync } from "node:fs";

function ratesAt(line: any, tick: string) {
  const read = readScenario(fileOf(line, tick));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  const tickS = prepared.program.tickS;
  const r = run.recurrence;
  return { tickS, rates: r && Array.from(r.period.cycles, (n) => exact(whole(n).div(tickS.mul(whole(r.periodTicks)).div(60n)))) };
}
test("measure", () => {
  const n = Number(process.env.N ?? 60);
  const lines = fc.sample(collectingLines, { numRuns: n, seed: Number(process.env.SEED ?? 24) });
  const out = process.env.OUT ?? "/tmp/rates/out.txt";
  writeFileSync(out, "");
  let off = 0, unproved = 0;
  const kinds: Record<string, number> = {};
  for (const [i, line] of lines.entries()) {
    try {
    const auto = ratesAt(line, "auto");
    const ticks = [exact(auto.tickS.div(2n)) + " s", exact(auto.tickS.div(10n)) + " s", "5 ms"];
    const all = [auto, ...ticks.map((t) => ratesAt(line, t))];
    if (all.some((a) => a.rates === null)) unproved++;
    const seen = new Set(all.filter((a) => a.rates).map((a) => a.rates!.join(" ")));
    if (seen.size > 1) {
      off++;
      kinds[line.merges] = (kinds[line.merges] ?? 0) + 1;
      appendFileSync(out, `${i} ${line.merges} ${all.map((a) => exact(a.tickS) + ": " + (a.rates ? a.rates.join(" ") : "-")).join(" | ")}\n`);
    }
    } catch (e) { appendFileSync(out, `${i} ERR ${e}\n`); }
  }
  appendFileSync(out, `${off} off of ${n}, ${unproved} with an unproved, ${JSON.stringify(kinds)}\n`);
}, 3_000_000);
