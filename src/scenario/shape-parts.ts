/**
 * What the shapes of the scenario file are made of. An error's text here is only the kind of thing expected; findings
 * and their prose are made elsewhere.
 */
import { z } from "zod";
import type { Rational } from "../quantity/rational.ts";
import {
  formatDuration,
  formatLength,
  formatPercentage,
  formatRate,
  formatSpeed,
  parseQuantity,
  type QuantityKind,
  quantityPattern,
} from "../quantity/units.ts";
import {
  MAX_BUFFER_ITEMS,
  MAX_HORIZON_MIN,
  MAX_LENGTH_M,
  MAX_RATE_PER_MIN,
  MAX_SPEED_M_PER_MIN,
  MAX_SPEED_SHARE,
  NAME_PATTERN,
} from "./limits.ts";

const LARGEST: Readonly<Record<QuantityKind, Rational>> = {
  rate: MAX_RATE_PER_MIN,
  duration: MAX_HORIZON_MIN,
  length: MAX_LENGTH_M,
  speed: MAX_SPEED_M_PER_MIN,
  percentage: MAX_SPEED_SHARE,
};

const FORMATS: Readonly<Record<QuantityKind, (value: Rational) => string>> = {
  rate: formatRate,
  duration: formatDuration,
  length: formatLength,
  speed: formatSpeed,
  percentage: formatPercentage,
};

const EXAMPLES: Readonly<Record<QuantityKind, string[]>> = {
  rate: ["30/min", "0.5/s", "1800/h", "45/4 /min"],
  duration: ["90 s", "100 ms", "15 min", "2 h"],
  length: ["6 m", "80 mm", "20 ft", "4 in"],
  speed: ["20 m/min", "0.4 m/s", "65 ft/min"],
  percentage: ["100 %", "75 %"],
};

/** What the reader needs to know of a quantity that reads well and is impossible all the same. */
export type QuantityIssue = "zero" | "too-large" | "too-many-digits" | "out-of-range";

interface QuantityOptions {
  readonly zero?: boolean;
  readonly largest?: Rational;
  /** Of what is allowed within that; `says` ends "must be …". */
  readonly range?: { readonly holds: (value: Rational) => boolean; readonly says: string };
  /** In place of the kind's own. */
  readonly examples?: string[];
  /** Of feeds, whose rates may be sums of many needs: the engine counts by the nearest that it can. */
  readonly anyDigits?: boolean;
  /** Words after the unit. */
  readonly followedBy?: string;
}

export function quantity(kind: QuantityKind, about: string, options: QuantityOptions = {}) {
  const {
    zero = false,
    largest = LARGEST[kind],
    range,
    examples = EXAMPLES[kind],
    anyDigits = false,
    followedBy = "",
  } = options;
  const end = followedBy === "" ? "$" : `\\s+${followedBy}$`;
  const format = FORMATS[kind];
  return z
    .string({ error: kind })
    .regex(new RegExp(quantityPattern(kind).source.replace(/\$$/, end)), { error: kind })
    .transform((text, context): Rational => {
      const parsed = parseQuantity(kind, text.replace(new RegExp(end), ""), anyDigits);
      const refuse = (issue: QuantityIssue): Rational => {
        const params = { limit: format(largest), range: range?.says };
        context.issues.push({ code: "custom", message: issue, input: text, params });
        return z.NEVER;
      };
      if (!parsed.ok) return refuse("too-many-digits");
      if (range !== undefined && !range.holds(parsed.value)) return refuse("out-of-range");
      if (!zero && parsed.value.n === 0n) return refuse("zero");
      return parsed.value.compare(largest) > 0 ? refuse("too-large") : parsed.value;
    })
    .meta({ description: about, examples });
}

/**
 * A map of these keys and no others; for an unknown key the error's text is the list of the known ones.
 * @param kind what is expected, for findings
 */
export function keys<S extends z.core.$ZodLooseShape>(shape: S, kind = "map") {
  const known = Object.keys(shape).filter((key) => key !== "$schema");
  return z.strictObject(shape, { error: (issue) => (issue.code === "unrecognized_keys" ? known.join(", ") : kind) });
}

/** YAML reads a name of digits as a number. */
export function name(about: string) {
  return z
    .union(
      [
        z.string().regex(NAME_PATTERN, { error: "name" }),
        z.int({ error: "name" }).nonnegative({ error: "name" }).transform(String),
      ],
      { error: "name" },
    )
    .meta({ description: about });
}

export function names(about: string) {
  const one = name("A name.");
  return z
    .union([one.transform((single) => [single]), z.array(one, { error: "list" }).min(1, { error: "names" })], {
      error: "names",
    })
    .meta({ description: about });
}

/** A map whose keys the file chooses. */
export function named<V extends z.ZodType>(values: V, about: string, least: 0 | 1 = 0) {
  const map = z.record(z.string().regex(NAME_PATTERN, { error: "name" }), values, { error: "map" });
  return map.meta({ description: about, ...(least > 0 && { minProperties: least }) });
}

export function count(most: number, about: string) {
  return z
    .int({ error: "count" })
    .min(1, { error: "count" })
    .max(most, { error: "count" })
    .meta({ description: about });
}

export function counts(about: string, least: 0 | 1 = 0, most = MAX_BUFFER_ITEMS) {
  return named(count(most, "Items."), about, least);
}

export function words<const W extends readonly [string, ...string[]]>(known: W, about: string) {
  return z.enum(known, { error: "word" }).meta({ description: about });
}

/** YAML reads a title or seed of digits as a number; the reader takes what is written. */
export function text(about: string) {
  return z.union([z.string(), z.number(), z.boolean()], { error: "text" }).meta({ description: about });
}
