/**
 * A comparison: one scenario file, what is known of it, and replications that give the same figures. All intervals are t
 * intervals over replications, each with a seed of its own.
 */
import { levelForEach } from "../../src/analysis/statistics/best-of.ts";
import { intervalOf } from "../../src/analysis/statistics/interval.ts";
import { type Moments, runningMoments } from "../../src/analysis/statistics/moments.ts";

/** Level of the intervals shown. */
export const SHOWN_LEVEL = 0.99;
/** Chance that a right simulator fails in any row at all, by Bonferroni's inequality. */
export const FAMILY_LEVEL = 0.99;

export interface Known {
  readonly figure: string;
  readonly value: number;
  /** Where it differs from the study's. */
  readonly source?: string;
  /** Largest full width of the 99 % interval, as a share of the value, in the full run. */
  readonly width?: number;
  /** The known value's own error, as a share of it, where it is no exact one. */
  readonly within?: number;
  /** At a coarser tick than the limit that is known: shown, not judged. */
  readonly isOnTheWay?: boolean;
  /** Rows of one curve are shown as one. */
  readonly curve?: string;
}

export interface Study {
  readonly name: string;
  readonly source: string;
  readonly known: readonly Known[];
  /** In the full run, and in the tests. */
  readonly replications: number;
  readonly fewer: number;
  /** Figures in the order of `known`. */
  readonly replicate: (seed: string) => readonly number[];
}

export interface Row {
  readonly study: string;
  readonly source: string;
  readonly known: Known;
  readonly found: Moments;
}

export interface JudgedRow extends Row {
  /** Half of the 99 % interval. */
  readonly halfWidth: number;
  readonly isInside: boolean;
  /** Inside the wider interval of which all rows' together hold with the family's level. */
  readonly isAllowed: boolean;
  readonly isNarrow: boolean;
}

export function rowsOf(study: Study, replications: number, seed = "published"): Row[] {
  const figures = study.known.map(() => runningMoments());
  for (let r = 0; r < replications; r++) {
    const found = study.replicate(`${seed}/${study.name}/${r}`);
    if (found.length !== figures.length) throw new Error(`${study.name}: ${found.length} figures`);
    for (const [i, figure] of figures.entries()) figure.add(found[i] ?? Number.NaN);
  }
  return study.known.map((known, i) => ({
    study: study.name,
    source: known.source ?? study.source,
    known,
    found: figures[i]?.now() ?? { n: 0, mean: Number.NaN, sd: null },
  }));
}

/** Figures that never vary must be exact but for rounding. */
const ROUNDING = 1e-9;

export function judged(rows: readonly Row[]): JudgedRow[] {
  const each = levelForEach(FAMILY_LEVEL, rows.filter(({ known }) => !known.isOnTheWay).length);
  return rows.map((row) => {
    const { value, within = 0, width } = row.known;
    const off = Math.abs(row.found.mean - value) - within * Math.abs(value);
    const half = halfOf(row.found, SHOWN_LEVEL);
    return {
      ...row,
      halfWidth: half,
      isInside: off <= half + ROUNDING,
      isAllowed: row.known.isOnTheWay === true || off <= halfOf(row.found, each) + ROUNDING,
      isNarrow: width === undefined || 2 * half <= width * Math.abs(value),
    };
  });
}

function halfOf(found: Moments, level: number): number {
  return intervalOf(found, level).halfWidth ?? Number.NaN;
}
