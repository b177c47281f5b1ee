/**
 * What the shapes of the scenario file are made of. An error's text here is only the kind of thing expected; findings
 * and their prose are made elsewhere.
 */
import * as z from "zod/mini";
import { formatMoney, type Money, moneyPattern, moneyUnits, type Per, parseMoney } from "../quantity/money.ts";
import type { Rational } from "../quantity/rational.ts";
import {
  formatDuration,
  formatFrequency,
  formatLength,
  formatPercentage,
  formatRate,
  formatSpeed,
  parseQuantity,
  type QuantityKind,
  quantityPattern,
  unitsOf,
} from "../quantity/units.ts";
import {
  MAX_BUFFER_ITEMS,
  MAX_HORIZON_MIN,
  MAX_LENGTH_M,
  MAX_MONEY,
  MAX_RATE_PER_MIN,
  MAX_SPEED_M_PER_MIN,
  MAX_SPEED_SHARE,
  MAX_STARTS_PER_YEAR,
  NAME_PATTERN,
} from "./file-limits.ts";

const LARGEST: Readonly<Record<QuantityKind, Rational>> = {
  rate: MAX_RATE_PER_MIN,
  duration: MAX_HORIZON_MIN,
  length: MAX_LENGTH_M,
  speed: MAX_SPEED_M_PER_MIN,
  percentage: MAX_SPEED_SHARE,
  frequency: MAX_STARTS_PER_YEAR,
};

const FORMATS: Readonly<Record<QuantityKind, (value: Rational) => string>> = {
  rate: formatRate,
  duration: formatDuration,
  length: formatLength,
  speed: formatSpeed,
  percentage: formatPercentage,
  frequency: formatFrequency,
};

const EXAMPLES: Readonly<Record<QuantityKind, string[]>> = {
  rate: ["30/min", "0.5/s", "1800/h", "45/4 /min"],
  duration: ["90 s", "100 ms", "15 min", "2 h"],
  length: ["6 m", "80 mm", "20 ft", "4 in"],
  speed: ["20 m/min", "0.4 m/s", "65 ft/min"],
  percentage: ["100 %", "75 %"],
  frequency: ["5 per week", "1 per day"],
};

const CALLED: Readonly<Record<QuantityKind, string>> = {
  rate: "a rate",
  duration: "a duration",
  length: "a length",
  speed: "a speed",
  percentage: "a percentage",
  frequency: "how often,",
};

/** What editors say of a value that does not fit, beyond the standard: both keys, since each is heeded by some only. */
export function saysWhenWrong(message: string): {
  readonly errorMessage: string;
  readonly patternErrorMessage: string;
} {
  return { errorMessage: message, patternErrorMessage: message };
}

/** A copy of a shape, and what the JSON Schema says of it. */
export function withMeta<S extends z.ZodMiniType>(shape: S, meta: z.core.GlobalMeta): S {
  const copy = shape.clone();
  z.globalRegistry.add(copy, meta);
  return copy;
}

function quantityText(kind: QuantityKind) {
  const units = unitsOf(kind).join(", ");
  return withMeta(z.string({ error: kind }).check(z.regex(quantityPattern(kind), { error: kind })), {
    id: kind,
    units,
    examples: EXAMPLES[kind],
    ...saysWhenWrong(`${CALLED[kind]} with its unit, such as ${EXAMPLES[kind].slice(0, 2).join(" or ")}`),
  });
}

/** One for each kind, which the schema then states once. */
const TEXTS: Readonly<Record<QuantityKind, ReturnType<typeof quantityText>>> = {
  rate: quantityText("rate"),
  duration: quantityText("duration"),
  length: quantityText("length"),
  speed: quantityText("speed"),
  percentage: quantityText("percentage"),
  frequency: quantityText("frequency"),
};

/** What the reader needs to know of a quantity that reads well and is impossible all the same. */
export type QuantityIssue = "zero" | "too-large" | "too-many-digits" | "out-of-range" | "unknown-currency";

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
  /** What holds if it is not stated. */
  readonly otherwise?: string;
}

export function quantity(kind: QuantityKind, about: string, options: QuantityOptions = {}) {
  const { zero = false, largest = LARGEST[kind], range, anyDigits = false, followedBy = "" } = options;
  const end = `\\s+${followedBy}$`;
  const format = FORMATS[kind];
  const text =
    followedBy === ""
      ? TEXTS[kind]
      : z
          .string({ error: kind })
          .check(z.regex(new RegExp(quantityPattern(kind).source.replace(/\$$/, end)), { error: kind }));
  return withMeta(
    z.pipe(
      text,
      z.transform((text, context): Rational => {
        const parsed = parseQuantity(kind, followedBy === "" ? text : text.replace(new RegExp(end), ""), anyDigits);
        const refuse = (issue: QuantityIssue): Rational => {
          const params = { limit: format(largest), range: range?.says };
          context.issues.push({ code: "custom", message: issue, input: text, params });
          return z.NEVER;
        };
        if (!parsed.ok) return refuse("too-many-digits");
        if (range !== undefined && !range.holds(parsed.value)) return refuse("out-of-range");
        if (!zero && parsed.value.n === 0n) return refuse("zero");
        return parsed.value.compare(largest) > 0 ? refuse("too-large") : parsed.value;
      }),
    ),
    {
      description: about,
      ...(options.examples !== undefined && { examples: options.examples }),
      ...(options.otherwise !== undefined && { default: options.otherwise }),
    },
  );
}

