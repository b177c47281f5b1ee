/**
 * Quantities as people write them, "30/min" or "7.5 s", and exact rationals in canonical units: items per minute,
 * minutes, metres, metres per minute, 1 for 100 %, and times a year.
 */
import { approximate, ONE, type Rational, ratio, rational, whole } from "./rational.ts";

export type QuantityKind = "rate" | "duration" | "length" | "speed" | "percentage" | "frequency";

/** Exactly 0.3048 m and 25.4 mm, by the international agreement of 1959 (from memory). */
export const FOOT = ratio(381n, 1250n);
const INCH = FOOT.div(12n);

/** In which a plant is measured. */
export type LengthUnit = "m" | "ft";

/** Each kind's units, the customary one first, with their size in the canonical unit. */
const UNITS: Readonly<Record<QuantityKind, ReadonlyMap<string, Rational>>> = {
  rate: new Map([
    ["/min", ONE],
    ["/s", whole(60)],
    ["/h", ratio(1n, 60n)],
  ]),
  duration: new Map([
    ["s", ratio(1n, 60n)],
    ["min", ONE],
    ["ms", ratio(1n, 60_000n)],
    ["h", whole(60)],
    ["d", whole(1440)],
  ]),
  length: new Map([
    ["m", ONE],
    ["mm", ratio(1n, 1000n)],
    ["cm", ratio(1n, 100n)],
    ["ft", FOOT],
    ["in", INCH],
  ]),
  speed: new Map([
    ["m/min", ONE],
    ["m/s", whole(60)],
    ["mm/s", ratio(3n, 50n)],
    ["ft/min", FOOT],
  ]),
  percentage: new Map([["%", ratio(1n, 100n)]]),
  // Weeks and months of a year as budgets count them; common practice, no source.
  frequency: new Map([
    ["per week", whole(52)],
    ["per day", whole(365)],
    ["per month", whole(12)],
    ["per year", ONE],
  ]),
};

/** Numerator and denominator in canonical units stay below this, so that the engine can count in whole numbers. */
export const LARGEST_TERM = 2n ** 31n;

/** Longer texts are no quantity, whatever they hold; converting a million digits would take seconds. */
export const LONGEST_TEXT = 60;

/** A fraction or a decimal; no sign, no exponent. */
export const NUMBER = String.raw`[0-9]+\/0*[1-9][0-9]*|[0-9]+(?:\.[0-9]+)?`;

export function unitsOf(kind: QuantityKind): readonly string[] {
  return [...UNITS[kind].keys()];
}

/** Matches what `parseQuantity` reads, but for too many digits; group 1 is the number, group 2 the unit. */
export function quantityPattern(kind: QuantityKind): RegExp {
  return new RegExp(`^(${NUMBER})\\s*(${unitsOf(kind).join("|")})$`);
}

const PATTERNS: Readonly<Record<QuantityKind, RegExp>> = {
  rate: quantityPattern("rate"),
  duration: quantityPattern("duration"),
  length: quantityPattern("length"),
  speed: quantityPattern("speed"),
  percentage: quantityPattern("percentage"),
  frequency: quantityPattern("frequency"),
};

export const QUANTITY_KINDS: readonly QuantityKind[] = [
  "rate",
  "duration",
  "length",
  "speed",
  "percentage",
  "frequency",
];

/** The kind of a quantity that reads well, its unit as written, and the unit's size in the canonical one. */
export function unitOf(
  text: string,
): { readonly kind: QuantityKind; readonly unit: string; readonly size: Rational } | null {
  if (text.length > LONGEST_TEXT) return null;
  for (const kind of QUANTITY_KINDS) {
    const unit = PATTERNS[kind].exec(text)?.[2];
    const size = UNITS[kind].get(unit ?? "");
    if (unit !== undefined && size !== undefined) return { kind, unit, size };
  }
  return null;
}

/** Exact, in a unit of the kind: `parseQuantity(kind, writtenIn(kind, unit, value))` is the value. */
export function writtenIn(kind: QuantityKind, unit: string, value: Rational): string {
  const number = formatNumber(value.div(UNITS[kind].get(unit) ?? ONE));
  return unit.startsWith("/") && !number.includes("/") ? `${number}${unit}` : `${number} ${unit}`;
}

export type QuantityProblem =
  | { readonly problem: "no-number" | "missing-unit" | "negative" | "too-many-digits" }
  | { readonly problem: "unknown-unit"; readonly unit: string }
  | { readonly problem: "decimal-comma"; readonly right: string };

