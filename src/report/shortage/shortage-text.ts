/** A study of short feeds for the terminal: findings, and a row for each level and variant. */
import type { LevelResult, Shortage } from "../../study/shortage-results.ts";
import { indexOrDash, minutesOrDash, rateOrDash } from "../cells.ts";
import { approximately, number, percentCell, plain } from "../figures.ts";
import { PLAIN_STYLE, type Style } from "../summary.ts";
import { type Column, table } from "../table.ts";
import { bullet, COLUMNS } from "../terminal-lines.ts";
import { oneLine, wrap } from "../text-width.ts";
import { jainOf, settledOf, settlesCell, shareOf, variantName } from "./shortage-figures.ts";
import { shortageFindings } from "./shortage-findings.ts";

const MOST_ROWS = 80;

/** @returns lines with a line break at the end of each */
export function shortageText(shortage: Shortage, style: Style = PLAIN_STYLE): string {
  const lines = [
    ...wrap(oneLine(shortage.title), COLUMNS).map(style.title),
    "",
    ...shortageFindings(shortage).flatMap(({ code, text }) =>
      bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
    ),
    "",
    ...rowLines(shortage, style),
    "",
    ...wrap(
      "Fully: machines at 99.9 % of their need or more. Least: the least share of its need that a machine has.",
      COLUMNS,
    ),
    ...wrap("Low and high: of the settled output, averaged over about ten cycles of each machine.", COLUMNS),
  ];
  return `${lines.map(plain).join("\n")}\n`;
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
      cells: rows.map(({ level }, i) => (rows[i - 1]?.level === level ? "" : percentCell(approximately(level)))),
    },
    { heading: ["variant"], importance: 98, align: "left", cells: rows.map(({ result }) => variantName(result.id)) },
    column(["settled", "/min"], 10, (result) => rateOrDash(settledOf(result))),
    column(["low", "/min"], 5, ({ fluctuation }) => rateOrDash(fluctuation.low_per_min)),
    column(["high", "/min"], 5, ({ fluctuation }) => rateOrDash(fluctuation.high_per_min)),
    column(["period", "min"], 2, ({ fluctuation }) => minutesOrDash(fluctuation.period_min)),
    column(["Jain's", "index"], 9, (result) => indexOrDash(jainOf(result))),
    column(["fully"], 8, (result) => number(shares(result).filter((share) => share >= 0.999).length)),
    column(["least", "%"], 7, (result) => percentCell(Math.min(1, ...shares(result)))),
    column(["settles", "at", "min"], 6, (result) => settlesCell(result, minutesOrDash)),
    column(["hold-up", "items"], 3, (result) => number(result.hold_up_settled)),
  ];
}
