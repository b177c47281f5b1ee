/** Layouts side by side for the terminal: the answer and one table; findings, further tables and cautions as details. */
import type { LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { SameLuck } from "../../study/luck-results.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { duration } from "../text/figures.ts";
import { CAUTIONS, DRAWING_CAUTIONS } from "../text/notes.ts";
import { terminalTable } from "../text/study-table.ts";
import { bullet, COLUMNS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { buildable, evennessNote, lineInBrief } from "./layout-figures.ts";
import { doesText } from "./layout-words.ts";
import { layoutsAnswer } from "./layouts-answer.ts";
import { layoutsFindings, whatIsWeighed } from "./layouts-findings.ts";
import { buildingColumns, doingColumns, layoutColumns, luckLayoutColumns, PRIMING } from "./layouts-table.ts";

/** @returns lines with a line break at the end of each */
export function layoutsText(study: LayoutStudy, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const all = buildable(study);
  const page = {
    title: study.title,
    answer: layoutsAnswer(study),
    table: all.length === 0 ? [] : terminalTable(layoutColumns(study), all, style),
    isWholeInDetails: true,
    details: [
      wrap(lineInBrief(oneLine(study.line), study), COLUMNS),
      layoutsFindings(study).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      ...(all.length === 0 ? [] : [...tables(study, all, style), notes(study).flatMap((note) => wrap(note, COLUMNS))]),
      study.layouts.flatMap((layout) => bullet(`${oneLine(layout.id)}: ${oneLine(doesText(layout))}`)),
      handCautions(byHand(all), style),
      [...DRAWING_CAUTIONS, ...CAUTIONS.slice(-1)].flatMap(bullet).map(style.warning),
    ],
    caution: "A drawing is no installation plan.",
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["infeasible", "over-limits", "stopped", "unsettled", "no-end"]);

function notes(study: LayoutStudy): string[] {
  if (study.replications !== undefined) return luckNotes(study, study.replications);
  return [
    `* Not beaten: no other is at least as good in ${whatIsWeighed(study)}, and better in one.`,
    evenAndMore(study),
  ];
}

function evenAndMore(study: LayoutStudy): string {
  return `Even: ${evennessNote(study)} on half the feed. One more: elements added and torn out for one more ${study.leads_to.slice(0, -1)} like the last.`;
}

function luckNotes(study: LayoutStudy, { counted_from_min: from }: SameLuck): string[] {
  return [
    `* Not beaten: no other is told better in one of ${whatIsWeighed(study)}, and worse in none.`,
    `Lost: up to ${duration(from)}, against the most that any makes once settled. From leader: less the one that leads, replication by replication, with half of the 95 % interval for all together; ? tells nothing.`,
    evenAndMore(study),
  ];
}

/** Tactics that some layout is best primed with and that need hands. */
export function byHand(layouts: readonly LayoutResult[]): string[] {
  const names = layouts.flatMap(({ primed }) => (primed?.by_hand === true ? [oneLine(primed.tactic)] : []));
  return [...new Set(names)];
}

/** What each does, primed too, and what it takes to build; in one the tables are too wide for a terminal. */
function tables(study: LayoutStudy, all: readonly LayoutResult[], style: Style): string[][] {
  const primed = all.filter((layout) => layout.primed !== null);
  const { replications: luck } = study;
  return [
    terminalTable(luck === undefined ? doingColumns(study) : luckLayoutColumns(luck), all, style),
    ...(primed.length === 0 ? [] : [terminalTable(PRIMING, primed, style)]),
    terminalTable(buildingColumns(study), all, style),
  ];
}
