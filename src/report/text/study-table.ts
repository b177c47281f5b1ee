/**
 * Tables of a study: each column stated once, with what it is worth in a file of values and how people read it; the terminal,
 * report.md and CSV show those columns that have a heading there.
 */

import type { LossMoney } from "../../analysis/money.ts";
import { inMinorUnits } from "../../quantity/money.ts";
import { rational } from "../../quantity/rational.ts";
import {
  countOrDash,
  differenceOrDash,
  exactRateOrDash,
  indexOrDash,
  minutesOrDash,
  moneyOrDash,
  NONE,
  rateOrDash,
  shareOrDash,
} from "./cells.ts";
import { type Cell, csv, yesNo } from "./csv.ts";
import { approximately } from "./figures.ts";
import { escapeMarkdown, markdownTable } from "./markdown-text.ts";
import { type Column, endsOf, table } from "./table.ts";
import { COLUMNS, type Style } from "./terminal-lines.ts";
import { oneLine } from "./text-width.ts";

/** Where a column stands, and under what heading; nowhere else. */
interface Headings<Row> {
  /** With its unit, such as `settling_min`. */
  readonly csv?: string;
  /** With its unit, such as "settles at, min". */
  readonly markdown?: string;
  /** In lines that "|" parts, and how long it stays where room is short. */
  readonly terminal?: readonly [heading: string | readonly string[], importance: number];
  /** In report.md, where there is room to say more than in the terminal. */
  readonly inFull?: (row: Row) => string;
  /** In CSV, where people read another. */
  readonly value?: (row: Row) => Cell;
  /** A sign before it, in the terminal. */
  readonly mark?: (row: Row) => string;
  /** In bold type, in report.md. */
  readonly isStrong?: (row: Row) => boolean;
  /** For people only where some row has a value. */
  readonly ifKnown?: true;
}

export interface StudyColumn<Row> extends Headings<Row> {
  readonly value: (row: Row) => Cell;
  /** May hold anything; made harmless where it is shown. */
  readonly text: (row: Row) => string;
  readonly align: "left" | "right";
  /** Nothing in it could be taken for Markdown. */
  readonly isFigure: boolean;
}

type Making<Value> = <Row>(of: (row: Row) => Value, headings: Headings<Row>) => StudyColumn<Row>;

function column<Value>(
  text: (value: Value) => string,
  value: (value: Value) => Cell,
  kind: "left" | "right" | "figure" = "figure",
): Making<Value> {
  const align = kind === "left" ? "left" : "right";
  const isFigure = kind === "figure";
  return (of, headings) => ({
    value: (row) => value(of(row)),
    ...headings,
    align,
    isFigure,
    text: (row) => text(of(row)),
  });
}

const asItIs = (value: number | null): Cell => value;

export const minutes: Making<number | null> = column(minutesOrDash, asItIs);
export const count: Making<number | null> = column(countOrDash, asItIs);
/** Items/min. */
export const rate: Making<number | null> = column(rateOrDash, asItIs);
/** Items/min, as an exact string. */
export const exactRate: Making<string | null> = column(exactRateOrDash, (value) => value && approximately(value));
/** Of 1; people read per cent. */
export const share: Making<number | null> = column(shareOrDash, asItIs);
/** Jain's. */
export const index: Making<number | null> = column(indexOrDash, asItIs);
/** With its sign. */
export const difference: Making<number | null> = column(differenceOrDash, asItIs);
export const text: Making<string | null> = column(
  (value) => value ?? NONE,
  (value) => value,
  "left",
);
/** Several words or phrases. */
export const texts: Making<readonly string[]> = column(
  (value) => value.join("; "),
  (value) => (value.length === 0 ? null : value.join("; ")),
  "left",
);
export const flag: Making<boolean | null> = column((value) => String(yesNo(value) ?? NONE), yesNo, "left");
/** People read it only where it is so. */
export const onlyIf: Making<boolean> = column((value) => (value ? "yes" : ""), yesNo, "left");
/** A value with a unit of its own, or one that only people read. */
export const quantity: Making<string> = column(
  (value) => value,
  (value) => value,
  "right",
);
/** A figure that only people read. */
export const figure: Making<string> = column(
  (value) => value,
  (value) => value,
);

/** An exact sum of money, where the rows have any; rounded as it is shown. */
export function sum(money: Pick<LossMoney, "currency"> | undefined): Making<string | null | undefined> {
  const currency = money?.currency ?? "";
  return column(
    (amount) => moneyOrDash(amount, currency),
    (amount) => (amount == null ? null : Number(inMinorUnits(rational(amount), currency))),
  );
}

/** Lines for the terminal. @param most rows shown, of the rest how many there are in the file named */
export function terminalTable<Row>(
  columns: readonly StudyColumn<Row>[],
  rows: readonly Row[],
  style: Style,
  { most = Infinity, file = "" } = {},
): string[] {
  const { shown, between } = endsOf(rows, most, file);
  const laid = table(briefColumns(columns, shown), COLUMNS);
  return [...laid.heading.map(style.heading), ...between(laid.rows)];
}

/** Shown in the report alone. */
export function inReport<Row>(columns: readonly StudyColumn<Row>[]): StudyColumn<Row>[] {
  return columns.map(({ terminal: _, ...one }) => one);
}

/** Those that count where room is short. */
export function briefColumns<Row>(columns: readonly StudyColumn<Row>[], rows: readonly Row[]): Column[] {
  return known(columns, rows).flatMap(({ terminal, text: textOf, align, mark }) => {
    if (terminal === undefined) return [];
    const [heading, importance] = terminal;
    const lines = typeof heading === "string" ? heading.split("|") : heading;
    return [
      {
        heading: lines,
        importance,
        align,
        cells: rows.map((row) => `${mark === undefined ? "" : `${mark(row)} `}${oneLine(textOf(row))}`),
      },
    ];
  });
}

function known<Row>(columns: readonly StudyColumn<Row>[], rows: readonly Row[]): readonly StudyColumn<Row>[] {
  return columns.filter(({ ifKnown, value }) => ifKnown !== true || rows.some((row) => value(row) !== null));
}

export function reportTable<Row>(columns: readonly StudyColumn<Row>[], rows: readonly Row[]): string {
  const there = known(columns, rows).flatMap((one) =>
    one.markdown === undefined ? [] : [{ ...one, heading: one.markdown }],
  );
  return markdownTable(
    there.map(({ heading, align }) => ({ heading: escapeMarkdown(heading), align })),
    rows.map((row) =>
      there.map(({ text: textOf, inFull = textOf, isFigure, isStrong }) => {
        const cell = isFigure ? inFull(row) : escapeMarkdown(inFull(row));
        return isStrong?.(row) ? `**${cell}**` : cell;
      }),
    ),
  );
}

export function csvTable<Row>(columns: readonly StudyColumn<Row>[], rows: readonly Row[]): string {
  const there = columns.flatMap((one) => (one.csv === undefined ? [] : [{ ...one, name: one.csv }]));
  return csv([there.map(({ name }) => name), ...rows.map((row) => there.map(({ value }) => value(row)))]);
}
