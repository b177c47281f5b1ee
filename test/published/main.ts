/**
 * `npm run published`: published and exact values against simulated ones, in full. Words after `--` choose the comparisons
 * whose names hold one of them, such as `npm run published -- M/M M/D`. Exit status 1 if a value lies outside what chance
 * allows, an interval is wider than it must be, or intervals hold too seldom or too often. `--out reports/published.md` writes the
 * page that stands there; `--experiments 500` makes fewer of those that show how often printed intervals hold, which take longest.
 */
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { batchMeansCoverage, replicationsCoverage } from "./coverage.ts";
import { falseWinnersOfLayouts, falseWinnersOfTactics, falseWinnersText, mostFalse } from "./false-winners.ts";
import {
  COVERAGE_LINES,
  coverageTable,
  heldIn,
  heldRows,
  leastOf,
  type PrintedRow,
  truthOf,
  untilRows,
} from "./interval-coverage.ts";
import { pageOf } from "./page.ts";
import { singleRunRow } from "./single-runs.ts";
import { allStudies } from "./studies.ts";
import { FAMILY_LEVEL, judged, type Row, rowsOf } from "./study.ts";
import { coverageText, tableOf } from "./table.ts";

/** Of 95 % intervals, and how many of a hundred must hold. */
const COVERAGE_TIMES = 2000;
const LEAST_HELD = 0.93;
const MOST_HELD = 0.97;
/** Of the experiments that see some hundred stops, how many must print an interval of the settled output. */
const LEAST_PRINTED = 0.8;
/** Runs for the truth, each of two hundred hours. */
const TRUTH_RUNS = 800;

interface Published {
  readonly text: string;
  readonly isRight: boolean;
}

function publish(chosen: readonly string[], times: number): Published {
  const wanted = (name: string): boolean => chosen.length === 0 || chosen.some((word) => name.includes(word));
  const parts: string[] = [];
  let isRight = true;
  const rows: Row[] = [];
  for (const study of allStudies().filter(({ name }) => wanted(name))) {
    process.stderr.write(`${study.name}: ${study.replications} replications\n`);
    rows.push(...rowsOf(study, study.replications));
  }
  if (rows.length > 0) {
    const found = judged(rows);
    const compared = found.filter(({ known }) => known.isOnTheWay !== true);
    const inside = compared.filter((row) => row.isInside).length;
    const outside = compared.filter((row) => !row.isAllowed).length;
    const wide = compared.filter((row) => !row.isNarrow).length;
    parts.push(
      tableOf(found),
      `${inside} of ${compared.length} values lie inside their 99 % intervals, and ${outside} outside of the wider ones that hold all together with ${100 * FAMILY_LEVEL} %.`,
    );
    isRight = outside === 0 && wide === 0;
  }
  if (wanted("coverage")) {
    process.stderr.write("coverage\n");
    for (const coverage of [replicationsCoverage(COVERAGE_TIMES), batchMeansCoverage(COVERAGE_TIMES)]) {
      parts.push(coverageText(coverage));
      const share = coverage.held / coverage.of;
      if (share < LEAST_HELD || share > MOST_HELD) isRight = false;
    }
  }
  if (wanted("intervals")) {
    const rows: PrintedRow[] = [];
    for (const line of COVERAGE_LINES) {
      process.stderr.write(`intervals: ${line.name}\n`);
      const truth = truthOf(line, TRUTH_RUNS);
      const own = [
        ...heldRows(line, heldIn(line, truth, times), times),
        ...untilRows(line, truth, Math.ceil(times / 4)),
        singleRunRow(line, truth, Math.ceil(times / 4)),
      ];
      for (const { figure, printed, held } of own) process.stderr.write(`  ${figure}: ${held} of ${printed}\n`);
      rows.push(...own);
    }
    parts.push(coverageTable(rows, times));
    isRight &&= rows.every((row) => row.held >= leastOf(row) * row.printed);
    isRight &&= rows.every(({ figure, printed, of }) => figure !== "settled output" || printed >= LEAST_PRINTED * of);
  }
  if (wanted("winners")) {
    for (const winnersOf of [falseWinnersOfTactics, falseWinnersOfLayouts]) {
      process.stderr.write("winners\n");
      const winners = winnersOf(Math.ceil(times / 2));
      parts.push(falseWinnersText(winners));
      isRight &&= Math.max(winners.atFirst, winners.goingOn) <= mostFalse(winners.of);
    }
  }
  return { text: parts.join("\n\n"), isRight };
}

const { values, positionals } = parseArgs({
  options: { out: { type: "string" }, experiments: { type: "string", default: String(COVERAGE_TIMES) } },
  allowPositionals: true,
});
const { text, isRight } = publish(positionals, Number(values.experiments));
console.log(text);
if (values.out !== undefined) writeFileSync(values.out, pageOf(text));
process.exitCode = isRight ? 0 : 1;
