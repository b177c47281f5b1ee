/** fillfront schema: the JSON Schema of the scenario file. */
import { scenarioSchema } from "../index.ts";
import type { Terminal } from "./terminal.ts";

export async function schema(terminal: Terminal): Promise<void> {
  await terminal.printJson(scenarioSchema());
}
