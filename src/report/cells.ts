/** Cells of tables, for people: "–" for what did not happen. */
import { minutesCell, number, signed, significant } from "./figures.ts";

const NONE = "–";

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
