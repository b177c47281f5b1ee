/** fillfront schema: the JSON Schema of the scenario file. */
import { scenarioSchema } from "../index.ts";
import type { Terminal } from "./terminal.ts";

export function schema(terminal: Terminal): void {
  terminal.print(`${JSON.stringify(scenarioSchema(), null, 2)}\n`);
}
