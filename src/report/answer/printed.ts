/** What a command prints: the title, its answer, one table; all else where it is asked for. */
import { plain } from "../text/figures.ts";
import { COLUMNS, type Style } from "../text/terminal-lines.ts";
import { oneLine, textWidth, wrap } from "../text/text-width.ts";
import { type AnswerLine, answerLines } from "./answer.ts";

/** The scenario that a report is of, as the page reads it again. */
export interface PageSource {
  readonly text: string;
  /** As messages name the file. */
  readonly file: string;
}

/** How much of an answer is shown. */
export interface Shown {
  /** Findings, notes, further tables and cautions too. */
  readonly details?: boolean;
  /** The folder of the report, or `null` where there is none. */
  readonly place?: string | null;
}

export interface Page {
  readonly title: string;
  readonly answer: readonly AnswerLine[];
  /** Lines of one table; left off where details have one that is whole. */
  readonly table: readonly string[];
  readonly isWholeInDetails?: boolean;
  /** For details: lines in groups. */
  readonly details: readonly (readonly string[])[];
  /** What must be heeded, in a few words; all of it stands in details and in the report. */
  readonly caution?: string | null;
}

/** @returns lines with a line break at the end of each, none wider than a terminal */
export function pageText(
  { title, answer, table, isWholeInDetails = false, details, caution = null }: Page,
  style: Style,
  { details: all = false, place = null }: Shown,
): string {
  const groups: (readonly string[])[] = [
    wrap(oneLine(title), COLUMNS).map(style.title),
    answerLines(answer, style),
    all && isWholeInDetails ? [] : table,
    ...(all ? details : []),
    caution === null || all ? [] : [style.warning(cautionLine(caution, place))],
  ];
  const lines = groups
    .filter((group) => group.length > 0)
    .flatMap((group, index) => (index === 0 ? group : ["", ...group]));
  return `${lines.map(plain).join("\n")}\n`;
}

function cautionLine(caution: string, place: string | null): string {
  const line = `${caution} See ${place === null ? "--details" : `${oneLine(place)}/report.md`}`;
  return textWidth(line) <= COLUMNS ? line : `${caution} See report.md or --details`;
}
