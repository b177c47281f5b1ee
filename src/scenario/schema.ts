import * as z from "zod/mini";
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

/**
 * A JSON Schema as editors tell it best. They show what the first fitting branch of a union says and nothing of the union, and
 * of a value that fits none they say what one branch would have taken. So what may be one of several texts becomes one
 * pattern, each branch says what its union says, and a line's keys follow from its layout.
 */
const IF = "if";
const THEN = "then";

type Json = { readonly [key: string]: unknown };

/** @param schema with its shared parts in `$defs` */
function toldToEditors(schema: Json): Json {
  const parts = isJson(schema.$defs) ? schema.$defs : {};
  return told(schema, new Map(Object.entries(parts)));
}

function told(schema: unknown, parts: ReadonlyMap<string, unknown>): Json {
  return isJson(schema)
    ? toldHere(
        withEach(schema, (value) => toldWithin(value, parts)),
        parts,
      )
    : {};
}

function toldWithin(value: unknown, parts: ReadonlyMap<string, unknown>): unknown {
  if (Array.isArray(value)) return value.map((one: unknown) => toldWithin(one, parts));
  return isJson(value) ? told(value, parts) : value;
}

function toldHere(schema: Json, parts: ReadonlyMap<string, unknown>): Json {
  const { oneOf, anyOf, ...rest } = schema;
  if (Array.isArray(oneOf)) return byLayout(rest, oneOf.filter(isJson));
  if (Array.isArray(anyOf)) return union(rest, anyOf.filter(isJson), parts);
  return withUnits(schema, parts);
}

/** A quantity says which units it may have. */
function withUnits(schema: Json, parts: ReadonlyMap<string, unknown>): Json {
  const units = unitsOf(schema, parts);
  const { description } = schema;
  if (units === undefined || typeof description !== "string" || /Units: /.test(description)) return schema;
  return { ...schema, description: `${description} Units: ${units}.` };
}

function unitsOf(schema: Json, parts: ReadonlyMap<string, unknown>): string | undefined {
  const { units } = partOf(schema, parts);
  return typeof units === "string" ? units : undefined;
}

function partOf(schema: Json, parts: ReadonlyMap<string, unknown>): Json {
  const part = typeof schema.$ref === "string" ? parts.get(schema.$ref.replace("#/$defs/", "")) : schema;
  return isJson(part) ? part : {};
}

function union(rest: Json, branches: readonly Json[], parts: ReadonlyMap<string, unknown>): Json {
  const texts = branches.map((branch) => partOf(branch, parts));
  if (texts.every(({ type, pattern, const: word }) => type === "string" && (pattern ?? word) !== undefined)) {
    return oneText(rest, texts);
  }
  if (typeof rest.description !== "string") return { ...rest, anyOf: branches };
  const says = rest.description;
  const anyOf = branches.map((branch) => {
    const own = branch.description ?? partOf(branch, parts).description;
    const more = typeof own === "string" ? `${says} ${own}` : says;
    return withUnits({ ...branch, description: more }, parts);
  });
  return { ...rest, anyOf };
}

/** Words and quantities as one pattern; words come first among the examples, which editors propose. */
function oneText(rest: Json, texts: readonly Json[]): Json {
  const words = texts.flatMap(({ const: word }) => (typeof word === "string" ? [word] : []));
  const patterns = texts.flatMap(({ pattern }) =>
    typeof pattern === "string" ? [pattern.replace(/^\^|\$$/g, "")] : [],
  );
  const messages = texts.flatMap(({ errorMessage }) => (typeof errorMessage === "string" ? [errorMessage] : []));
  const message = [...words, ...messages].join(", or ");
  const examples = [...words, ...texts.flatMap((text) => (Array.isArray(text.examples) ? text.examples : []))];
  const units = texts.find((text) => typeof text.units === "string")?.units;
  const description = units === undefined ? rest.description : `${rest.description} Units: ${units}.`;
  const pattern = `^(?:${[...words, ...patterns].join("|")})$`;
  return {
    ...rest,
    description,
    type: "string",
    pattern,
    examples,
    errorMessage: message,
    patternErrorMessage: message,
  };
}

/** The layouts as words first, then the keys of the one that is stated. */
function byLayout(rest: Json, branches: readonly Json[]): Json {
  const layouts = branches.flatMap((branch) => {
    const layout = isJson(branch.properties) ? branch.properties.layout : undefined;
    return isJson(layout) && typeof layout.const === "string" ? [{ layout, name: layout.const, branch }] : [];
  });
  const layout = {
    type: "string",
    description: "How the line is laid out.",
    enum: layouts.map(({ name }) => name),
    enumDescriptions: layouts.map((one) => one.layout.description),
  };
  const allOf = layouts.map(({ branch, ...one }) =>
    Object.fromEntries([
      [IF, { type: "object", properties: { layout: one.layout }, required: ["layout"] }],
      [THEN, branch],
    ]),
  );
  return { ...rest, type: "object", properties: { layout }, required: ["layout"], allOf };
}

function withEach(schema: Json, change: (value: unknown) => unknown): Json {
  // Not what is data.
  const kept = new Set(["enum", "examples", "default", "const", "required"]);
  return Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, kept.has(key) ? value : change(value)]));
}

function isJson(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
