/** Lines for a terminal of 80 columns. */
import { HAND_CAUTIONS, TACTIC_CAUTIONS } from "./notes.ts";
import { wrap } from "./text-width.ts";

export const COLUMNS = 80;

export function bullet(text: string): string[] {
  const [first = "", ...rest] = wrap(text, COLUMNS - 2);
  return [`- ${first}`, ...rest.map((line) => `  ${line}`)];
}

/** The same in a few words. */
export const HANDS = "Hands: stop, isolate, lock out first.";

/**
 * What must be heeded before hands go in.
 * @param names of the tactics that need them; none, no lines
 */
export function handCautions(names: readonly string[], style: Style): string[] {
  if (names.length === 0) return [];
  const who = wrap(`Cautions, for hands go into the line with ${names.join(", ")}:`, COLUMNS);
  return [...who, ...[...HAND_CAUTIONS, ...TACTIC_CAUTIONS].flatMap(bullet)].map(style.warning);
}

/** How parts are set off, settled once by the caller from terminal and environment. */
export interface Style {
  readonly title: (text: string) => string;
  readonly heading: (text: string) => string;
  readonly warning: (text: string) => string;
}

export const PLAIN_STYLE: Style = { title: (text) => text, heading: (text) => text, warning: (text) => text };
