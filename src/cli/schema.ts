/** fillfront schema: JSON Schemas of the scenario file and of what --json prints. */
import { scenarioSchema } from "../index.ts";
import bestSchema from "./best.schema.json" with { type: "json" };
import layoutsSchema from "./layouts.schema.json" with { type: "json" };
import runSchema from "./result.schema.json" with { type: "json" };
import sizeSchema from "./size.schema.json" with { type: "json" };
import type { Terminal } from "./terminal.ts";
import { oneOf } from "./unknown-name.ts";

export interface SchemaOptions {
  readonly result?: string | true;
}

const RESULTS = { run: runSchema, best: bestSchema, layouts: layoutsSchema, size: sizeSchema } as const;

export async function schema({ result }: SchemaOptions, terminal: Terminal): Promise<void> {
  if (result === undefined) return terminal.printJson(scenarioSchema());
  return terminal.printJson(
    RESULTS[result === true ? "run" : oneOf("--result", result, ["run", "best", "layouts", "size"])],
  );
}
