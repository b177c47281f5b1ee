/** What the shapes refuse in plain data, however much that is. */
import type * as z from "zod/mini";
import { MAX_FINDINGS } from "./file-limits.ts";
import { type RawScenario, scenarioShape } from "./shapes.ts";

export type Issue = z.core.$ZodIssue;

export type Shaped =
  | { readonly raw: RawScenario }
  | { readonly raw: null; readonly issues: readonly Issue[]; readonly areAll: boolean };

/** Zod would compile the shapes, which takes 8 ms at the first file and saves 0.3 ms at most of each later one of a sweep. */
const UNCOMPILED = { jitless: true };

/** Zod passes issues on as arguments of a call, of which some tens of thousands are too many: then the first ones are looked for. */
export function shaped(data: Readonly<Record<string, unknown>>): Shaped {
  try {
    const { data: raw, error } = scenarioShape.safeParse(data, UNCOMPILED);
    return error === undefined ? { raw } : { raw: null, issues: error.issues, areAll: true };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  const issues: Issue[] = [];
  for (const piece of pieces(data)) {
    if (issues.length > MAX_FINDINGS) break;
    issues.push(...(scenarioShape.safeParse(piece, UNCOMPILED).error?.issues ?? []));
  }
  return { raw: null, issues, areAll: false };
}

const SECTIONS: ReadonlySet<string> = new Set(["feeds", "machines", "lines", "outlets", "tactics"]);

/** All but the sections, then each of their entries by itself; of what is in those as much as could be told of. */
function* pieces(data: Readonly<Record<string, unknown>>): Generator<Record<string, unknown>> {
  const empty = { feeds: {}, machines: {}, lines: {} };
  const sections = Object.entries(data).filter(([key, section]) => SECTIONS.has(key) && isRecord(section));
  const others = Object.entries(data).filter(([key]) => !sections.some(([section]) => section === key));
  yield { ...empty, ...Object.fromEntries(others.map(([key, value]) => [key, begun(value)])) };
  for (const [key, section] of sections) {
    if (isRecord(section))
      for (const [id, entry] of Object.entries(section)) yield { ...empty, [key]: { [id]: begun(entry) } };
  }
}

const MOST_OF_EACH = 10 * MAX_FINDINGS;

/** Maps and lists cut short. */
function begun(value: unknown): unknown {
  if (Array.isArray(value)) return value.slice(0, MOST_OF_EACH).map(begun);
  if (!isRecord(value)) return value;
  const entries = Object.entries(value).slice(0, MOST_OF_EACH);
  return Object.fromEntries(entries.map(([key, one]) => [key, begun(one)]));
}

export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
