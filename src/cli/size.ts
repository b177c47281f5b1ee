/** fillfront size: how many machines a wanted output takes, and the scenario that has them. */
import { formatFinding, formatted, readDraft, sizePlant, sizeText } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { shownName, sourceOf, tellWarnings } from "./input.ts";
import { putText } from "./put-text.ts";
import { refusalOf, wantedFrom } from "./size-request.ts";
import type { Terminal } from "./terminal.ts";

export interface SizeOptions {
  readonly output?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly replications?: string;
}

export async function size(file: string, options: SizeOptions, terminal: Terminal): Promise<void> {
  const shown = shownName(file);
  const wanted = options.output === undefined ? {} : { wanted: wantedFrom(options.output) };
  const replications =
    options.replications === undefined ? {} : { replications: replicationsFrom(options.replications) };
  const { text, name, tables } = await sourceOf(file);
  const draft = readDraft(text, { name, tables, ...wanted });
  if (!draft.ok)
    throw new RefusedError(draft.findings.map((finding) => formatFinding(finding, shown)).join("\n"), {
      file: shown,
      findings: draft.findings,
    });
  tellWarnings(draft.warnings, shown, terminal);
  const outcome = sizePlant(draft, { ...replications, onProgress: (what) => terminal.progress(`${shown}: ${what}`) });
  if (!outcome.ok) throw new RefusedError(`${shown}: ${refusalOf(outcome)}`);
  const { size: found } = outcome;
  const target = options.out ?? (options.json ? null : `${name}-sized.yaml`);
  if (target !== null) await putText(target, `${HEAD}${found.scenario}`);
  if (options.json) await terminal.printJson(formatted("size", found));
  else await terminal.print(sizeText(found, terminal.style, terminal));
  if (target !== null) terminal.tell(`The scenario is in ${target}; run it with: fillfront run ${target}`);
}

const HEAD =
  "# Written by fillfront size. Lengths, speeds and rooms that were left open are common sense, not measured.\n";

function replicationsFrom(text: string): number {
  const count = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (count >= 2) return count;
  throw new RefusedError(`--replications ${JSON.stringify(text)}: expected a whole number from 2 to 9999, such as 20`);
}
