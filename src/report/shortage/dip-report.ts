/** The report of a dip of the feed: in the terminal, in report.md, and all its files; a row for each variant. */
import type { Dip, DipResult } from "../../study/shortage/shortage-results.ts";
import { answerTable } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { settlingOrDash } from "../text/cells.ts";
import { duration, longRun, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS } from "../text/notes.ts";
import { count, flag, minutes, rate, reportTable, type StudyColumn, terminalTable, text } from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { dipAnswer } from "./dip-answer.ts";
import { dipFindings, keepsLimits, standsBefore } from "./dip-findings.ts";
import { levelText, variantName } from "./shortage-figures.ts";
import { studied, variantsTable } from "./shortage-report.ts";

/** The table of a study of a dip: a row for each variant. */
export function dipColumns(dip: Dip): StudyColumn<DipResult>[] {
  return [
    text(({ id }) => variantName(id), {
      csv: "variant",
      markdown: "variant",
      terminal: ["variant", 99],
      value: ({ id }) => id,
    }),
    rate(longRun, { csv: "settled_items_per_min", markdown: "settled, items/min", terminal: ["settled|/min", 7] }),
    flag(({ proved }) => proved, { csv: "proved" }),
    flag(({ settled_before: settled }) => settled, { csv: "settled_before" }),
    minutes(({ stops_without_min: at }) => at, { csv: "stops_without_min" }),
    minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
    count(({ made_without: made }) => made, { csv: "made_without_items" }),
    count(({ made }) => made, { csv: "made_items" }),
    count((result) => (standsBefore(dip, result) ? null : result.lost), {
      csv: "lost_items",
      markdown: "lost, items",
      terminal: ["lost|items", 10],
      value: ({ lost }) => lost,
    }),
    rate(({ lowest_per_min: lowest }) => lowest, {
      csv: "lowest_items_per_min",
      markdown: "lowest, items/min",
      terminal: ["lowest|/min", 9],
    }),
    minutes(({ lowest_at_min: at }) => at, { csv: "lowest_at_min", markdown: "at, min" }),
    minutes(({ within_tolerance_min: after }) => after, {
      csv: "within_tolerance_after_min",
      markdown: "95 % after, min",
      terminal: ["95 %|after|min", 8],
    }),
    minutes(({ recovery_min: after }) => after, {
      csv: "recovery_min",
      markdown: "in its pattern after, min",
      terminal: ["pattern|after|min", 8],
      inFull: ({ recovery_min: after, proved }) => settlingOrDash(after, proved),
    }),
    count(({ hold_up_before: holdUp }) => holdUp, {
      csv: "hold_up_before_items",
      markdown: "hold-up before, items",
      terminal: ["hold-up|before|items", 4],
    }),
    count(({ hold_up_settled: holdUp }) => holdUp, {
      csv: "hold_up_settled_items",
      markdown: "hold-up settled, items",
      terminal: ["hold-up|settled|items", 5],
    }),
    flag((result) => (result.limits_broken === null ? null : keepsLimits(result)), { csv: "keeps_limits" }),
  ];
}

/** @returns lines with a line break at the end of each */
export function dipText(dip: Dip, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: dip.title,
    answer: dipAnswer(dip),
    table: terminalTable(dipColumns(dip), dip.results, style),
    details: [
      dipFindings(dip).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "limits", "not-recovered", "early", "tree-needs"]);

/** report.md of a study of a dip: findings, picture, a row for each variant, assumptions and cautions. */
export function dipMarkdown(dip: Dip, pictures: readonly PictureLink[]): string {
  const { level, from_min: fromMin, for_min: forMin } = dip.dip;
  const sections = [
    `# Dip of the feed: ${escapeMarkdown(dip.title)}`,
    answerTable(dipAnswer(dip)),
    ...pictureSections(pictures),
    "## Findings",
    `${studied(dip)} The dip: ${levelText(level)} of the feed from ${duration(fromMin)} for ${duration(forMin)}.`,
    bullets(dipFindings(dip).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Outcome", reportTable(dipColumns(dip), dip.results), "## Variants", variantsTable(dip));
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const ASSUMPTIONS: readonly string[] = [
  "Every variant has the same machines, feeds, buffers and collecting belts, and is run twice from empty, without the dip and with it; lost is what the second run makes less up to the horizon.",
  "An even tree has a chain's belt inside and its branch at the machines; all its dividers are even, their ways the prime factors of the number of machines. A return loop has dividers of two and three ways, and what nobody has a share of goes back on a belt like the chain's.",
  "Recovery counts from the moment at which the feed is whole again: until the output keeps up with all of what it settles at, or until it keeps up with 95 % of that.",
];
