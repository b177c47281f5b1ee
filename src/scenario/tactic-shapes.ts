/** The structure of a tactic in the scenario file: one key for each of its parts. */
import { z } from "zod";
import { ONE, type Rational } from "../quantity/rational.ts";
import { MAX_BUFFER_ITEMS, MAX_MACHINES } from "./limits.ts";
import { count, keys, name, named, quantity, saysWhenWrong, words } from "./shape-parts.ts";
import type { Among } from "./tactic.ts";

const full = z.literal("full", { error: "amount" }).meta({ description: "As many as there is room for." });
const amountCount = count(MAX_BUFFER_ITEMS, "Items, of each kind that the machine takes.");

const prefill = z
  .union(
    [
      full,
      amountCount,
      named(
        z
          .union([full, amountCount], { error: "amount" })
          .meta({ description: "In each infeed buffer of this machine, or of this group's machines." }),
        "Amounts by machine or group.",
        1,
      ),
    ],
    { error: "prefill" },
  )
  .meta({ description: "Items placed in infeed buffers before the start: one amount for all, or one by machine." });

function among(about: string) {
  return z
    .string({ error: "among" })
    .regex(/^(all|(first|last) +[1-9][0-9]*)$/, { error: "among" })
    .transform((text, context): Among => {
      if (text === "all") return { which: "all" };
      const chosen = Number(text.replace(/^\D+/, ""));
      if (chosen > MAX_MACHINES) {
        const params = { limit: String(MAX_MACHINES) };
        context.issues.push({ code: "custom", message: "too-large", input: text, params });
        return z.NEVER;
      }
      return { which: text.startsWith("first") ? "first" : "last", count: chosen };
    })
    .meta({
      description: about,
      examples: ["all", "first 3", "last 3"],
      default: "all",
      ...saysWhenWrong("all, first 3, last 3 or the like"),
    });
}

/** @param kind what is expected, for findings; names words and a duration */
function wordsOrDuration<const W extends readonly [string, ...string[]]>(kind: string, known: W, about: string) {
  return z
    .union([words(known, "An event."), quantity("duration", "A time.")], { error: kind })
    .meta({ description: about });
}

const holdShape = keys({
  until: wordsOrDuration(
    "hold-until",
    ["own-full", "all-full"],
    "Each machine until its own buffers are full, all until all are full, or all for a time.",
  ),
  release: words(
    ["together", "head-first", "tail-first"],
    "How they are let go; together if not stated, else with every.",
    "together",
  ).optional(),
  every: quantity("duration", "From one release to the next.", { zero: true }).optional(),
}).meta({ description: "Machines held off from the start on." });

const staggerShape = keys({
  first: words(["head", "tail"], "The end of the line that starts first."),
  every: quantity("duration", "From one start to the next."),
}).meta({ description: "Machines started one after another." });

const boostShape = keys({
  to: quantity("percentage", "Of the feeds' own rate.", {
    range: { holds: (value) => value.compare(ONE) > 0, says: "more than 100 %" },
    examples: ["120 %"],
  }),
  for: quantity("duration", "How long, from the start on."),
}).meta({ description: "The feeds run faster at first." });

const lowLevelShape = keys({
  at: count(MAX_BUFFER_ITEMS, "The level, items of each kind; never less than a cycle takes."),
  of: among("Which machines of each line, in feeding order; all if not stated.").optional(),
  for: wordsOrDuration("for-good", ["good"], "How long, from the start on; for good if not stated.").optional(),
}).meta({ description: "Infeed buffers fill up to a lower level only." });

const meteredShape = keys({
  at: quantity("percentage", "Of what the branch's machine needs at full speed.", {
    range: { holds: (value) => value.compare(ONE) >= 0, says: "at least 100 %" },
    examples: ["105 %"],
  }),
}).meta({ description: "Branches carry only a little more than their machines need." });

const farEndFirstShape = keys({
  until: wordsOrDuration("tail-until", ["tail-full"], "Until the last machine's buffers are full, or for a time."),
}).meta({ description: "Dividers let the through belt have all it can take, and are even afterwards." });

const secondFeedShape = keys({
  share: quantity("percentage", "How much of the feed enters there.", {
    range: { holds: isProperShare, says: "more than 0 % and less than 100 %" },
    examples: ["30 %"],
  }),
  at: name("The machine whose inlet it joins; the last one if not stated.").optional(),
  for: quantity("duration", "How long, from the start on."),
}).meta({ description: "A share of the feed enters further down at first." });

function isProperShare(value: Rational): boolean {
  return value.n > 0n && value.compare(ONE) < 0;
}

export const tacticShape = keys({
  prefill: prefill.optional(),
  "prefill-of": among("Which machines of each line it is for, in feeding order; all if not stated.").optional(),
  "prefill-belts": words(["full", "none"], "Whether belts are loaded too; none if not stated.", "none").optional(),
  "by-hand": quantity("rate", "How fast hands place the items; it takes no time if not stated.").optional(),
  while: words(
    ["stopped", "running"],
    "Whether the start waits for the hands; stopped, that it does, if not stated.",
    "stopped",
  ).optional(),
  hold: holdShape.optional(),
  stagger: staggerShape.optional(),
  boost: boostShape.optional(),
  "low-level": lowLevelShape.optional(),
  metered: meteredShape.optional(),
  "far-end-first": farEndFirstShape.optional(),
  "second-feed": secondFeedShape.optional(),
}).meta({
  description: "A priming tactic: one part, or several together.",
  minProperties: 1,
  dependentRequired: {
    "prefill-of": ["prefill"],
    "prefill-belts": ["prefill"],
    "by-hand": ["prefill"],
    while: ["prefill"],
  },
});

export type RawTactic = z.output<typeof tacticShape>;
export type RawHold = z.output<typeof holdShape>;
