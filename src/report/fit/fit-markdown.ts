/** report.md of a fit: the answer, findings, pictures, tables, how it was done, and cautions. */
import type { Fit } from "../../study/fit/fit-results.ts";
import { answerTable } from "../answer/answer.ts";
import { NONE } from "../text/cells.ts";
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
import { reportTable } from "../text/study-table.ts";
import { fitAnswer } from "./fit-answer.ts";
import { fitFindings } from "./fit-findings.ts";
import { SERIES_COLUMNS, UNKNOWN_COLUMNS } from "./fit-table.ts";

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
