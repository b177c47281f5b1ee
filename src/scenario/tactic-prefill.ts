/** What is placed before the start: its keys in a tactic, and how they are written; reading them asks for room (`tactics.ts`). */
import * as z from "zod/mini";
import type { Rational } from "../quantity/rational.ts";
import { formatRate } from "../quantity/units.ts";
import { MAX_BUFFER_ITEMS } from "./file-limits.ts";
import { WHILE } from "./means.ts";
import { count, named, quantity, withMeta, words } from "./shape-parts.ts";
import { type Among, among, amongBody } from "./tactic-shapes.ts";

/** Items placed in infeed buffers before the start. */
export interface Prefill {
  /** The same amount in every buffer among some machines, or amounts by machine or group id. */
  readonly amounts:
    | { readonly among: Among; readonly amount: Amount }
    | { readonly byMachine: readonly { readonly machine: string; readonly amount: Amount }[] };
  /** Whether the line's belts are loaded too. */
  readonly belts: boolean;
  /** How fast hands place them; `null`: it takes no time, since they do so before the shift at their own pace. */
  readonly byHandPerMin: Rational | null;
  /** Whether hands work before the shift, the start waits for them, or they work beside the running line. */
  readonly while: (typeof WHILE)[number];
}

/** `null` is full. */
export type Amount = number | null;

const full = withMeta(z.literal("full", { error: "amount" }), { description: "As many as there is room for." });
const amountCount = count(MAX_BUFFER_ITEMS, "Items, of each kind that the machine takes.");

const prefill = withMeta(
  z.union(
    [
      full,
      amountCount,
      named(
        withMeta(z.union([full, amountCount], { error: "amount" }), {
          description: "In each infeed buffer of this machine, or of this group's machines.",
        }),
        "Amounts by machine or group.",
        1,
      ),
    ],
    { error: "prefill" },
  ),
  { description: "Items placed in infeed buffers before the start: one amount for all, or one by machine." },
);

/** @internal */
export const prefillShapes = {
  prefill: z.optional(prefill),
  "prefill-of": z.optional(among("Which machines of each line it is for, in feeding order; all if not stated.")),
  "prefill-belts": z.optional(words(["full", "none"], "Whether belts are loaded too; none if not stated.", "none")),
  "by-hand": z.optional(
    quantity("rate", "How fast hands place the items; they are there before the shift if not stated."),
  ),
  while: z.optional(
    words(
      WHILE,
      "Whether hands place them before the shift, the start waits for them, or they work beside the running line; stopped, that it waits, if not stated.",
      "stopped",
    ),
  ),
};

export function prefillKeys({ amounts, belts, byHandPerMin, while: during }: Prefill) {
  return {
    ...("among" in amounts
      ? { prefill: amountBody(amounts.amount), "prefill-of": amongBody(amounts.among) }
      : { prefill: new Map(amounts.byMachine.map(({ machine, amount }) => [machine, amountBody(amount)])) }),
    "prefill-belts": belts ? "full" : "none",
    ...(byHandPerMin !== null && { "by-hand": formatRate(byHandPerMin) }),
    while: during,
  };
}

function amountBody(amount: Amount): number | "full" {
  return amount ?? "full";
}
