/** A sweep's report: in the terminal, in report.md, and all its files; a row for each point. */
import type { Sweep, SweepPoint } from "../../study/sweep/sweep-results.ts";
import { answerTable } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { settlingOrDash } from "../text/cells.ts";
import { number, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import {
  count,
  exactRate,
  flag,
  minutes,
  quantity,
  rate,
  reportTable,
  type StudyColumn,
  terminalTable,
  text,
} from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { sweepAnswer } from "./sweep-answer.ts";
import { outputPerMin, quantityHeading } from "./sweep-figures.ts";
import { sweepFindings } from "./sweep-findings.ts";

/** The table of a sweep: a row for each point. */
export function sweepColumns({ quantities }: Sweep): StudyColumn<SweepPoint>[] {
  return [
    count(({ point }) => point, { csv: "point" }),
    ...quantities.map((swept, q): StudyColumn<SweepPoint> => {
      const { path, values, numbers } = swept;
      const written = ({ values: all }: SweepPoint): string => all[q] ?? "";
      return quantity(written, {
        csv: quantityHeading(swept),
        markdown: path,
        // Broken at its dots, so that the column is no wider than its longest name.
        terminal: [path.split("."), 99 - q],
        value: (point) => numbers?.[values.indexOf(written(point))] ?? written(point),
      });
    }),
    minutes(({ settling_min: at }) => at, {
      csv: "settling_min",
      markdown: "settles at, min",
      terminal: ["settles|at|min", 10],
      inFull: ({ settling_min: at, proved }) => settlingOrDash(at, proved),
    }),
    flag(({ proved }) => proved, { csv: "proved" }),
    minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
    minutes(({ within_tolerance_min: at }) => at, {
      csv: "within_tolerance_min",
      markdown: "95 % from, min",
      terminal: ["95 %|from|min", 6],
    }),
    count(({ ramp_up_loss: loss }) => loss, {
      csv: "ramp_up_loss_items",
      markdown: "lost, items",
      terminal: ["lost|items", 9],
    }),
    rate(outputPerMin, {
      csv: "long_run_items_per_min",
      markdown: "long run, items/min",
      terminal: ["long-run|/min", 8],
    }),
    text(({ basis }) => basis, { csv: "basis" }),
    exactRate(({ full_per_min: full }) => full, {
      csv: "full_items_per_min",
      markdown: "full, items/min",
      terminal: ["full|/min", 7],
    }),
    count(({ made }) => made, { csv: "made_items" }),
    count(({ hold_up_settled: holdUp }) => holdUp, {
      csv: "hold_up_settled_items",
      markdown: "settled hold-up, items",
      terminal: ["hold-up|items", 5],
    }),
    count(({ hold_up_peak: peak }) => peak, {
      csv: "hold_up_peak_items",
      markdown: "highest hold-up, items",
      terminal: ["peak|items", 4],
    }),
  ];
}

const FEW_POINTS = 12;
const MOST_POINTS = 60;

/** @returns lines with a line break at the end of each */
export function sweepText(sweep: Sweep, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: sweep.title,
    answer: sweepAnswer(sweep),
    table: terminalTable(sweepColumns(sweep), sweep.points, style, {
      most: shown.details === true ? MOST_POINTS : FEW_POINTS,
      file: "sweep.csv",
    }),
    details: [
      sweepFindings(sweep).flatMap(({ code, text }) =>
        bullet(text).map(code === "incomplete" || code === "stops" ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

/** More would make a page that nobody reads. */
const MOST_ROWS = 500;

export function sweepMarkdown(sweep: Sweep, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Sweep: ${escapeMarkdown(sweep.title)}`,
    answerTable(sweepAnswer(sweep)),
    "## Findings",
    bullets(sweepFindings(sweep).map(({ text }) => escapeMarkdown(text))),
    ...pictureSections(pictures),
    "## Points",
    reportTable(sweepColumns(sweep), sweep.points.slice(0, MOST_ROWS)),
  ];
  if (sweep.points.length > MOST_ROWS) {
    sections.push(`The first ${number(MOST_ROWS)} of ${number(sweep.points.length)}; all are in sweep.csv.`);
  }
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const ASSUMPTIONS: readonly string[] = [
  "Each point is the scenario with these values in place of the file's own, run by itself from an empty line.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output of the same point from the start.",
];
