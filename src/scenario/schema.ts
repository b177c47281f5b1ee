import * as z from "zod/mini";
import { toldToEditors } from "./schema-for-editors.ts";
import { scenarioShape } from "./shapes.ts";

/**
 * JSON Schema (draft 2020-12) of the scenario file as YAML's core types give it, for editors to complete and check by.
 * Whatever it refuses the reader refuses; the reader refuses more.
 */
export function scenarioSchema(): object {
  const schema = z.toJSONSchema(scenarioShape, {
    io: "input",
    target: "draft-2020-12",
    // Left out by zod where a value is read into another one.
    override: ({ zodSchema, jsonSchema }) => {
      const { examples, default: otherwise } = z.globalRegistry.get(zodSchema) ?? {};
      if (Array.isArray(examples)) jsonSchema.examples = examples;
      if (otherwise !== undefined) jsonSchema.default = otherwise;
    },
  });
  return toldToEditors({ $id: "urn:fillfront:scenario:1", ...schema });
}
