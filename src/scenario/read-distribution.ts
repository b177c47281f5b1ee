/** One distribution of the file: exactly one family, with the numbers that it needs and no others. */
import { ONE, type Rational } from "../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../quantity/units.ts";
import { type Distribution, meanOf } from "./distribution.ts";
import type { Path } from "./finding.ts";
import type { Shares, Times } from "./random-elements.ts";
import type { RawDistribution } from "./random-shapes.ts";
import { isStated, type Reading } from "./reading.ts";

type Parts = Exclude<RawDistribution, Rational>;

const FAMILIES = [
  "fixed",
  "exponential",
  "geometric",
  "uniform",
  "triangular",
  "weibull",
  "lognormal",
  "erlang",
] as const;
type Family = (typeof FAMILIES)[number];

/** What goes with a family, and with no other. */
const BESIDES = { step: "geometric", shape: "weibull", spread: "lognormal", stages: "erlang" } as const;
const BESIDE_KEYS = ["step", "shape", "spread", "stages"] as const;

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
  for (const key of BESIDE_KEYS) {
    const needed = BESIDES[key];
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
