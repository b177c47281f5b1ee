/** Cells of tables, for people: "–" for what did not happen. */
import { inMinorUnits } from "../../quantity/money.ts";
import { rational } from "../../quantity/rational.ts";
import { approximately, grouped, minutesCell, number, percentCell, signed, significant } from "./figures.ts";

export const NONE = "–";

export function minutesOrDash(value: number | null): string {
  return value === null ? NONE : minutesCell(value);
}

export function countOrDash(value: number | null): string {
  return value === null ? NONE : number(value);
}

export function differenceOrDash(value: number | null): string {
  return value === null ? NONE : signed(value);
}

export function rateOrDash(value: number | null): string {
  return value === null ? NONE : significant(value);
}

/** Of an exact rate. */
export function exactRateOrDash(value: string | null): string {
  return rateOrDash(value === null ? null : approximately(value));
}

/** In per cent. */
export function shareOrDash(value: number | null): string {
  return value === null ? NONE : percentCell(value);
}

/** When something begins for good. */
export function settlingOrDash(minutes: number | null, isProved: boolean): string {
  return `${minutesOrDash(minutes)}${minutes === null || isProved ? "" : " (not proved)"}`;
}

/** Jain's, to three decimals, which it is hardly known better by. */
export function indexOrDash(index: number | null): string {
  return index === null ? NONE : number(index, 3);
}

/** An exact amount, rounded to the currency's minor unit: "1234.50", with digits in groups. */
export function moneyFigure(amount: string, currency: string): string {
  return grouped(inMinorUnits(rational(amount), currency)).replace("-", "\u2212");
}

export function moneyOrDash(amount: string | null | undefined, currency: string): string {
  return amount == null ? NONE : moneyFigure(amount, currency);
}

export function yearsOrDash(years: number | null | undefined): string {
  return years == null ? NONE : number(years, 1);
}
