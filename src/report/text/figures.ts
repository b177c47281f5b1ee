/**
 * Numbers as people read them: rounded, with their unit. A no-break space keeps number and unit together; `plain` turns
 * it into an ordinary one where lines are no longer broken.
 */
import type { Basis, Settling } from "../../analysis/result.ts";
import { approximateText } from "../../quantity/approximate.ts";

const NO_BREAK = "\u00a0";
const MINUS = "\u2212";

export function plain(text: string): string {
  return text.replaceAll(NO_BREAK, " ");
}

/** Digits in groups of three from five digits on, as SI has it. */
export function grouped(digits: string): string {
  const [integer = "", fraction] = digits.split(".");
  const parts = integer.length > 4 ? integer.replace(/\B(?=(?:\d{3})+$)/g, NO_BREAK) : integer;
  return fraction === undefined ? parts : `${parts}.${fraction}`;
}

/** At most `decimals` decimals, none that are only zeros. */
export function number(value: number, decimals = 0): string {
  if (!Number.isFinite(value)) return "–";
  const fixed = Math.abs(value).toFixed(decimals);
  const digits = decimals > 0 ? fixed.replace(/\.?0+$/, "") : fixed;
  return digits === "0" ? "0" : `${value < 0 ? MINUS : ""}${grouped(digits)}`;
}

/** Exact where three decimals are enough for that, else to four significant digits or as many as told. */
export function significant(value: number, digits = 4): string {
  const size = Math.abs(value);
  if (size === 0) return "0";
  if (size >= 0.01 && Math.abs(size * 1000 - Math.round(size * 1000)) < 1e-6) return number(value, 3);
  const decimals = Math.max(0, Math.min(digits + 2, digits - 1 - Math.floor(Math.log10(size))));
  return number(value, decimals);
}

export function items(count: number): string {
  const shown = number(count);
  return `${shown}${NO_BREAK}${shown === "1" ? "item" : "items"}`;
}

export function rate(perMin: number): string {
  return `${significant(perMin)}/min`;
}

/** Two rates that differ, with digits enough to show it. */
export function ratesApart(one: number, other: number): [string, string] {
  for (let digits = 4; digits < 9; digits++) {
    if (significant(one, digits) !== significant(other, digits)) {
      return [`${significant(one, digits)}/min`, `${significant(other, digits)}/min`];
    }
  }
  return [rate(one), rate(other)];
}

/** A rate falls short of another by more than rounding. */
export function below(value: number, limit: number): boolean {
  return value < limit * (1 - 1e-6) - 1e-9;
}

/** A share as a percentage; short of all it never reads 100 %, above nothing never 0 %. */
export function percent(share: number): string {
  return `${percentFigure(share)}${NO_BREAK}%`;
}

function percentFigure(share: number): string {
  const settledShare = Math.abs(share - 1) < 1e-9 ? 1 : share;
  const rounded = Math.round(settledShare * 1000) / 10;
  if (rounded >= 100 && settledShare < 1) return "99.9";
  if (rounded <= 0 && settledShare > 1e-9) return "0.1";
  return number(rounded, 1);
}

/** For columns of figures: one decimal always, but "100" and "0". */
export function percentCell(share: number): string {
  const figure = percentFigure(share);
  return figure === "100" || figure === "0" ? figure : oneDecimal(Number(figure));
}

function oneDecimal(value: number): string {
  const shown = number(value, 1);
  return shown.includes(".") || shown === "–" ? shown : `${shown}.0`;
}

/** A time that counts from the last change of a feed, as the clock shows it that starts with the run. */
export function fromStart({ counted_from_min: counted }: Pick<Settling, "counted_from_min">, minutes: number): number {
  return counted + minutes;
}

/** For columns of minutes: one decimal, from a thousand on none. */
export function minutesCell(minutes: number): string {
  return minutes < 999.95 ? oneDecimal(minutes) : number(minutes);
}

/** "12 s", "14.9 min", "1 h 54 min", "120 h". */
export function duration(minutes: number): string {
  if (minutes < 0) return `${MINUS}${duration(-minutes)}`;
  if (minutes === 0) return `0${NO_BREAK}min`;
  if (minutes * 60 < 59.95) return `${shortSeconds(minutes * 60)}${NO_BREAK}s`;
  if (minutes < 99.95) return `${number(minutes, 1)}${NO_BREAK}min`;
  const rounded = Math.round(minutes);
  const hours = Math.floor(rounded / 60);
  const rest = rounded % 60;
  if (hours >= 100 || rest === 0) return `${grouped(String(Math.round(rounded / 60)))}${NO_BREAK}h`;
  return `${hours}${NO_BREAK}h${NO_BREAK}${rest}${NO_BREAK}min`;
}

/** "from 14.9 min", "at once". */
export function fromTime(minutes: number): string {
  return minutes === 0 ? "at once" : `from ${duration(minutes)}`;
}

/** A duration in minutes where one that stands beside it is. */
export function durationBeside(minutes: number, other: number): string {
  const isShort = minutes > 0 && minutes * 60 < 59.95;
  return isShort && other * 60 >= 59.95
    ? `${number(minutes, minutes < 0.01 ? 3 : 2)}${NO_BREAK}min`
    : duration(minutes);
}

function shortSeconds(seconds: number): string {
  return seconds < 10 ? number(seconds, seconds < 0.1 ? 3 : 1) : number(seconds);
}

/** An exact value as the nearest number. */
export function approximately(exact: string): number {
  return approximateText(exact);
}

/** A long-run rate, exact where it is known, else measured; `null` where it is neither. */
export function longRun(rates: {
  readonly settled_per_min: string | null;
  readonly measured_per_min?: number;
}): number | null {
  if (rates.settled_per_min !== null) return approximately(rates.settled_per_min);
  return rates.measured_per_min ?? null;
}

/** What rates in the long run are called: those that are not exact are only measured. */
export function rateWord({ basis }: { readonly basis: Basis }): "settled" | "measured" {
  return basis === "measured" ? "measured" : "settled";
}

/** Where the report is of several runs, what stands apart is of one. */
export function inMedianRun({ replications }: { readonly replications?: object }): string {
  return replications === undefined ? "" : " in the median run";
}

/** "a", "a and b", "a, b and c". */
export function listed(words: readonly string[]): string {
  const last = words.at(-1);
  if (last === undefined) return "";
  return words.length === 1 ? last : `${words.slice(0, -1).join(", ")} and ${last}`;
}

/** The first few of many, and how many are not named. */
export function listedShort(words: readonly string[], most = 4): string {
  if (words.length <= most + 1) return listed(words);
  return `${words.slice(0, most).join(", ")} and ${words.length - most} more`;
}

/** "+312", "−40", "0". */
export function signed(value: number): string {
  const shown = number(value);
  return shown !== "0" && value > 0 ? `+${shown}` : shown;
}
