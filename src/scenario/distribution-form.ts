/** A distribution as a file states it: exactly one family, with the numbers that it needs and no others; its shape, read and written. */
import * as z from "zod/mini";
import { ONE, type Rational } from "../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../quantity/units.ts";
import { type Distribution, meanOf } from "./distribution.ts";
import type { Path } from "./file-finding.ts";
import { LARGEST_SHAPE, LEAST_SHAPE, MAX_STAGES } from "./file-limits.ts";
import type { Shares, Times } from "./random-elements.ts";
import { isStated, type Reading } from "./reading.ts";
import { count, keys, quantity, withMeta } from "./shape-parts.ts";

type Measure = "duration" | "percentage";

/** What findings call the place of a distribution. */
const PLACES = { duration: "times", percentage: "shares" } as const;

const EXAMPLES: Readonly<Record<Measure, unknown[]>> = {
  duration: ["4 min", { exponential: "45 min" }, { triangular: ["5 s", "10 s", "30 s"] }],
  percentage: [{ exponential: "100 %" }, { lognormal: "100 %", spread: "10 %" }, { uniform: ["80 %", "120 %"] }],
};

function familiesOf(measure: Measure) {
  const value = (what: string) => z.optional(quantity(measure, what));
  const values = (length: number, what: string) =>
    withMeta(z.optional(z.array(quantity(measure, "A value.", { zero: true }), { error: "list" })), {
      description: what,
      minItems: length,
      maxItems: length,
    });
  const shape = withMeta(
    z
      .number({ error: "shape" })
      .check(z.gte(LEAST_SHAPE, { error: "shape" }))
      .check(z.lte(LARGEST_SHAPE, { error: "shape" })),
    { description: "Shape of a Weibull distribution: below 1 early failures, 1 exponential, above 1 wear." },
  );
  return withMeta(
    keys(
      {
        fixed: value("Always so much."),
        exponential: value("Mean; without memory."),
        geometric: value("Mean; whole steps, with the same chance to end after each."),
        step: value("Of a geometric distribution: its least value, and from one value to the next."),
        uniform: values(2, "Least and most; all between them alike."),
        triangular: values(3, "Least, most frequent and most."),
        weibull: value("Mean; goes with shape."),
        shape: z.optional(shape),
        lognormal: value("Mean; goes with spread."),
        spread: value("Standard deviation of a lognormal distribution."),
        erlang: value("Mean; goes with stages."),
        stages: z.optional(
          count(MAX_STAGES, "Exponential stages one after another that make up an Erlang distribution."),
        ),
      },
      PLACES[measure],
    ),
    { id: `distribution-of-${PLACES[measure]}` },
  );
}

const SHAPES = { duration: familiesOf("duration"), percentage: familiesOf("percentage") } as const;

function distribution(measure: Measure, about: string) {
  return withMeta(z.union([quantity(measure, "Always so much."), SHAPES[measure]], { error: PLACES[measure] }), {
    description: about,
    examples: EXAMPLES[measure],
  });
}

export const times = (about: string) => distribution("duration", about);
export const shares = (about: string) => distribution("percentage", about);

export type RawDistribution = z.output<ReturnType<typeof distribution>>;
type Parts = Exclude<RawDistribution, Rational>;

type Family = Distribution<Rational>["family"];

/** What goes with each family, and with no other. */
const BESIDE = {
  fixed: null,
  exponential: null,
  geometric: "step",
  uniform: null,
  triangular: null,
  weibull: "shape",
  lognormal: "spread",
  erlang: "stages",
} as const satisfies Readonly<Record<Family, Exclude<keyof Parts, Family> | null>>;
const FAMILIES = Object.keys(BESIDE).filter((name): name is Family => name in BESIDE);

/** @returns `null` where none is stated, or a faulty one, which has then been reported */
export function readTimes(raw: RawDistribution | undefined, path: Path, reading: Reading): Times | null {
  return read(raw, path, reading, formatDuration);
}

/** As `readTimes`; the mean must be 100 %. */
export function readShares(raw: RawDistribution | undefined, path: Path, reading: Reading): Shares | null {
  const shares = read(raw, path, reading, formatPercentage);
  if (shares === null || meanOf(shares).equals(ONE)) return shares;
  reading.findings.report("share-mean", { found: formatPercentage(meanOf(shares)) }, path);
  return null;
}

