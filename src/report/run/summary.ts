/** The terminal summary: title, answer, and a table of machines, for 80 columns. */
import type { Result } from "../../analysis/result.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { longRun, rateWord } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { rate, type StudyColumn, terminalTable, text } from "../text/study-table.ts";
import { bullet, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { findings } from "./findings.ts";
import { machineColumns } from "./machines-table.ts";
import { runAnswer } from "./run-answer.ts";

const MOST_ROWS = 60;

/** @returns lines with a line break at the end of each */
export function summary(result: Result, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  return pageText(
    {
      title: result.title,
      answer: runAnswer(result),
      table:
        result.machines.length > 0
          ? terminalTable(machineColumns(result), result.machines, style, { most: MOST_ROWS, file: "machines.csv" })
          : outletLines(result, style),
      details: [findings(result).flatMap((finding) => paragraph(finding, style))],
    },
    style,
    shown,
  );
}

function paragraph({ code, text: said }: Finding, style: Style): string[] {
  const warning = code === "warning";
  return bullet(warning ? `Warning: ${said}` : said).map(warning ? style.warning : (line) => line);
}

/** Of a plant without machines: what leaves is what it makes. */
function outletLines({ outlets, settling }: Result, style: Style): string[] {
  const leaving = outlets.flatMap(({ id, items }) => items.map((one) => ({ id, ...one })));
  const more = leaving.length - MOST_ROWS;
  const columns: StudyColumn<(typeof leaving)[number]>[] = [
    text(({ id }) => id, { terminal: ["outlet", 9] }),
    text(({ item }) => item, { terminal: ["item", 8] }),
    rate(longRun, { terminal: [`${rateWord(settling)}|/min`, 9] }),
  ];
  return [
    ...terminalTable(columns, leaving.slice(0, MOST_ROWS), style),
    ...(more > 0 ? [`… ${more} more, in report.md`] : []),
  ];
}