const MONEY_EXAMPLES: Readonly<Record<Per, string[]>> = {
  money: ["0.45 EUR", "900 USD"],
  "money-per-hour": ["32 EUR/h"],
  "money-per-length": ["400 EUR/m", "120 USD/ft"],
  "money-per-area": ["90 EUR/m2", "8 USD/ft2"],
};

/** @param zero whether nothing may be meant */
export function money(per: Per, about: string, zero = true) {
  const examples = MONEY_EXAMPLES[per];
  return withMeta(
    z.pipe(
      z.string({ error: per }).check(z.regex(moneyPattern(per), { error: per })),
      z.transform((text, context): Money => {
        const parsed = parseMoney(per, text);
        const refuse = (issue: QuantityIssue): Money => {
          const currency = !parsed.ok && parsed.problem === "unknown-currency" ? parsed.currency : "EUR";
          const params = { limit: formatMoney(per, { amount: MAX_MONEY, currency }), currency };
          context.issues.push({ code: "custom", message: issue, input: text, params });
          return z.NEVER;
        };
        if (!parsed.ok) return refuse(parsed.problem === "unknown-currency" ? parsed.problem : "too-many-digits");
        if (!zero && parsed.amount.n === 0n) return refuse("zero");
        return parsed.amount.compare(MAX_MONEY) > 0 ? refuse("too-large") : parsed;
      }),
    ),
    {
      description: about,
      units: `${moneyUnits(per).join(", ")}, or another code of ISO 4217`,
      examples,
      ...saysWhenWrong(`an amount with its currency, such as ${examples.join(" or ")}`),
    },
  );
}

/**
 * A map of these keys and no others; for an unknown key the error's text is the list of the known ones.
 * @param kind what is expected, for findings
 */
export function keys<S extends z.core.$ZodLooseShape>(shape: S, kind = "map") {
  const known = Object.keys(shape).filter((key) => key !== "$schema");
  return z.strictObject(shape, { error: (issue) => (issue.code === "unrecognized_keys" ? known.join(", ") : kind) });
}

const NAME_TEXT = "a name of letters, digits, - and _, such as filler or filler-2";

/** YAML reads a name of digits as a number. */
const nameShape = withMeta(
  z.union(
    [
      withMeta(z.string().check(z.regex(NAME_PATTERN, { error: "name" })), saysWhenWrong(NAME_TEXT)),
      z.pipe(z.int({ error: "name" }).check(z.nonnegative({ error: "name" })), z.transform(String)),
    ],
    { error: "name" },
  ),
  { id: "name" },
);

const namesShape = withMeta(
  z.union(
    [
      z.pipe(
        nameShape,
        z.transform((single) => [single]),
      ),
      z.array(nameShape, { error: "list" }).check(z.minLength(1, { error: "names" })),
    ],
    {
      error: "names",
    },
  ),
  { id: "names" },
);

export function name(about: string) {
  return withMeta(nameShape, { description: about });
}

export function names(about: string) {
  return withMeta(namesShape, { description: about });
}

/** A map whose keys the file chooses. */
export function named<V extends z.ZodMiniType>(values: V, about: string, least: 0 | 1 = 0) {
  const map = z.record(z.string().check(z.regex(NAME_PATTERN, { error: "name" })), values, { error: "map" });
  return withMeta(map, { description: about, ...(least > 0 && { minProperties: least }) });
}

export function count(most: number, about: string) {
  return withMeta(
    z
      .int({ error: "count" })
      .check(z.gte(1, { error: "count" }))
      .check(z.lte(most, { error: "count" })),
    { description: about, errorMessage: "a whole number of 1 or more" },
  );
}

export function counts(about: string, least: 0 | 1 = 0, most = MAX_BUFFER_ITEMS) {
  return named(count(most, "Items."), about, least);
}

/** @param otherwise what holds if none is stated */
export function words<const W extends readonly [string, ...string[]]>(known: W, about: string, otherwise?: W[number]) {
  return withMeta(z.enum(known, { error: "word" }), {
    description: about,
    ...(otherwise !== undefined && { default: otherwise }),
  });
}

/** YAML reads a title or seed of digits as a number; the reader takes what is written. */
export function text(about: string, otherwise?: number) {
  return withMeta(z.union([z.string(), z.number(), z.boolean()], { error: "text" }), {
    description: about,
    ...(otherwise !== undefined && { default: otherwise }),
  });
}
