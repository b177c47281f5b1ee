/** Commands that answer for one file, told of several. */
import { join } from "node:path";
import { RefusedError } from "./exit.ts";
import { plainName, readInput, shownName } from "./input.ts";
import type { ReportAsked } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

/**
 * Their answers follow one another, as JSON in one list; their reports have folders of their own. All are read before the
 * first is worked on.
 */
export async function eachFile<O extends ReportAsked>(
  files: readonly string[],
  options: O,
  terminal: Terminal,
  answer: (file: string, options: O, terminal: Terminal) => Promise<void>,
): Promise<void> {
  const [only = ""] = files;
  if (files.length === 1) return answer(only, options, terminal);
  refuseSameNames(files);
  for (const file of files) if (file !== "-") await readInput(file, (same) => same, { runs: false });
  const answers: unknown[] = [];
  let printed = 0;
  const shared: Terminal = {
    ...terminal,
    printJson: async (value) => {
      answers.push(value);
    },
    print: (text) => {
      printed += 1;
      return terminal.print(printed > 1 ? `\n${text}` : text);
    },
  };
  for (const file of files) {
    const own = options.out === undefined ? {} : { out: join(options.out, plainName(file)) };
    await answer(file, { ...options, ...own }, shared);
  }
  if (options.json) await terminal.printJson(answers);
}

function refuseSameNames(files: readonly string[]): void {
  const names = files.map(plainName);
  const again = names.findIndex((name, i) => names.indexOf(name) < i);
  if (again < 0) return;
  const first = files[names.indexOf(names[again] ?? "")] ?? "";
  throw new RefusedError(
    `${shownName(first)} and ${shownName(files[again] ?? "")} would both be reported as ${names[again]}; name them one by one, each with its own --out`,
  );
}
