/** fillfront schema: JSON Schemas of the scenario file and of what --json prints. */
import { scenarioSchema } from "../index.ts";
import { BEST } from "./schemas/best.ts";
import { LAYOUTS } from "./schemas/layouts.ts";
import { RUN } from "./schemas/run.ts";
import { SIZE } from "./schemas/size.ts";
import type { Terminal } from "./terminal.ts";
import { oneOf } from "./unknown-name.ts";

export interface SchemaOptions {
  readonly result?: string | true;
}

const RESULTS = { run: RUN, best: BEST, layouts: LAYOUTS, size: SIZE } as const;

export async function schema({ result }: SchemaOptions, terminal: Terminal): Promise<void> {
  if (result === undefined) return terminal.printJson(scenarioSchema());
  return terminal.printJson(
    RESULTS[result === true ? "run" : oneOf("--result", result, ["run", "best", "layouts", "size"])],
  );
}
