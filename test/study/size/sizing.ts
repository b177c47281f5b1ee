/** Drafts sized in tests. */
import { readDraft } from "../../../src/scenario/read.ts";
import { type Draft, type SizeOutcome, sizePlant } from "../../../src/study/size/size.ts";
import type { PlantSize } from "../../../src/study/size/size-results.ts";

export function draftOf(text: string, wanted?: Readonly<Record<string, string>>): Draft {
  const draft = readDraft(text, { name: "test", ...(wanted && { wanted: new Map(Object.entries(wanted)) }) });
  if (!draft.ok) throw new Error(`${JSON.stringify(draft.findings)}\n${text}`);
  return draft;
}

export function outcomeOf(text: string, wanted?: Readonly<Record<string, string>>): SizeOutcome {
  return sizePlant(draftOf(text, wanted));
}

export function sizeOf(text: string, wanted?: Readonly<Record<string, string>>): PlantSize {
  const outcome = outcomeOf(text, wanted);
  if (!outcome.ok) throw new Error(`${outcome.why}\n${text}`);
  return outcome.size;
}

/** By group, its count and how busy it is. */
export function countsOf({ machines }: PlantSize): Record<string, string> {
  return Object.fromEntries(machines.map(({ group, count, busy }) => [group, `${count} at ${busy}`]));
}

export function needsOf({ belts }: PlantSize, line: string): string[] {
  return belts.flatMap((belt) => (belt.line === line ? [belt.needs_per_min ?? "?"] : []));
}
