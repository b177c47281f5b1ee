/** Tactics side by side for the terminal: the answer and a table; findings, what each does and cautions as details. */
import type { Comparison, TacticResult } from "../../study/comparison/results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { luckComparisonText } from "../luck/luck-comparison-text.ts";
import { countOrDash, differenceOrDash, minutesOrDash } from "../text/cells.ts";
import { duration, listed, number, percentCell } from "../text/figures.ts";
import { savedColumns } from "../text/money-text.ts";
import type { Column } from "../text/table.ts";
import { bullet, COLUMNS, HANDS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { makesNothing, settlesCell } from "./baseline.ts";
import { byHand, choiceTable, wholeTable } from "./choice-table.ts";
import { comparisonAnswer } from "./comparison-answer.ts";
import { comparisonFindings, WHAT_COUNTS } from "./comparison-findings.ts";

/** @returns lines with a line break at the end of each */
export function comparisonText(comparison: Comparison, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const { tactics, replications: luck } = comparison;
  if (luck !== undefined) return luckComparisonText(comparison, luck, style, shown);
  const page = {
    title: comparison.title,
    answer: comparisonAnswer(comparison),
    table: choiceTable(comparison, comparisonColumns, style),
    isWholeInDetails: true,
    details: [
      comparisonFindings(comparison).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      wholeTable(tactics, comparisonColumns, style),
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
        const asked =
          asks.length === 0 ? "" : `. It asks for ${listed(asks.map(oneLine))}${granted ? "" : " (not granted)"}`;
        return bullet(`${oneLine(id)}: ${oneLine(does)}${asked}`);
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

/** Whether any of them has a figure. */
function known(tactics: readonly TacticResult[], of: (tactic: TacticResult) => number | null): boolean {
  return tactics.some((tactic) => of(tactic) !== null);
}

export function comparisonColumns(tactics: readonly TacticResult[]): Column[] {
  const column = (heading: readonly string[], importance: number, cell: (tactic: TacticResult) => string): Column => ({
    heading,
    importance,
    cells: tactics.map(cell),
    align: "right",
  });
  const all: Column[] = [
    {
      heading: ["  tactic"],
      importance: 99,
      align: "left",
      cells: tactics.map(({ id, undominated }) => `${undominated ? "*" : " "} ${oneLine(id)}`),
    },
    column(["settles", "at", "min"], 10, settlesCell),
    // Where some stop, their cells leave no room for it beside whole names.
    ...(tactics.some(makesNothing)
      ? []
      : [column(["95 %", "at", "min"], 7, (tactic) => minutesOrDash(tactic.to_95_min))]),
    column(["lost", "items"], 9, (tactic) => countOrDash(tactic.ramp_up_loss)),
    column(["handled", "items"], 8, (tactic) => number(tactic.items_handled)),
    column(["first", "product", "min"], 2, (tactic) => minutesOrDash(tactic.first_product_min)),
    column(["peak", "hold-up", "items"], 6, (tactic) => number(tactic.hold_up_peak)),
  ];
  if (tactics.some(({ over_limit_min: over }) => over !== null)) {
    all.push(column(["over", "limit", "min"], 6.5, (tactic) => minutesOrDash(tactic.over_limit_min)));
  }
  if (tactics.some(({ over_limit_items: over }) => over !== null)) {
    all.push(column(["too long", "there", "items"], 6.4, (tactic) => countOrDash(tactic.over_limit_items)));
  }
  all.push(...savedColumns(tactics, column));
  if (known(tactics, ({ reserve_kept: kept }) => kept)) {
    all.push(
      column(["reserve", "kept", "%"], 7.5, ({ reserve_kept: kept }) => (kept === null ? "–" : percentCell(kept))),
    );
  }
  if (known(tactics, ({ made_while_stopped: { machine } }) => machine)) {
    all.push(
      column(["machine", "stops", "makes"], 6.2, ({ made_while_stopped: { machine } }) => countOrDash(machine)),
      column(["feed", "stops", "makes"], 6.3, ({ made_while_stopped: { feeds } }) => countOrDash(feeds)),
    );
  }
  for (const [key, min, importance] of MADE) {
    if (tactics.every(({ made_more: more }) => more[key] === null)) continue;
    all.push(column(["more", `in ${min}`, "min"], importance, (tactic) => differenceOrDash(tactic.made_more[key])));
  }
  return all;
}

const MADE = [
  ["min_10", 10, 4],
  ["min_30", 30, 5],
  ["min_60", 60, 3],
] as const;
