/** What the tables, findings and pictures of a fit are read off. */
import type { Fit, FittedSeries, FittedUnknown } from "../../study/fit/fit-results.ts";
import { number, significant } from "../text/figures.ts";

/** "217/min", "2.3 s", "64". @param digits significant ones */
export function valueText(value: number, unit: string, digits = 6): string {
  return withUnit(significant(value, digits), unit);
}

function withUnit(figure: string, unit: string): string {
  if (unit === "") return figure;
  return unit.startsWith("/") ? `${figure}${unit}` : `${figure}\u00a0${unit}`;
}

/** A value with as many decimals as its uncertainty gives it a meaning for. */
export function valueWithin({ unit, range_95: [low, high], standard_error: error, lower, upper }: FittedUnknown) {
  const width = low !== null && high !== null ? high - low : (error ?? (upper - lower) / 10);
  const decimals = unit === "" ? 0 : Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(Math.max(width, 1e-9)))));
  return (value: number): string => withUnit(number(value, decimals), unit);
}

/** In units of the expected error; `null` where nothing was observed. */
export function residualsOf({ observed, fitted, error }: FittedSeries): (number | null)[] {
  return observed.map((count, row) => (count === null ? null : (count - (fitted[row] ?? 0)) / error));
}

export interface SeriesMisfit {
  readonly name: string;
  readonly count: number;
  /** Mean square of its residuals, in units of the expected one. */
  readonly meanSquare: number;
}

export function misfitOf(series: FittedSeries): SeriesMisfit {
  const known = residualsOf(series).flatMap((residual) => residual ?? []);
  const sum = known.reduce((total, residual) => total + residual * residual, 0);
  return { name: series.name, count: known.length, meanSquare: known.length === 0 ? 0 : sum / known.length };
}

/** The series that the fit misses most. */
export function worstMisfit({ series }: Fit): SeriesMisfit | undefined {
  return series.map(misfitOf).sort((a, b) => b.meanSquare - a.meanSquare)[0];
}

/** What is counted from the start, as against what lies somewhere. */
export function isCount({ name }: FittedSeries): boolean {
  return name === "made" || name.endsWith(".made") || name.endsWith(".fed");
}
