/** A part read back from its JSON, which may come from anywhere. */
import * as z from "zod";
import { MAX_FILE_BYTES, MOST_WAYS } from "../../scenario/file-limits.ts";
import { isPrintable } from "../../scenario/printable.ts";
import { LENGTHS } from "../../scenario/scenario.ts";
import { PRIORITIES } from "../layouts/layout-results.ts";
import type { Part } from "./part.ts";
import { MOST_REPLICATIONS } from "./replications.ts";

const text = z.string().max(2000).refine(isPrintable);
/** It names a folder. */
const name = z
  .string()
  .max(255)
  .regex(/^(?!\.*$)[^/\\\p{Cc}]+$/u);
const count = z.int().min(0);
const amount = z.number().min(0);
const replication = z.int().min(1).max(MOST_REPLICATIONS);
const measured = amount.nullable();

const runShape = z.strictObject({
  replication,
  made: z.array(amount),
  made_in_all: amount,
  held: z.array(amount),
  running_min: z.array(amount),
  stops: z.array(count),
  stopped: z
    .strictObject({ since_min: amount, stands: z.array(z.strictObject({ belt: text, item: text })) })
    .nullable(),
});

const variantShape = z.strictObject({
  made: z.array(amount),
  held: z.array(amount),
  stops: z.array(count),
  outcome: z.strictObject({
    items_handled: amount,
    first_product_min: measured,
    hold_up_peak: amount,
    over_limit_min: measured,
    over_limit_items: measured,
    tick_s: text,
    feed_ends: z.boolean(),
    made: z.strictObject({ min_10: measured, min_30: measured, min_60: measured }),
    dwell_mean_min: measured,
    dwell_longest_min: measured,
  }),
  evenness: measured,
});

const ways = z.int().min(2).max(MOST_WAYS);
const look = z.int().min(1).max(9);

const partShape = z.strictObject({
  made_by: text,
  file: name,
  scenario: name,
  text: z.string().max(MAX_FILE_BYTES),
  seed: text.optional(),
  horizon: text.optional(),
  replications: replication,
  study: z.discriminatedUnion("of", [
    z.strictObject({ of: z.literal("run") }),
    z.strictObject({ of: z.literal("compare"), tactics: z.array(text), look }),
    z.strictObject({
      of: z.literal("layouts"),
      look,
      line: text.optional(),
      ways: z.union([ways, z.array(ways)]).optional(),
      priority: z.enum(PRIORITIES).optional(),
      lengths: z.enum(LENGTHS).optional(),
      growTo: z.int().min(1).optional(),
    }),
  ]),
  shard: z.string().regex(/^[1-9]\d{0,4}\/[1-9]\d{0,4}$/),
  runs: z.array(runShape).optional(),
  levels: z.array(amount).optional(),
  variants: z.array(z.strictObject({ replication, runs: z.array(variantShape) })).optional(),
});

/** @returns `null` for what is no part of ours, or is not of what it says */
export function readPart(json: string): Part | null {
  const parsed = partShape.safeParse(parseJson(json));
  if (!parsed.success) return null;
  const { study, runs, levels, variants } = parsed.data;
  const isOfRuns = runs !== undefined && levels !== undefined && variants === undefined;
  const isOfVariants = runs === undefined && levels === undefined && variants !== undefined;
  return (study.of === "run" ? isOfRuns : isOfVariants) ? parsed.data : null;
}

function parseJson(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return undefined;
  }
}
