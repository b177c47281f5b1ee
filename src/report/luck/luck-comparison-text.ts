/** Tactics compared on the same luck, for the terminal. */
import type { SameLuck } from "../../study/luck/luck-results.ts";
import type { Comparison } from "../../study/results.ts";
import { nameOf } from "../comparison/baseline.ts";
import { duration, number, plain } from "../figures.ts";
import type { Style } from "../summary.ts";
import { type Column, table } from "../table.ts";
import { bullet, COLUMNS, handCautions } from "../terminal-lines.ts";
import { oneLine, wrap } from "../text-width.ts";
import { luckComparisonFindings, WHAT_COUNTS_ON_LUCK } from "./luck-comparison-findings.ts";
import { luckColumns, to95Column } from "./luck-table.ts";

export function luckComparisonText(comparison: Comparison, luck: SameLuck, style: Style): string {
  const { tactics } = comparison;
  const { heading, rows } = table(columns(comparison, luck), COLUMNS);
  const lines = [
    ...wrap(oneLine(comparison.title), COLUMNS).map(style.title),
    "",
    ...luckComparisonFindings(comparison, luck).flatMap(({ code, text }) =>
      bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
    ),
    "",
    ...heading.map(style.heading),
    ...rows,
    "",
    ...wrap(`* Not beaten: no other is told better in one of ${WHAT_COUNTS_ON_LUCK}, and worse in none.`, COLUMNS),
    ...wrap(
      `Lost: up to ${duration(luck.counted_from_min)}, against what the line makes once settled. From none: less ${nameOf("none")}, replication by replication, with half of the 95 % interval for all together; ? tells nothing.`,
      COLUMNS,
    ),
    "",
    ...tactics.flatMap(({ id, does }) => bullet(`${oneLine(id)}: ${oneLine(does)}`)),
    ...handCautions(
      tactics.filter(({ by_hand: byHand }) => byHand).map(({ id }) => oneLine(id)),
      style,
    ),
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "no-end", "note"]);

function columns({ tactics }: Comparison, luck: SameLuck): Column[] {
  const ids = tactics.map(({ id }) => id);
  return [
    {
      heading: ["  tactic"],
      importance: 99,
      align: "left",
      cells: tactics.map(({ id, undominated }) => `${undominated ? "*" : " "} ${oneLine(id)}`),
    },
    ...luckColumns(luck, "ramp_up_loss", ids),
    to95Column(tactics),
    {
      heading: ["handled", "items"],
      importance: 9,
      align: "right",
      cells: tactics.map(({ items_handled: handled }) => number(handled)),
    },
    ...luckColumns(luck, "settled_output_per_min", ids).slice(0, 1),
    ...luckColumns(luck, "hold_up_settled", ids).slice(0, 1),
  ];
}
