/** fillfront size: how many machines a wanted output takes, and the scenario that has them. */
import {
  exact,
  formatFinding,
  formatted,
  parseQuantity,
  readDraft,
  type SizeOutcome,
  sizePlant,
  sizeText,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { plainName, shownName, textOf } from "./input.ts";
import { putText } from "./put-text.ts";
import type { Terminal } from "./terminal.ts";

export interface SizeOptions {
  readonly output?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly replications?: string;
}

const EXAMPLE = 'such as --output "tin: 120/min"';

export async function size(file: string, options: SizeOptions, terminal: Terminal): Promise<void> {
  const shown = shownName(file);
  const name = plainName(file);
  const wanted = options.output === undefined ? {} : { wanted: wantedFrom(options.output) };
  const replications =
    options.replications === undefined ? {} : { replications: replicationsFrom(options.replications) };
  const draft = readDraft(await textOf(file), { name, ...wanted });
  if (!draft.ok)
    throw new RefusedError(draft.findings.map((finding) => formatFinding(finding, shown)).join("\n"), {
      file: shown,
      findings: draft.findings,
    });
  for (const warning of draft.warnings) terminal.tell(formatFinding(warning, shown));
  const outcome = sizePlant(draft, { ...replications, onProgress: (what) => terminal.progress(`${shown}: ${what}`) });
  if (!outcome.ok) throw new RefusedError(`${shown}: ${refusalOf(outcome)}`);
  const { size: found } = outcome;
  const target = options.out ?? (options.json ? null : `${name}-sized.yaml`);
  if (target !== null) await putText(target, `${HEAD}${found.scenario}`);
  if (options.json) await terminal.printJson(formatted("size", found));
  else await terminal.print(sizeText(found, terminal.style));
  if (target !== null) terminal.tell(`The scenario is in ${target}; run it with: fillfront run ${target}`);
}

const HEAD =
  "# Written by fillfront size. Lengths, speeds and rooms that were left open are common sense, not measured.\n";

function wantedFrom(texts: readonly string[]): ReadonlyMap<string, string> {
  const wanted = new Map<string, string>();
  for (const text of texts.flatMap((one) => one.split(","))) {
    const [, item = "", rate = ""] = /^\s*([^:=\s]+)\s*[:=]\s*(.*?)\s*$/.exec(text) ?? [];
    const parsed = parseQuantity("rate", rate);
    if (item === "" || !parsed.ok || parsed.value.n === 0n) {
      throw new RefusedError(`--output ${JSON.stringify(text)}: expected a kind and a rate above zero, ${EXAMPLE}`);
    }
    if (wanted.has(item)) throw new RefusedError(`--output ${JSON.stringify(text)}: ${item} is stated already`);
    wanted.set(item, rate);
  }
  return wanted;
}

function replicationsFrom(text: string): number {
  const count = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (count >= 2) return count;
  throw new RefusedError(`--replications ${JSON.stringify(text)}: expected a whole number from 2 to 9999, such as 20`);
}

function refusalOf({ why, items }: Extract<SizeOutcome, { ok: false }>): string {
  const rates = items.map(({ item, perMin }) => `${exact(perMin.abs())}/min of ${item}`).join(" and ");
  const [first] = items;
  switch (why) {
    case "nothing-wanted":
      return `it is not said what the plant is to make; state it, ${EXAMPLE}, or in the file: wanted: { tin: 120/min }`;
    case "left-over":
      return `${rates} would be left over whatever the counts, and have nowhere to go; give what is left an outlet, outlets: { spare: { item: ${first?.item ?? ""} } }, or a machine that takes it`;
    case "short":
      return `${rates} would be missing whatever the counts: the machines that lead to it use up more than they make; state a feed of it, or look at takes and makes`;
  }
}
