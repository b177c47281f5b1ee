/** A part of a sweep read back from its JSON, which may come from anywhere. */
import * as z from "zod";
import { isPrintable } from "../../scenario/printable.ts";
import { MOST_POINTS } from "./sweep.ts";
import type { Sweep } from "./sweep-results.ts";

/** A rate: never below nothing. */
const exact = z.string().regex(/^\d{1,40}(?:\/[1-9]\d{0,40})?$/);
const text = z.string().max(2000).refine(isPrintable);
const minutes = z.number().min(0).nullable();
const amount = z.number().min(0);
const count = z.int().min(1).max(MOST_POINTS);

const pointShape = z.strictObject({
  point: count,
  values: z.array(text).min(1).max(2),
  proved: z.boolean(),
  basis: z.enum(["recurrence", "flow", "measured"]),
  settling_min: minutes,
  stops_at_min: minutes,
  within_tolerance_min: minutes,
  ramp_up_loss: z.number().nullable(),
  full_per_min: exact,
  settled_per_min: exact.nullable(),
  measured_per_min: amount.exactOptional(),
  made: amount,
  hold_up_peak: amount,
  hold_up_settled: amount,
});

const quantityShape = z.strictObject({
  path: text,
  values: z.array(text).min(1).max(MOST_POINTS),
  unit: z.string().max(20).nullable(),
  numbers: z.array(z.number()).nullable(),
});

/** In the order in which the keys are written. */
const sweepShape = z.strictObject({
  // Of parts written before there was one.
  format: z.literal("fillfront-sweep").optional(),
  format_version: z.literal(1).optional(),
  made_by: text,
  title: text,
  // It names a folder.
  scenario: z
    .string()
    .max(255)
    .regex(/^(?!\.*$)[^/\\\p{Cc}]+$/u),
  scenario_sha256: z.string().regex(/^[0-9a-f]{64}$/),
  seed: text.nullable(),
  horizon_min: minutes,
  quantities: z.array(quantityShape).min(1).max(2),
  of_points: count,
  shard: z
    .string()
    .regex(/^[1-9]\d{0,4}\/[1-9]\d{0,4}$/)
    .nullable(),
  points: z.array(pointShape).max(MOST_POINTS),
});

/** @returns `null` for what is no sweep of ours, or contradicts itself */
export function readSweep(json: string): Sweep | null {
  const parsed = sweepShape.safeParse(parseJson(json));
  return parsed.success && isWhole(parsed.data) ? parsed.data : null;
}

function parseJson(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return undefined;
  }
}

/** That there are as many points as combinations of values, and each has its own. */
function isWhole({ quantities, of_points: all, points }: Sweep): boolean {
  const second = quantities[1]?.values ?? [null];
  if ((quantities[0]?.values.length ?? 0) * second.length !== all) return false;
  if (quantities.some(({ values, numbers }) => numbers !== null && numbers.length !== values.length)) return false;
  return points.every(({ point, values }, i) => {
    const own = [quantities[0]?.values[Math.floor((point - 1) / second.length)], second[(point - 1) % second.length]];
    const isLater = point > (points[i - 1]?.point ?? 0) && point <= all;
    return isLater && values.length === quantities.length && values.every((value, q) => value === own[q]);
  });
}
