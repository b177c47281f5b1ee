/** Unknowns of a fit: places of the file and the values between which each is looked for. */
import { approximate, rational } from "../../quantity/rational.ts";
import { parseQuantity, type QuantityKind, unitOf, writtenIn } from "../../quantity/units.ts";
import { nodeAt, readDocument } from "../../scenario/document.ts";
import { composed, NAME_PATTERN } from "../../scenario/file-limits.ts";

export interface Unknown {
  readonly path: string;
  /** Of all its numbers, such as "/min"; "" for whole counts. */
  readonly unit: string;
  readonly kind: QuantityKind | "count";
  readonly lower: number;
  readonly upper: number;
}

export type UnknownProblem = "no-value" | "bad-path" | "no-range" | "no-number" | "unlike" | "not-rising";

const MOST_STEPS = 12;
const WHOLE = /^(?:0|[1-9][0-9]{0,8})$/;

/** @param text a path and its bounds, such as "feeds.blender.rate=100/min..300/min" */
export function unknownOf(text: string): Unknown | UnknownProblem {
  const equals = text.indexOf("=");
  if (equals < 0) return "no-value";
  const path = composed(text.slice(0, equals).trim());
  const keys = path.split(".");
  if (keys.length > MOST_STEPS || !keys.every((key) => NAME_PATTERN.test(key))) return "bad-path";
  const ends = text.slice(equals + 1).split("..");
  const [first, second] = ends;
  if (ends.length !== 2 || first === undefined || second === undefined) return "no-range";
  const from = measured(first);
  const to = measured(second);
  if (from === null || to === null) return "no-number";
  if (from.kind !== to.kind) return "unlike";
  const { kind, unit } = from;
  const [lower, upper] = [from.value, to.value * (to.size / from.size)];
  return lower < upper ? { path, kind, unit, lower, upper } : "not-rising";
}

interface Measured {
  readonly kind: Unknown["kind"];
  readonly unit: string;
  /** In that unit, whose size in the canonical one is `size`. */
  readonly value: number;
  readonly size: number;
}

function measured(text: string): Measured | null {
  const written = text.trim();
  if (WHOLE.test(written)) return { kind: "count", unit: "", value: Number(written), size: 1 };
  const found = unitOf(written);
  const parsed = found && parseQuantity(found.kind, written);
  if (!found || !parsed?.ok) return null;
  const { kind, unit, size } = found;
  return { kind, unit, value: approximate(parsed.value.div(size)), size: approximate(size) };
}

/** What the file states there, in the unknown's unit; `null` where it states nothing of the kind. */
export function ownValue(text: string, { path, kind, unit }: Unknown): number | null {
  const outcome = readDocument(text);
  if (!outcome.ok) return null;
  const { root } = outcome.document;
  // A key that is a number may be a list's index.
  const steps = path.split(".");
  const node =
    nodeAt(root, steps) ??
    nodeAt(
      root,
      steps.map((step) => (/^\d+$/.test(step) ? Number(step) : step)),
    );
  const own = node?.kind === "scalar" ? measured(node.text) : null;
  if (own === null || own.kind !== kind) return null;
  const size = kind === "count" ? 1 : approximate(unitOf(`1${unit}`)?.size ?? rational(1n));
  return own.value * (own.size / size);
}

/** Values stand on a grid this fine, so that the engine's whole numbers hold them. */
const GRID = 100_000;

/** The nearest value that a file can hold, within the bounds. */
export function settled({ kind, lower, upper }: Unknown, value: number): number {
  if (kind === "count") return Math.min(Math.floor(upper), Math.max(Math.ceil(lower), Math.round(value)));
  const step = 10 ** Math.floor(Math.log10((upper - lower) / GRID) + 1e-9);
  // By a decimal's text: a product such as 3 * 0.1 is none.
  const decimals = Math.max(0, -Math.round(Math.log10(step)));
  return Math.min(upper, Math.max(lower, Number((Math.round(value / step) * step).toFixed(decimals))));
}

/** As a file would hold it. */
export function written({ kind, unit }: Unknown, value: number): string {
  if (kind === "count") return String(value);
  const size = unitOf(`1${unit}`)?.size ?? rational(1n);
  return writtenIn(kind, unit, rational(decimalText(value)).mul(size));
}

/** Without an exponent. */
function decimalText(value: number): string {
  const text = String(value);
  return text.includes("e") ? value.toFixed(12) : text;
}
