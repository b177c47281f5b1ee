import { z } from "zod";
import { scenarioShape } from "./shapes.ts";

/**
 * JSON Schema (draft 2020-12) of the scenario file as YAML's core types give it, for editors to complete and check by.
 * Whatever it refuses the reader refuses; the reader refuses more.
 */
export function scenarioSchema(): object {
  return z.toJSONSchema(scenarioShape, { io: "input", target: "draft-2020-12" });
}
