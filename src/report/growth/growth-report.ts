/** A growth study's report: in the terminal, in report.md, and all its files; a row for each size. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import { answerTable } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { settlingOrDash } from "../text/cells.ts";
import { longRun, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import {
  count,
  exactRate,
  flag,
  minutes,
  rate,
  reportTable,
  type StudyColumn,
  terminalTable,
  text,
} from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { growthAnswer } from "./growth-answer.ts";
import { growthFindings } from "./growth-findings.ts";

/** The table of a growth study: a row for each size. */
export const GROWTH_COLUMNS: readonly StudyColumn<GrowthStep>[] = [
  count(({ machines }) => machines, { csv: "machines", markdown: "machines", terminal: ["machines", 99] }),
  exactRate(({ needs_per_min: need }) => need, {
    csv: "needs_items_per_min",
    markdown: "need, items/min",
    terminal: ["need|/min", 6],
  }),
  exactRate(({ feed_per_min: feed }) => feed, {
    csv: "feed_items_per_min",
    markdown: "feed, items/min",
    terminal: ["feed|/min", 3],
  }),
  rate(longRun, { csv: "settled_items_per_min", markdown: "settled, items/min", terminal: ["settled|/min", 5] }),
  minutes(({ settling_min: at }) => at, {
    csv: "settling_min",
    markdown: "settles at, min",
    terminal: ["settles|at|min", 10],
    inFull: ({ settling_min: at, proved }) => settlingOrDash(at, proved),
  }),
  minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
  flag(({ proved }) => proved, { csv: "proved" }),
  minutes(({ within_tolerance_min: at }) => at, {
    csv: "within_tolerance_min",
    markdown: "95 % from, min",
    terminal: ["95 %|from|min", 7],
  }),
  count(({ ramp_up_loss: loss }) => loss, {
    csv: "ramp_up_loss_items",
    markdown: "lost, items",
    terminal: ["lost|items", 9],
  }),
  count(({ hold_up_settled: holdUp }) => holdUp, {
    csv: "hold_up_settled_items",
    markdown: "settled hold-up, items",
    terminal: ["hold-up|items", 8],
  }),
  exactRate(({ headroom_per_min: left }) => left, {
    csv: "headroom_items_per_min",
    markdown: "headroom, items/min",
    terminal: ["headroom|/min", 4],
  }),
  text(({ tightest_belt: belt }) => belt, {
    csv: "tightest_belt",
    markdown: "on the tightest belt",
    terminal: ["on belt", 2],
  }),
];

const FEW_SIZES = 18;
const MOST_SIZES = 60;

/** @returns lines with a line break at the end of each */
export function growthText(growth: Growth, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: growth.title,
    answer: growthAnswer(growth),
    table: terminalTable(GROWTH_COLUMNS, growth.sizes, style, {
      most: shown.details === true ? MOST_SIZES : FEW_SIZES,
      file: "growth.csv",
    }),
    details: [
      growthFindings(growth).flatMap(({ code, text }) =>
        bullet(text).map(code === "too-small" && growth.too_small !== null ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

/** report.md of a growth study: findings, pictures, a row for each size, assumptions and cautions. */
export function growthMarkdown(growth: Growth, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Growth: ${escapeMarkdown(growth.title)}`,
    answerTable(growthAnswer(growth)),
    ...pictureSections(pictures),
    "## Findings",
    `The group ${escapeMarkdown(growth.group)} is lengthened machine by machine.`,
    bullets(growthFindings(growth).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Sizes", reportTable(GROWTH_COLUMNS, growth.sizes), SIZES_NOTE);
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const SIZES_NOTE = "Headroom below zero is what the belt cannot carry of the need.";

const ASSUMPTIONS: readonly string[] = [
  "Every added machine is like the others of its group, at the far end, with belts and dividers like theirs.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output from the start.",
];
