/**
 * A small reader of findings: from a sentence to the rows it names and the figures it tells, so that what is said to be most,
 * least, first, none or better can be held to the table. It knows no finding's making, only its text.
 */
import { expect } from "vitest";
import { plain } from "../../src/report/text/figures.ts";

export interface Finding {
  readonly code: string;
  readonly text: string;
}

/** By code: what the sentence claims, held to the study. Its own code in the table means that it is read. */
export type Readers<Study> = Readonly<Record<string, (text: string, study: Study) => void>>;

/** What is said of nothing in particular. */
export const PLAIN = (): void => {};

export function read<Study>(findings: readonly Finding[], study: Study, readers: Readers<Study>): void {
  for (const { code, text } of findings) {
    const said = plain(text);
    const reader = readers[code];
    if (reader === undefined) throw new Error(`nobody reads ${code}: ${said}`);
    readsWell(said);
    reader(said, study);
  }
}

/** Two figures that are set against one another differ; nothing is lost by being gained. */
function readsWell(text: string): void {
  for (const [, own, unit, other, its] of text.matchAll(
    /([\d.]+)(?: (min|s|h|items?|m²|m))? instead of ([\d.]+)(?: (min|s|h|items?|m²|m))?/g,
  )) {
    expect(own === other && (unit ?? its) === (its ?? unit), text).toBe(false);
  }
  expect(text).not.toMatch(/(?:loses|gains|losing|gaining) −|undefined|NaN|null|Infinity/);
  expect(text).toMatch(/^Note|[.:]$/);
}

/** Names in the order of the text; one within another's is not taken for it. */
export function named(text: string, names: readonly string[]): string[] {
  const words = new Set(names);
  return [...text.matchAll(/(?<![\w-])[A-Za-z0-9][\w-]*/g)].flatMap(([word]) => (words.has(word) ? [word] : []));
}

/** The part of a text after one phrase and up to another. */
export function between(text: string, after: string, upTo = ""): string {
  const from = text.indexOf(after);
  if (from < 0) return "";
  const rest = text.slice(from + after.length);
  const end = upTo === "" ? -1 : rest.indexOf(upTo);
  return end < 0 ? rest : rest.slice(0, end);
}

/** A list as told, the rest of it counted: "a, b and 3 more". */
export function expectList(text: string, names: readonly string[], expected: readonly string[]): void {
  const told = [...new Set(named(text, names))];
  const more = Number(/(?:and|,) (\d+) (?:more|others?)/.exec(text)?.[1] ?? 0);
  expect(told.length + more, text).toBe(expected.length);
  for (const name of told) expect(expected, text).toContain(name);
}

/** "loses 12 items", "gains 3 items", "loses nothing": what a start is said to lose; `null` where nothing is said. */
export function lossIn(text: string): number | null {
  const [, verb, figure] = /(loses|gains) (nothing|\d[\d ]*)/.exec(text) ?? [];
  if (verb === undefined || figure === undefined) return null;
  const size = figure === "nothing" ? 0 : Number(figure.replaceAll(" ", ""));
  return verb === "gains" ? -size : size;
}

export function expectLoss(text: string, loss: number | null): void {
  const told = lossIn(text);
  if (told !== null) expect(Math.abs(told - (loss ?? Infinity)), text).toBeLessThanOrEqual(0.5 + 1e-9);
}