function read(
  raw: RawDistribution | undefined,
  path: Path,
  reading: Reading,
  format: (value: Rational) => string,
): Distribution<Rational> | null {
  const { findings, root } = reading;
  if (raw === undefined || findings.damaged(path)) return null;
  if (!isParts(raw)) return { family: "fixed", mean: raw };
  const stated = FAMILIES.filter((family) => isStated(root, path, family));
  const [family] = stated;
  if (family === undefined || stated.length > 1) {
    findings.report("distribution-form", { found: stated.join(" and "), families: FAMILIES.join(", ") }, path);
    return null;
  }
  for (const needed of FAMILIES) {
    const key = BESIDE[needed];
    if (key === null) continue;
    if (isStated(root, path, key) === (family === needed)) continue;
    if (family === needed) findings.report("missing-key", { key, expected: key }, path);
    else findings.report("needs-key", { found: key, needed }, [...path, key], "key");
  }
  return findings.damaged(path) ? null : build(family, raw, path, reading, format);
}

function isParts(raw: RawDistribution): raw is Parts {
  return !("toFraction" in raw);
}

/** @returns `null` where numbers don't fit one another */
function build(
  family: Family,
  parts: Parts,
  path: Path,
  { findings }: Reading,
  format: (value: Rational) => string,
): Distribution<Rational> | null {
  switch (family) {
    case "fixed":
    case "exponential": {
      const mean = parts[family];
      return mean ? { family, mean } : null;
    }
    case "geometric": {
      const { geometric: mean, step } = parts;
      if (!mean || !step) return null;
      if (step.compare(mean) <= 0) return { family, mean, step };
      findings.report("geometric-step", { found: format(mean), step: format(step) }, [...path, "step"]);
      return null;
    }
    case "uniform":
    case "triangular": {
      const values = parts[family] ?? [];
      const [least, second, third] = values;
      if (isRising(values, family === "uniform" ? 2 : 3) && least && second) {
        if (family === "uniform") return { family, least, most: second };
        if (third) return { family, least, mode: second, most: third };
      }
      findings.report("distribution-values", { found: values.map(format).join(", "), family }, [...path, family]);
      return null;
    }
    case "weibull": {
      const { weibull: mean, shape } = parts;
      return mean && shape !== undefined ? { family, mean, shape } : null;
    }
    case "lognormal": {
      const { lognormal: mean, spread } = parts;
      return mean && spread ? { family, mean, spread } : null;
    }
    case "erlang": {
      const { erlang: mean, stages } = parts;
      return mean && stages !== undefined ? { family, mean, stages } : null;
    }
  }
}

/** None below the one before, and the last above the first. */
function isRising(values: readonly Rational[], length: number): boolean {
  const [first] = values;
  const last = values.at(-1);
  if (values.length !== length || first === undefined || last === undefined || last.compare(first) <= 0) return false;
  return values.every((value, i) => i === 0 || value.compare(values[i - 1] ?? value) >= 0);
}

export function timesBody(times: Times) {
  return distributionBody(times, formatDuration);
}

export function sharesBody(shares: Shares) {
  return distributionBody(shares, formatPercentage);
}

function distributionBody(distribution: Distribution<Rational>, format: (value: Rational) => string) {
  switch (distribution.family) {
    case "fixed":
      return format(distribution.mean);
    case "exponential":
      return { exponential: format(distribution.mean) };
    case "geometric":
      return { geometric: format(distribution.mean), step: format(distribution.step) };
    case "uniform":
      return { uniform: [format(distribution.least), format(distribution.most)] };
    case "triangular":
      return { triangular: [format(distribution.least), format(distribution.mode), format(distribution.most)] };
    case "weibull":
      return { weibull: format(distribution.mean), shape: distribution.shape };
    case "lognormal":
      return { lognormal: format(distribution.mean), spread: format(distribution.spread) };
    case "erlang":
      return { erlang: format(distribution.mean), stages: distribution.stages };
  }
}
