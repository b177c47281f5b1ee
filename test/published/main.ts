/**
 * `npm run published`: published and exact values against simulated ones, in full. Words after `--` choose the comparisons
 * whose names hold one of them, such as `npm run published -- M/M M/D`. Exit status 1 if a value lies outside what chance
 * allows, or an interval is wider than it must be.
 */
import { batchMeansCoverage, replicationsCoverage } from "./coverage.ts";
import { allStudies } from "./studies.ts";
import { FAMILY_LEVEL, judged, type Row, rowsOf } from "./study.ts";
import { coverageText, tableOf } from "./table.ts";

/** Of 95 % intervals, and how many of a hundred must hold. */
const COVERAGE_TIMES = 2000;
const LEAST_HELD = 0.93;
const MOST_HELD = 0.97;

export function publish(chosen: readonly string[]): number {
  const wanted = (name: string): boolean => chosen.length === 0 || chosen.some((word) => name.includes(word));
  const rows: Row[] = [];
  for (const study of allStudies().filter(({ name }) => wanted(name))) {
    process.stderr.write(`${study.name}: ${study.replications} replications\n`);
    rows.push(...rowsOf(study, study.replications));
  }
  const found = judged(rows);
  if (found.length > 0) console.log(`${tableOf(found)}\n`);
  const compared = found.filter(({ known }) => known.isOnTheWay !== true);
  const outside = compared.filter(({ isAllowed }) => !isAllowed);
  const wide = compared.filter(({ isNarrow }) => !isNarrow);
  const inside = compared.filter(({ isInside }) => isInside);
  if (found.length > 0) {
    console.log(
      `${inside.length} of ${compared.length} lie inside their 99 % intervals. Judged by wider ones, which hold all together with ${100 * FAMILY_LEVEL} % (Bonferroni): ${outside.length} outside.`,
    );
  }
  let failed = outside.length > 0 || wide.length > 0;
  if (wanted("coverage")) {
    process.stderr.write("coverage\n");
    for (const coverage of [replicationsCoverage(COVERAGE_TIMES), batchMeansCoverage(COVERAGE_TIMES)]) {
      console.log(coverageText(coverage));
      const share = coverage.held / coverage.of;
      failed ||= share < LEAST_HELD || share > MOST_HELD;
    }
  }
  return failed ? 1 : 0;
}

process.exitCode = publish(process.argv.slice(2));
