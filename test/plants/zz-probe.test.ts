import fc from "fast-check";
import { test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { expand } from "../../src/network/expand.ts";
import { prepareNetwork } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { exact, whole, type Rational } from "../../src/quantity/rational.ts";
import { collectingLines, fileOf } from "./collecting-lines.ts";
import { appendFileSync, writeFileSync } from "node:fs";

function rates(line: any, tickS: Rational | "auto", change: (n: any) => any = (n) => n) {
  const read = readScenario(fileOf(line, "auto"));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const scenario = { ...read.scenario, tickS };
  const prepared = prepareNetwork(scenario, change(expand(scenario)));
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  const t = prepared.program.tickS;
  const r = run.recurrence;
  return { tickS: t, work: run.steppedTicks, rates: r && Array.from(r.period.cycles, (n) => exact(whole(n).div(t.mul(whole(r.periodTicks)).div(60n)))).join(" ") };
}
const roomy = (by: number) => (n: any) => ({ ...n, connections: n.connections.map((c: any) => c.belt === null ? c : { ...c, belt: { ...c.belt, capacity: Math.max(1, c.belt.capacity + by) } }) });
const infeed = (by: number) => (n: any) => ({ ...n, machines: n.machines.map((m: any) => ({ ...m, infeed: m.infeed.map((r: any, i: number) => ({ ...r, count: Math.max(m.takes[i].count, r.count + by) })) })) });
test("measure", () => {
  const n = Number(process.env.N ?? 60);
  const lines = fc.sample(collectingLines, { numRuns: n, seed: Number(process.env.SEED ?? 24) });
  const out = "/tmp/rates/probe.txt";
  writeFileSync(out, "");
  const count: Record<string, number> = {};
  const works: Record<string, number> = {};
  for (const [i, line] of lines.entries()) {
    const auto = rates(line, "auto");
    const t = auto.tickS;
    const all: Record<string, any> = {
      half: rates(line, t.div(2n)), third: rates(line, t.div(3n)), seventh: rates(line, t.div(7n)), tenth: rates(line, t.div(10n)), five: rates(line, whole(1).div(200n)),
      more: rates(line, "auto", roomy(1)), less: rates(line, "auto", roomy(-1)), in1: rates(line, "auto", infeed(1)), fifth: rates(line, t.div(5n)), eleventh: rates(line, t.div(11n)),
    };
    const moved = Object.entries(all).filter(([, r]) => r.rates !== auto.rates).map(([k]) => k);
    for (const k of moved) count[k] = (count[k] ?? 0) + 1;
    for (const [k, r] of Object.entries(all)) works[k] = (works[k] ?? 0) + r.work / auto.work / n;
    if (moved.some((k) => ["half", "tenth", "five"].includes(k))) appendFileSync(out, `${i} ${line.merges} ${moved.join(" ")}\n`);
  }
  appendFileSync(out, JSON.stringify(count) + JSON.stringify(works) + "\n");
}, 3_000_000);
