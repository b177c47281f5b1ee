import type { Result } from "../analysis/result.ts";

/** The result as JSON, in the order of its type, indented by two spaces, with a line break at the end. */
export function resultJson(result: Result): string {
  return `${JSON.stringify(result, null, 2)}\n`;
}