export type ParsedQuantity =
  | { readonly ok: true; readonly value: Rational }
  | ({ readonly ok: false } & QuantityProblem);

/**
 * Reads "30/min", "45/4 /min", "0.5/s" … exactly; the value is in the kind's canonical unit.
 * @param anyDigits as many as the text holds
 */
export function parseQuantity(kind: QuantityKind, text: string, anyDigits = false): ParsedQuantity {
  if (text.length > LONGEST_TEXT) return { ok: false, problem: "too-many-digits" };
  const match = PATTERNS[kind].exec(text);
  const size = UNITS[kind].get(match?.[2] ?? "");
  if (match?.[1] === undefined || size === undefined) return { ok: false, ...problemOf(text) };
  const value = rational(match[1]).mul(size);
  if (!anyDigits && (value.n > LARGEST_TERM || value.d > LARGEST_TERM))
    return { ok: false, problem: "too-many-digits" };
  return { ok: true, value };
}

export function problemOf(text: string): QuantityProblem {
  if (/^\s*-\s*[0-9]/.test(text)) return { problem: "negative" };
  if (/^[0-9]+,[0-9]+(?![0-9,])/.test(text)) return { problem: "decimal-comma", right: text.replace(",", ".") };
  const match = new RegExp(`^(${NUMBER})\\s*(.*)$`, "s").exec(text);
  if (match === null) return { problem: "no-number" };
  const unit = match[2] ?? "";
  return unit === "" ? { problem: "missing-unit" } : { problem: "unknown-unit", unit };
}

/** Exact: `parseQuantity("rate", formatRate(x))` is x. The other formatters likewise. */
export function formatRate(perMin: Rational): string {
  const number = formatNumber(perMin);
  return number.includes("/") ? `${number} /min` : `${number}/min`;
}

/** To six significant digits, for sentences. */
export function formatApproximate(perMin: Rational): string {
  return `${Number(approximate(perMin).toPrecision(6))}/min`;
}

/** The largest unit that takes a whole number, seconds where they take a short decimal, else a fraction of minutes. */
export function formatDuration(min: Rational): string {
  if (min.d === 1n && min.n !== 0n && min.n % 1440n === 0n) return `${min.n / 1440n} d`;
  if (min.d === 1n && min.n !== 0n && min.n % 60n === 0n) return `${min.n / 60n} h`;
  if (min.d === 1n) return `${min.n} min`;
  const seconds = formatNumber(min.mul(60n));
  return seconds.includes("/") ? `${formatNumber(min)} min` : `${seconds} s`;
}

/** A length in metres, in that unit; likewise an area in square metres. */
export function lengthIn(unit: LengthUnit, metres: number): number {
  return unit === "m" ? metres : metres / approximate(FOOT);
}

export function areaIn(unit: LengthUnit, squareMetres: number): number {
  return lengthIn(unit, lengthIn(unit, squareMetres));
}

export function formatLength(metres: Rational, unit: LengthUnit = "m"): string {
  // Whole inches, rather than fractions of a foot.
  const isInInches = unit === "ft" && !isDecimal(metres.div(FOOT)) && isDecimal(metres.div(INCH));
  return writtenIn("length", isInInches || (unit === "ft" && metres.compare(FOOT) < 0) ? "in" : unit, metres);
}

export function formatSpeed(metresPerMin: Rational, unit: LengthUnit = "m"): string {
  return writtenIn("speed", `${unit}/min`, metresPerMin);
}

/** The unit in which a quantity of length or speed is written; `null` for any other text. */
export function lengthUnitOf(text: string): LengthUnit | null {
  const found = unitOf(text);
  if (found === null || (found.kind !== "length" && found.kind !== "speed")) return null;
  return /^(?:ft|in)/.test(found.unit) ? "ft" : "m";
}

export function formatPercentage(share: Rational): string {
  return `${formatNumber(share.mul(100n))} %`;
}

/** By the week, where that takes a short decimal. */
export function formatFrequency(perYear: Rational): string {
  return writtenIn("frequency", isDecimal(perYear.div(52n)) ? "per week" : "per year", perYear);
}

/** A decimal where six places hold it exactly, else a fraction. */
export function formatNumber(value: Rational): string {
  return isDecimal(value) ? value.toString() : value.toFraction();
}

function isDecimal(value: Rational): boolean {
  return 1_000_000n % value.d === 0n;
}
