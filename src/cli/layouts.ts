/** fillfront layouts: one line drawn up in several layouts, each simulated, and which of them to build. */
import { join } from "node:path";
import {
  formatFinding,
  type LayoutStudy,
  type LayoutsRefusal,
  layoutStudy,
  layoutsFiles,
  layoutsText,
  PRIORITIES,
  type Priority,
  writeScenario,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { chanceNotes, readInput } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { playable } from "./playable.ts";
import { putReport, reportFolders } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface LayoutsOptions extends Overrides {
  readonly line?: string;
  readonly ways?: string;
  readonly priority?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function layouts(file: string, options: LayoutsOptions, terminal: Terminal): Promise<void> {
  const ways = waysFrom(options.ways);
  const priority = priorityFrom(options.priority);
  const overrides = overridesOf(options);
  const [folder = ""] = await reportFolders([file], options.out, "-layouts");
  const input = await readInput(file, overrides);
  const { file: shown, scenario, warnings } = input;
  for (const warning of warnings) terminal.tell(formatFinding(warning, shown));
  for (const note of chanceNotes(input)) terminal.tell(note);
  const studied = playable(shown, () =>
    layoutStudy(scenario, {
      line: options.line,
      ways,
      priority,
      onProgress: (done, of) => terminal.progress(`${shown}: run ${done + 1} of ${of}`),
    }),
  );
  if (!studied.ok) throw new RefusedError(`${shown}: ${refusal(studied)}`);

  terminal.progress(`${shown}: writing the report`);
  const { study, drawings, curves } = studied;
  const scenarios = new Map([...studied.scenarios].map(([id, custom]) => [id, writeScenario(custom)]));
  await putReport(folder, await layoutsFiles({ study, scenarios, drawings, curves }, { charts: options.charts }));
  if (options.json) await terminal.printJson(fromWorkingFolder(study, folder));
  else await terminal.print(layoutsText(study, terminal.style));
  terminal.tell(`Report in ${folder}`);
}

/** With the files where `fillfront run` finds them. */
function fromWorkingFolder(study: LayoutStudy, folder: string): LayoutStudy {
  return {
    ...study,
    layouts: study.layouts.map((layout) => ({
      ...layout,
      file: layout.file === null ? null : join(folder, layout.file),
    })),
  };
}

function waysFrom(text: string | undefined): 2 | 3 | undefined {
  if (text === undefined) return undefined;
  if (text === "2") return 2;
  if (text === "3") return 3;
  throw new RefusedError(`--ways ${JSON.stringify(text)}: expected 2 or 3, the most outlets that a divider may have`);
}

function priorityFrom(text: string | undefined): Priority {
  if (text === undefined) return "fast";
  const known = PRIORITIES.find((priority) => priority === text);
  if (known !== undefined) return known;
  throw new RefusedError(`--priority ${JSON.stringify(text)}: expected one of ${PRIORITIES.join(", ")}`);
}

function refusal(refused: LayoutsRefusal): string {
  switch (refused.why) {
    case "no-line":
      return "there is no chain, tree or loop to lay out; write a line as one, such as layout: chain";
    case "several-lines":
      return `there are several lines, ${refused.lines.join(", ")}; say which with --line ${refused.lines[0] ?? ""}`;
    case "unknown-line":
      return `no line is called ${JSON.stringify(refused.line)}; there are ${refused.lines.join(", ")}`;
    case "custom":
      return `the line ${refused.line} is stated belt by belt; write it as a chain, a tree or a loop to have others drawn up`;
    case "lanes":
      return `the line ${refused.line} evens out lanes, which no chain, tree or loop stands in for; write it as one of those to have others drawn up`;
    case "several-kinds":
      return `the line ${refused.line} carries several kinds, ${refused.kinds.join(", ")}, which dividers do not tell apart; lay out a line of one kind`;
    case "outlets":
      return `the line ${refused.line} leads to outlets too, ${refused.outlets.join(", ")}; only a line to machines can be laid out, so leave them out of its "to"`;
    case "far-end":
      return `what passes the last machine of the line ${refused.line} goes on; only a chain with end: stop can be laid out`;
    case "one-machine":
      return `the line ${refused.line} feeds a single machine, for which there is nothing to lay out; name two or more in its "to"`;
  }
}
