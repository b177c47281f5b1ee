/** The terminal summary: title, answer, and a table of machines, for 80 columns. */
import type { MachineResult, Result } from "../../analysis/result.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { rateOrDash } from "../text/cells.ts";
import { longRun, minutesCell, percentCell, rateWord, significant } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { findings } from "./findings.ts";
import { fullProducts, settledText, takenText, takesAsItMakes } from "./machine-rates.ts";
import { runAnswer } from "./run-answer.ts";

type SettledWord = Parameters<typeof settledText>[1];

const MOST_MACHINES = 60;
const FIRST_SHOWN = 30;
const LAST_SHOWN = 20;

/** @returns lines with a line break at the end of each */
export function summary(result: Result, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  return pageText(
    {
      title: result.title,
      answer: runAnswer(result),
      table: result.machines.length > 0 ? machineLines(result, style) : outletLines(result, style),
      details: [findings(result).flatMap((finding) => paragraph(finding, style))],
    },
    style,
    shown,
  );
}

function paragraph({ code, text }: Finding, style: Style): string[] {
  const warning = code === "warning";
  return bullet(warning ? `Warning: ${text}` : text).map(warning ? style.warning : (line) => line);
}

function machineLines({ machines: all, settling }: Result, style: Style): string[] {
  const few = all.length <= MOST_MACHINES;
  const shown = few ? all : [...all.slice(0, FIRST_SHOWN), ...all.slice(-LAST_SHOWN)];
  const { heading, rows } = table(machineColumns(shown, rateWord(settling)), COLUMNS);
  if (few) return [...heading.map(style.heading), ...rows];
  const left = `… ${all.length - shown.length} more, in machines.csv`;
  return [...heading.map(style.heading), ...rows.slice(0, FIRST_SHOWN), left, ...rows.slice(FIRST_SHOWN)];
}

/** Of a plant without machines: what leaves is what it makes. */
function outletLines({ outlets, settling }: Result, style: Style): string[] {
  const leaving = outlets.flatMap(({ id, items }) => items.map((one) => ({ id, ...one })));
  const shown = leaving.slice(0, MOST_MACHINES);
  const columns: Column[] = [
    { heading: ["outlet"], importance: 9, cells: shown.map(({ id }) => oneLine(id)), align: "left" },
    { heading: ["item"], importance: 8, cells: shown.map(({ item }) => oneLine(item)), align: "left" },
    {
      heading: [rateWord(settling), "/min"],
      importance: 9,
      cells: shown.map((one) => rateOrDash(longRun(one))),
      align: "right",
    },
  ];
  const { heading, rows } = table(columns, COLUMNS);
  const more = leaving.length - shown.length;
  return [...heading.map(style.heading), ...rows, ...(more > 0 ? [`… ${more} more, in report.md`] : [])];
}

/** @param rateWord what the long-run rates are called */
function machineColumns(machines: readonly MachineResult[], rateWord: SettledWord): Column[] {
  const column = (
    heading: readonly string[],
    importance: number,
    cell: (machine: MachineResult) => string,
    align: "left" | "right" = "right",
  ): Column => ({ heading, importance, cells: machines.map(cell), align });
  const minutes = (value: number | null): string => (value === null ? "–" : minutesCell(value));
  const share = (value: number | null): string => (value === null ? "–" : percentCell(value));
  const rateCell = (value: number | null): string => (value === null ? "–" : significant(value));
  const columns = [
    column(["machine"], 99, ({ id }) => oneLine(id), "left"),
    column(["full", "/min"], 8, (machine) => rateCell(fullProducts(machine))),
    column([rateWord, "/min"], 9, (machine) => settledText(machine, rateWord)),
    column(["first", "item", "min"], 3, (machine) => minutes(machine.first_item_min)),
    column(["buffer", "full at", "min"], 6, (machine) => minutes(fullAt(machine))),
    column(["settled", "from", "min"], 10, (machine) => minutes(machine.full_rate_from_min)),
    column(["uptime", "ramp-up", "%"], 4, ({ uptime }) => share(uptime.ramp_up)),
    column(["uptime", "settled", "%"], 7, ({ uptime }) => share(uptime.settled)),
  ];
  if (machines.some(({ uptime }) => uptime.settled === null)) {
    columns.push(column(["uptime", "overall", "%"], 7.5, ({ uptime }) => share(uptime.horizon)));
  }
  if (!machines.every(takesAsItMakes)) columns.splice(3, 0, column(["takes", "/min"], 8.5, takenText));
  for (const state of ["starved", "blocked", "down", "held"] as const) {
    if (state !== "starved" && machines.every((machine) => machine.minutes[state] === 0)) continue;
    columns.push(column([state, "min"], state === "starved" ? 5 : 5.5, (machine) => minutes(machine.minutes[state])));
  }
  return columns;
}

/** When the last of its infeed buffers is full for the first time; `null` if one never is. */
function fullAt({ infeed }: MachineResult): number | null {
  let last: number | null = null;
  for (const { full_at_min: at } of infeed) {
    if (at === null) return null;
    last = Math.max(last ?? 0, at);
  }
  return last;
}
