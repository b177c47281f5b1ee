/**
 * How often the intervals that a single run prints hold the truth: the lines of interval-coverage.ts, with horizons that see a
 * hundred stops of each kind and more.
 */
import { chanceOf } from "../../src/analysis/chance.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { inMinutes } from "../../src/network/tick.ts";
import { approximate } from "../../src/quantity/rational.ts";
import type { CoverageLine, PrintedRow, Truth } from "./interval-coverage.ts";
import { plantOf } from "./plant.ts";

export function singleRunRow(line: CoverageLine, truth: Pick<Truth, "perMin">, times: number): PrintedRow {
  const { program, horizonTicks } = plantOf(line.file(line.singleRunHours));
  const perTick = approximate(inMinutes(1, program.tickS));
  let [printed, held] = [0, 0];
  for (let i = 0; i < times; i++) {
    const run = simulate(program, { horizonTicks, seed: `fresh/single/${line.name}/${i}` });
    const ci95 = chanceOf(run, (ticks) => ticks * perTick)?.chance.settled_output_per_min.ci95 ?? null;
    if (ci95 === null) continue;
    printed += 1;
    if (ci95[0] <= truth.perMin && truth.perMin <= ci95[1]) held += 1;
  }
  const figure = `settled output of one run over ${line.singleRunHours} h`;
  return { line: line.name, figure, of: times, printed, held, isUntil: false };
}
