/**
 * Shapes of what `--json` prints: each is a JSON Schema (2020-12), and describes a type that the compiler holds it against. A
 * figure that a type has and its shape has not, or the other way round, does not compile.
 */
export type Schema = Readonly<Record<string, unknown>>;

export interface Shape<Value> {
  readonly schema: Schema;
  /** Schemas by the names that it and its parts go by. */
  readonly named: Schema;
  /** Never there: ties the shape to its type, no wider and no narrower. */
  readonly of?: (value: Value) => Value;
}

type AnyShape = Pick<Shape<unknown>, "schema" | "named">;

/** A figure that may be left out. */
interface Maybe<Value> {
  readonly optional: Shape<Value>;
}

/** One for each figure. */
export type Fields<Value> = {
  readonly [Key in keyof Value]-?: Record<never, never> extends Pick<Value, Key>
    ? Maybe<Exclude<Value[Key], undefined>>
    : Shape<Value[Key]>;
};

function shape<Value>(schema: Schema, parts: readonly AnyShape[] = []): Shape<Value> {
  return { schema, named: Object.assign({}, ...parts.map(({ named }) => named)) };
}

export function maybe<Value>(optional: Shape<Value>): Maybe<Value> {
  return { optional };
}

/** @param rules further keywords */
export function object<Value extends object>(fields: NoInfer<Fields<Value>>, rules: Schema = {}): Shape<Value> {
  const all = Object.entries<AnyShape | { readonly optional: AnyShape }>(fields).map(([key, field]) =>
    "optional" in field ? { key, of: field.optional, must: false } : { key, of: field, must: true },
  );
  return shape(
    {
      type: "object",
      additionalProperties: false,
      required: all.filter(({ must }) => must).map(({ key }) => key),
      properties: Object.fromEntries(all.map(({ key, of }) => [key, of.schema])),
      ...rules,
    },
    all.map(({ of }) => of),
  );
}

/** What figures say of one another. Put together key by key, since an object with a `then` might be taken for a promise. */
export function when(holds: Schema, follows: Schema, otherwise: Schema): Schema {
  const parts = [holds, follows, otherwise];
  return Object.fromEntries(["if", "then", "else"].map((key, i) => [key, parts[i]]));
}

/** Of these figures at least. */
export function having(properties: Schema): Schema {
  return { properties };
}

/** What a command prints, headed by its format's name and version. */
export function documentOf<Value extends object>(
  format: string,
  title: string,
  fields: NoInfer<Fields<Value>>,
  rules: Schema = {},
): Schema {
  const { schema, named: $defs } = object<object>({
    format: only(`fillfront-${format}`),
    format_version: only(1),
    ...fields,
  });
  const $id = `urn:fillfront:${format}:1`;
  return { $schema: "https://json-schema.org/draft/2020-12/schema", $id, title, ...schema, ...rules, $defs };
}

/** Told once, under a name. */
export function named<Value>(name: string, { schema, named: parts }: Shape<Value>): Shape<Value> {
  return { schema: { $ref: `#/$defs/${name}` }, named: { ...parts, [name]: schema } };
}

export function described<Value>(description: string, { schema, named: parts }: Shape<Value>): Shape<Value> {
  return { schema: { ...schema, description }, named: parts };
}

export function orNull<Value>(one: Shape<Value>): Shape<Value | null> {
  const { type, enum: words } = one.schema;
  if (typeof type === "string") return shape({ ...one.schema, type: [type, "null"] }, [one]);
  if (Array.isArray(words)) return shape({ enum: [...words, null] });
  return shape({ anyOf: [one.schema, { type: "null" }] }, [one]);
}

export function either<One, Other>(one: Shape<One>, other: Shape<Other>): Shape<One | Other> {
  return shape({ anyOf: [one.schema, other.schema] }, [one, other]);
}

/** @param limits further keywords */
export function list<Value>(one: Shape<Value>, limits: Schema = {}): Shape<readonly Value[]> {
  return shape({ type: "array", items: one.schema, ...limits }, [one]);
}

/** Figures by kind of item. */
export function byItem<Value>(one: Shape<Value>): Shape<Readonly<Record<string, Value>>> {
  const propertyNames = { pattern: "^[^\\s/\\\\]+$" };
  return shape({ type: "object", propertyNames, additionalProperties: one.schema }, [one]);
}

/** All the words of a type. */
export function words<Word extends string>(...all: readonly Word[]): Shape<Word> {
  return shape({ enum: all });
}

function only(value: string | number): AnyShape {
  return shape({ const: value });
}

/** Told elsewhere. */
export function anything<Value extends object>(): Shape<Value> {
  return shape({ type: "object" });
}

/** @param limits further keywords */
export function number(limits: Schema): Shape<number> {
  return shape({ type: "number", ...limits });
}

export function count(minimum: number, maximum?: number): Shape<number> {
  return shape({ type: "integer", minimum, ...(maximum === undefined ? {} : { maximum }) });
}

export function like(pattern: string): Shape<string> {
  return shape({ type: "string", pattern });
}

export const NUMBER = number({});
/** Not negative. */
export const AMOUNT = number({ minimum: 0 });
export const POSITIVE = number({ exclusiveMinimum: 0 });
export const SHARE = number({ minimum: 0, maximum: 1 });
export const COUNT = count(0);
export const FLAG: Shape<boolean> = shape({ type: "boolean" });
export const ANY_TEXT: Shape<string> = shape({ type: "string" });
export const TEXT: Shape<string> = shape({ type: "string", minLength: 1 });
export const NAME: Shape<string> = named(
  "name",
  shape({ type: "string", minLength: 1, pattern: "^[^\\s/\\\\\\u0000-\\u001f]+$" }),
);
export const EXACT = named(
  "exact",
  described(
    "A fraction in lowest terms, not negative, as fraction.js reads it back.",
    like("^(0|[1-9][0-9]*(/[1-9][0-9]*)?)$"),
  ),
);
export const SIGNED = named("signed", like("^-?(0|[1-9][0-9]*(/[1-9][0-9]*)?)$"));
export const INTERVAL: Shape<readonly [number, number]> = named(
  "interval",
  shape({ type: "array", prefixItems: [{ type: "number" }, { type: "number" }], minItems: 2, maxItems: 2 }),
);
