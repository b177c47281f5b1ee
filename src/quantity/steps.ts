/** Values that a quantity takes one after another: "60/min..300/min:10/min", "2..16", "50,100,200" or "even,branch-first". */
import { approximate, type Rational, rational } from "./rational.ts";
import { parseQuantity, type QuantityKind, unitOf, writtenIn } from "./units.ts";

export interface Steps {
  /** As a file would hold them. */
  readonly texts: readonly string[];
  /** Of the numbers: "/min", "%", "" for whole counts; `null` where the values are words. */
  readonly unit: string | null;
  /** The nearest numbers in that unit. */
  readonly numbers: readonly number[] | null;
}

export type StepsProblem =
  /** Nothing between two commas, or nothing at all. */
  | "empty"
  /** An end or the step of a range is neither a quantity with its unit nor a whole number. */
  | "no-number"
  /** Ends and step are not of one kind. */
  | "unlike"
  /** A step of zero, or none where there is a unit. */
  | "no-step"
  | "twice"
  | "too-many";

/** A quantity of a kind with its unit, or a count without either. */
interface Measured {
  readonly kind: QuantityKind | "count";
  readonly unit: string;
  readonly value: Rational;
}

const WHOLE = /^(?:0|[1-9][0-9]{0,8})$/;

/** Ranges are stepped exactly, up or down, as far as the second end; values keep the unit of the first. */
export function readSteps(text: string, most: number): Steps | StepsProblem {
  const steps = sharesOfNeed(text, most) ?? plainSteps(text, most);
  if (typeof steps === "string") return steps;
  const keys = steps.numbers ?? steps.texts;
  return new Set<string | number>(keys).size < keys.length ? "twice" : steps;
}

function plainSteps(text: string, most: number): Steps | StepsProblem {
  const ends = text.split("..");
  return ends.length === 2 ? rangeOf(ends[0] ?? "", ends[1] ?? "", most) : listOf(text, most);
}

/** Percentages all of which go on "of need"; the step of a range need not. */
function sharesOfNeed(text: string, most: number): Steps | StepsProblem | null {
  const [values = ""] = text.split(":");
  if (!values.split(/\.\.|,/).every((value) => OF_NEED.test(value))) return null;
  const steps = plainSteps(text.replaceAll(new RegExp(OF_NEED, "g"), "$1"), most);
  if (typeof steps === "string") return steps;
  return { ...steps, texts: steps.texts.map((share) => `${share} of need`), unit: "% of need" };
}

const OF_NEED = /(%)\s+of need(?=\s*(?:$|[.,:]))/;

function rangeOf(first: string, rest: string, most: number): Steps | StepsProblem {
  const [second = "", third, ...more] = rest.split(":");
  const from = measured(first);
  const to = measured(second);
  const step = third === undefined ? null : measured(third);
  if (more.length > 0 || from === null || to === null || (third !== undefined && step === null)) return "no-number";
  if (step === null && from.unit !== "") return "no-step";
  if (to.kind !== from.kind || (step !== null && step.kind !== from.kind)) return "unlike";
  const size = step === null ? rational(1n) : step.value;
  if (size.n === 0n) return "no-step";
  const count = to.value.sub(from.value).abs().div(size).floor().add(1n);
  if (count.compare(most) > 0) return "too-many";
  const by = to.value.compare(from.value) < 0 ? size.neg() : size;
  return stepsOf(
    from,
    Array.from({ length: Number(count.n) }, (_, i) => from.value.add(by.mul(BigInt(i)))),
  );
}

function stepsOf({ kind, unit }: Measured, values: readonly Rational[]): Steps {
  return {
    texts: values.map((value) => (kind === "count" ? value.toFraction() : writtenIn(kind, unit, value))),
    unit,
    numbers: numbersIn(kind, unit, values),
  };
}

/** Numbers where all are of one kind, else words. */
function listOf(text: string, most: number): Steps | StepsProblem {
  const texts = text.split(",").map((one) => one.trim());
  if (texts.includes("")) return "empty";
  if (texts.length > most) return "too-many";
  const values = texts.flatMap((one) => measured(one) ?? []);
  const [first] = values;
  if (first === undefined || values.length < texts.length || values.some(({ kind }) => kind !== first.kind)) {
    return { texts, unit: null, numbers: null };
  }
  const numbers = numbersIn(
    first.kind,
    first.unit,
    values.map(({ value }) => value),
  );
  return { texts, unit: first.unit, numbers };
}

function numbersIn(kind: Measured["kind"], unit: string, values: readonly Rational[]): number[] {
  const size = kind === "count" ? rational(1n) : unitOf(`1${unit}`)?.size;
  return values.map((value) => approximate(size === undefined ? value : value.div(size)));
}

function measured(text: string): Measured | null {
  const written = text.trim();
  if (WHOLE.test(written)) return { kind: "count", unit: "", value: rational(written) };
  const found = unitOf(written);
  const parsed = found && parseQuantity(found.kind, written, true);
  return found && parsed?.ok ? { kind: found.kind, unit: found.unit, value: parsed.value } : null;
}
