/** A study of short feeds for the terminal: the answer and a row for each level; a row for each variant as details. */
import type { LevelResult, Shortage } from "../../study/shortage/shortage-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { indexOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { approximately, number, percentCell } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { wrap } from "../text/text-width.ts";
import { shortageAnswer } from "./shortage-answer.ts";
import { jainOf, settledOf, settlesCell, shareOf, variantName } from "./shortage-figures.ts";
import { shortageFindings } from "./shortage-findings.ts";

const MOST_ROWS = 80;

/** @returns lines with a line break at the end of each */
export function shortageText(shortage: Shortage, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: shortage.title,
    answer: shortageAnswer(shortage),
    table: levelLines(shortage, style),
    isWholeInDetails: true,
    details: [
      shortageFindings(shortage).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      rowLines(shortage, style),
      [
        ...wrap(
          "Fully: machines at 99.9 % of their need or more. Least: the least share of its need that a machine has.",
          COLUMNS,
        ),
        ...wrap("Low and high: of the settled output, averaged over about ten cycles of each machine.", COLUMNS),
      ],
    ],
  };
  return pageText(page, style, shown);
}

const MOST_LEVELS = 16;

/** A row for each level: the plant as written, and of each variant the least share that a machine has. */
function levelLines({ levels, variants }: Shortage, style: Style): string[] {
  const shown = levels.slice(0, MOST_LEVELS);
  const least = (result: LevelResult | undefined): string =>
    result === undefined ? "–" : percentCell(Math.min(1, ...result.machines.map(shareOf)));
  const column = (
    heading: readonly string[],
    importance: number,
    cell: (result: LevelResult | undefined) => string,
    variant = 0,
  ): Column => ({
    heading,
    importance,
    align: "right",
    cells: shown.map(({ variants: all }) => cell(all[variant])),
  });
  const own =
    (cell: (result: LevelResult) => string) =>
    (result: LevelResult | undefined): string =>
      result === undefined ? "–" : cell(result);
  const { heading, rows } = table(
    [
      { heading: ["feed", "%"], importance: 99, align: "right", cells: shown.map(({ level }) => levelCell(level)) },
      column(
        ["makes", "/min"],
        10,
        own((result) => rateOrDash(settledOf(result))),
      ),
      column(
        ["settles", "at", "min"],
        8,
        own((result) => settlesCell(result, minutesOrDash)),
      ),
      column(
        ["run", "fully"],
        7,
        own((result) => number(fullyOf(result))),
      ),
      ...variants.map(({ id }, v) => column(["least, %,", ...variantName(id).split(" ")], 9 - v, least, v)),
    ],
    COLUMNS,
  );
  const left = levels.length - shown.length;
  return [
    ...heading.map(style.heading),
    ...rows,
    ...(left > 0 ? [`… ${left} more ${left === 1 ? "level" : "levels"}, in shortage.csv`] : []),
  ];
}

function levelCell(level: string): string {
  return percentCell(approximately(level));
}

function fullyOf({ machines }: LevelResult): number {
  return machines.filter((machine) => shareOf(machine) >= 0.999).length;
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "held", "swing", "products", "tree-needs", "unsettled"]);

interface Row {
  readonly level: string;
  readonly result: LevelResult;
}

/** Whole levels, as many as there is room for. */
function rowLines({ levels, variants }: Shortage, style: Style): string[] {
  const shown = levels.slice(0, Math.max(1, Math.floor(MOST_ROWS / variants.length)));
  const rows = shown.flatMap(({ level, variants: all }) => all.map((result): Row => ({ level, result })));
  const { heading, rows: lines } = table(columns(rows), COLUMNS);
  const left = levels.length - shown.length;
  return [
    ...heading.map(style.heading),
    ...lines,
    ...(left > 0 ? [`… ${left} more ${left === 1 ? "level" : "levels"}, in shortage.csv`] : []),
  ];
}

function columns(rows: readonly Row[]): Column[] {
  const column = (heading: readonly string[], importance: number, cell: (result: LevelResult) => string): Column => ({
    heading,
    importance,
    cells: rows.map(({ result }) => cell(result)),
    align: "right",
  });
  const shares = ({ machines }: LevelResult): number[] => machines.map(shareOf);
  return [
    {
      heading: ["feed", "%"],
      importance: 99,
      align: "right",
      cells: rows.map(({ level }, i) => (rows[i - 1]?.level === level ? "" : levelCell(level))),
    },
    { heading: ["variant"], importance: 98, align: "left", cells: rows.map(({ result }) => variantName(result.id)) },
    column(["settled", "/min"], 10, (result) => rateOrDash(settledOf(result))),
    column(["low", "/min"], 5, ({ fluctuation }) => rateOrDash(fluctuation.low_per_min)),
    column(["high", "/min"], 5, ({ fluctuation }) => rateOrDash(fluctuation.high_per_min)),
    column(["period", "min"], 2, ({ fluctuation }) => minutesOrDash(fluctuation.period_min)),
    column(["Jain's", "index"], 9, (result) => indexOrDash(jainOf(result))),
    column(["fully"], 8, (result) => number(fullyOf(result))),
    column(["least", "%"], 7, (result) => percentCell(Math.min(1, ...shares(result)))),
    column(["settles", "at", "min"], 6, (result) => settlesCell(result, minutesOrDash)),
    column(["hold-up", "items"], 3, (result) => number(result.hold_up_settled)),
  ];
}
