import type { Result } from "../../analysis/result.ts";

/** What a document holds: told in it, with the version of its form. */
export type Format =
  | "run"
  | "check"
  | "estimate"
  | "compare"
  | "best"
  | "prime"
  | "grow"
  | "shortage"
  | "dip"
  | "layouts"
  | "sweep"
  | "fit"
  | "draw"
  | "floors"
  | "size"
  | "refusal";

/** Counted up where keys change their meaning or go; that keys are added leaves it. */
const VERSION = 1;

/** Headed by its format's name and version. */
export function formatted(format: Format, value: object): object {
  return { format: `fillfront-${format}`, format_version: VERSION, ...value };
}

/** The same as text, in the order of its type, indented by two spaces, with a line break at the end. */
export function json(format: Format, value: object): string {
  return `${JSON.stringify(formatted(format, value), null, 2)}\n`;
}

export function resultJson(result: Result): string {
  return json("run", result);
}
