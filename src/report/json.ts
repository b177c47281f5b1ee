import type { Result } from "../analysis/result.ts";

/** A value as JSON, in the order of its type, indented by two spaces, with a line break at the end. */
export function json(value: object): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

export function resultJson(result: Result): string {
  return json(result);
}
