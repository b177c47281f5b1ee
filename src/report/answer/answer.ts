/**
 * The answer of a command: what is asked first, a line for each question, the same in the terminal, in report.md and on a page.
 * Texts keep numbers and units together by no-break spaces (see `plain` in figures.ts).
 */
import { escapeMarkdown, left, markdownTable } from "../text/markdown-text.ts";
import { COLUMNS, type Style } from "../text/terminal-lines.ts";
import { padEnd, textWidth, wrapAtMost } from "../text/text-width.ts";

export interface AnswerLine {
  /** In a word or two. */
  readonly what: string;
  readonly text: string;
  /** Something stands against it. */
  readonly isBad?: boolean;
  /** Left off first where a terminal has no room for all. */
  readonly isMore?: boolean;
}

/** What findings of these codes say, as lines of an answer. */
export function toldIn<Code extends string>(
  found: readonly { readonly code: Code; readonly text: string }[],
  codes: readonly Code[],
  what: string,
  rest: Pick<AnswerLine, "isBad" | "isMore"> = {},
): AnswerLine[] {
  return found
    .filter(({ code }) => codes.includes(code))
    .map(({ text }) => ({ what, text: text.replace(/\.$/, ""), ...rest }));
}

/** So many of them, or as few as go without what can be left off. */
export function inBrief(answer: readonly AnswerLine[], most: number): AnswerLine[] {
  const kept = [...answer];
  while (kept.length > most) {
    const last = kept.findLastIndex(({ isMore }) => isMore === true);
    if (last < 0) break;
    kept.splice(last, 1);
  }
  return kept;
}

const MOST_LINES = 10;
/** Of one answer: what is longer is told whole in the report. */
const MOST_OF_ONE = 4;
const GAP = 2;

/** At most ten lines of a terminal. */
export function answerLines(answer: readonly AnswerLine[], style: Style): string[] {
  const shown = [...answer];
  const total = (most: number): number => wrappedAll(shown, most).reduce((all, { lines }) => all + lines.length, 0);
  while (total(MOST_OF_ONE) > MOST_LINES) {
    const last = shown.findLastIndex(({ isMore }) => isMore === true);
    if (last < 0) break;
    shown.splice(last, 1);
  }
  const kept = shown.slice(0, MOST_LINES);
  const width = labelWidth(kept);
  return shortened(kept).flatMap(({ line: { what, isBad }, lines }) =>
    lines
      .map((line, i) => `${padEnd(i === 0 ? what : "", width)}${line}`)
      .map(isBad === true ? style.warning : (line) => line),
  );
}

interface Wrapped {
  readonly line: AnswerLine;
  readonly lines: string[];
}

function wrappedAll(answer: readonly AnswerLine[], most: number): Wrapped[] {
  const width = COLUMNS - labelWidth(answer);
  return answer.map((line) => ({ line, lines: wrapAtMost(line.text, width, most) }));
}

/** The longest ones are cut first, of those alike the last. */
function shortened(answer: readonly AnswerLine[]): Wrapped[] {
  const all = wrappedAll(answer, MOST_OF_ONE);
  const width = COLUMNS - labelWidth(answer);
  for (;;) {
    const over = all.reduce((total, { lines }) => total + lines.length, 0) - MOST_LINES;
    const longest = Math.max(...all.map(({ lines }) => lines.length));
    const at = all.findLastIndex(({ lines }) => lines.length === longest);
    const one = all[at];
    if (over <= 0 || longest < 2 || one === undefined) return all;
    all[at] = { line: one.line, lines: wrapAtMost(one.line.text, width, longest - 1) };
  }
}

function labelWidth(answer: readonly AnswerLine[]): number {
  return GAP + answer.reduce((most, { what }) => Math.max(most, textWidth(what)), 0);
}

/** The whole of it, as a small table. */
export function answerTable(answer: readonly AnswerLine[]): string {
  return markdownTable(
    [left(""), left("")],
    answer.map(({ what, text, isBad }) => {
      const told = escapeMarkdown(text);
      return [`**${escapeMarkdown(what)}**`, isBad === true ? `**!** ${told}` : told];
    }),
  );
}
