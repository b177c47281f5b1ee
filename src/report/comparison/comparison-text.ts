/** Tactics side by side for the terminal: the answer and a table; findings, what each does and cautions as details. */
import type { Comparison } from "../../study/results.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { makesNothing } from "../text/baseline.ts";
import { duration } from "../text/figures.ts";
import { terminalTable } from "../text/study-table.ts";
import { asksText, tacticText } from "../text/tactic-words.ts";
import { bullet, COLUMNS, HANDS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { byHand, choiceTable } from "./choice-table.ts";
import { comparisonAnswer } from "./comparison-answer.ts";
import { comparisonFindings, WHAT_COUNTS } from "./comparison-findings.ts";
import { luckComparisonText } from "./luck-comparison-text.ts";
import { tacticColumns } from "./tactics-table.ts";

/** @returns lines with a line break at the end of each */
export function comparisonText(comparison: Comparison, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const { tactics, replications: luck } = comparison;
  if (luck !== undefined) return luckComparisonText(comparison, luck, style, shown);
  const page = {
    title: comparison.title,
    answer: comparisonAnswer(comparison),
    table: choiceTable(comparison, tacticColumns, style),
    isWholeInDetails: true,
    details: [
      comparisonFindings(comparison).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      terminalTable(tacticColumns(tactics), tactics, style),
      [
        ...wrap(`* Not beaten: no other is at least as good in ${WHAT_COUNTS}, and better in one.`, COLUMNS),
        ...wrap(
          "Lost: against what the line settles at with nothing done, from the first moment; below 0 it is a gain. More: than with nothing done. Reserve: settled stock in infeed buffers, against nothing done.",
          COLUMNS,
        ),
        ...stopsNote(comparison),
        ...(tactics.some(makesNothing) ? ["Stops: from then on the line makes nothing, for good."] : []),
      ],
      tactics.flatMap(({ id, does, asks_for: asks, granted }) => {
        const asked = asks.length === 0 ? "" : `. It asks for ${asksText(asks)}${granted ? "" : " (not granted)"}`;
        return bullet(`${oneLine(id)}: ${oneLine(tacticText(does))}${asked}`);
      }),
      handCautions(byHand(tactics), style),
    ],
    caution: byHand(tactics).length > 0 ? HANDS : null,
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["limits", "stopped", "slower", "note"]);

function stopsNote({ stops }: Comparison): string[] {
  if (stops === null) return [];
  const span = `${duration(stops.from_min)} to ${duration(stops.to_min)} after its start`;
  return wrap(
    `If stopped: what the line makes from ${span}, while ${oneLine(stops.machine)}, or the feed, stops.`,
    COLUMNS,
  );
}
