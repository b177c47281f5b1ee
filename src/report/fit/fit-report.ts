/** A fit's report: in the terminal, in report.md, and all its files; a row for each unknown, and one for each thing observed. */
import type { Fit, FittedSeries, FittedUnknown } from "../../study/fit/fit-results.ts";
import { answerTable } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { NONE } from "../text/cells.ts";
import { csv } from "../text/csv.ts";
import { duration, listed, number, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { CAUTIONS } from "../text/notes.ts";
import { quantity, reportTable, type StudyColumn, terminalTable, text } from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { fitAnswer } from "./fit-answer.ts";
import { misfitOf, valueText, valueWithin } from "./fit-figures.ts";
import { type FitFindingCode, fitFindings } from "./fit-findings.ts";

/** The tables of a fit: a row for each unknown, and one for each thing observed. */
const UNKNOWN_COLUMNS: readonly StudyColumn<FittedUnknown>[] = [
  text(({ path }) => path, { markdown: "unknown", terminal: ["unknown", 99] }),
  quantity(({ own, unit }) => (own === null ? NONE : valueText(own, unit)), {
    markdown: "in the file",
    terminal: ["in the|file", 5],
  }),
  quantity((unknown) => valueWithin(unknown)(unknown.value), { markdown: "fitted", terminal: ["fitted", 10] }),
  quantity(({ standard_error: error, unit }) => (error === null ? NONE : valueText(error, unit, 2)), {
    markdown: "standard error",
    terminal: ["standard|error", 6],
  }),
  quantity((unknown) => end(unknown, unknown.range_95[0]), { markdown: "95 % from", terminal: ["95 %|from", 9] }),
  quantity((unknown) => end(unknown, unknown.range_95[1]), { markdown: "to", terminal: [["", "to"], 8] }),
  quantity(({ lower, upper, unit }) => `${valueText(lower, unit)} to ${valueText(upper, unit)}`, {
    markdown: "bounds",
  }),
];

function end(unknown: FittedUnknown, value: number | null): string {
  return value === null ? NONE : valueWithin(unknown)(value);
}

const SERIES_COLUMNS: readonly StudyColumn<FittedSeries>[] = [
  text(({ name }) => name, { markdown: "observed" }),
  quantity((series) => number(misfitOf(series).count), { markdown: "counts" }),
  quantity(({ error }) => number(error, 3), { markdown: "expected error, items" }),
  quantity((series) => number(misfitOf(series).meanSquare, 2), { markdown: "mean square residual over it" }),
];

const WARNED: readonly FitFindingCode[] = ["misfit", "alone-no-matter", "combination", "untold", "at-bound", "starts"];

/** @returns lines with a line break at the end of each */
export function fitText(fit: Fit, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: fit.title,
    answer: fitAnswer(fit),
    table: terminalTable(UNKNOWN_COLUMNS, fit.unknowns, style),
    details: [
      fitFindings(fit).flatMap(({ code, text }) =>
        bullet(text).map(WARNED.includes(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

/** report.md of a fit: the answer, findings, pictures, tables, how it was done, and cautions. */
export function fitMarkdown(fit: Fit, pictures: readonly PictureLink[]): string {
  const { unknowns, series, times_min: times, runs } = fit;
  const counts = series.reduce((total, { observed }) => total + observed.filter((count) => count !== null).length, 0);
  const sections = [
    `# Fit: ${escapeMarkdown(fit.title)}`,
    answerTable(fitAnswer(fit)),
    `${listed(unknowns.map(({ path }) => escapeMarkdown(path)))} from ${number(counts)} counts of ${number(series.length)} ${series.length === 1 ? "thing" : "things"} over ${duration(times.at(-1) ?? 0)}, by ${number(runs)} runs. The fitted scenario is [fitted.yaml](fitted.yaml), which runs as it is.`,
    "## Findings",
    bullets(
      fitFindings(fit).map(({ code, text }) => `${code === "misfit" ? "**Warning:** " : ""}${escapeMarkdown(text)}`),
    ),
    ...pictureSections(pictures),
    "## Unknowns",
    reportTable(UNKNOWN_COLUMNS, unknowns),
  ];
  if (unknowns.length > 1) sections.push("## Correlations", correlationsTable(fit));
  sections.push(
    "## Observed",
    reportTable(SERIES_COLUMNS, series),
    "## How it was done",
    bullets(METHOD),
    "## Cautions",
    bullets(CAUTIONS),
  );
  return `${plain(sections.join("\n\n"))}\n`;
}

function correlationsTable({ unknowns, correlations }: Fit): string {
  const names = unknowns.map(({ path }) => escapeMarkdown(path));
  return markdownTable(
    [left(""), ...names.map(right)],
    names.map((name, i) => [name, ...names.map((_, j) => correlationText(correlations[i]?.[j] ?? null))]),
  );
}

function correlationText(value: number | null): string {
  return value === null ? NONE : number(value, 2);
}

const METHOD: readonly string[] = [
  "Least squares over simulations: the sum of the squared residuals, each over the error that is expected of a count, so that every count says as much as it is sure, whatever its size. The error is one item, or where items come in cycles one cycle's, unless stated.",
  "The search is DIRECT, which divides the whole range between the bounds, and is done again within smaller and smaller boxes from there and from the file's own values. It needs no derivatives, since counts go in steps. Of values that fit as well, the file's own is taken, else the one with the fewest digits.",
  "A range of 95 % is where the fit, with the other unknowns fitted again, is worse by no more than 3.84 in χ² (one unknown at a time), or where it is wider, 1.96 standard errors to both sides. Standard errors and correlations come from the curvature, by linear theory.",
  "A count of the run is its mean over one cycle of the machine round its time (of the longest, for the whole plant), since nobody knows when within a cycle the plant was looked at. So fitted counts are not whole.",
  "Where the model does not fit, errors and ranges are widened by the root of χ² over the degrees of freedom.",
  "Each run begins with an empty line at time 0 and is the same every time: nothing in it is random.",
];

/** fit.csv: a row for each observed count. */
export function fitCsv({ times_min: times, series }: Fit): string {
  return csv([
    ["time_min", "observed", "count_items", "fitted_items", "residual_items", "expected_error_items"],
    ...series.flatMap(({ name, observed, fitted, error }) =>
      times.flatMap((time, row) => {
        const count = observed[row] ?? null;
        const at = fitted[row] ?? 0;
        return count === null ? [] : [[time, name, count, at, count - at, error]];
      }),
    ),
  ]);
}
