/** The structure of a tactic in the scenario file: one key for each of its parts. */
import * as z from "zod/mini";
import { ONE, type Rational } from "../quantity/rational.ts";
import { MAX_BUFFER_ITEMS, MAX_MACHINES } from "./limits.ts";
import { FASTER, WHILE } from "./means-shapes.ts";
import { count, keys, name, named, quantity, saysWhenWrong, withMeta, words } from "./shape-parts.ts";
import type { Among } from "./tactic.ts";

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

function among(about: string) {
  return withMeta(
    z.pipe(
      z.string({ error: "among" }).check(z.regex(/^(all|(first|last) +[1-9][0-9]*)$/, { error: "among" })),
      z.transform((text, context): Among => {
        if (text === "all") return { which: "all" };
        const chosen = Number(text.replace(/^\D+/, ""));
        if (chosen > MAX_MACHINES) {
          const params = { limit: String(MAX_MACHINES) };
          context.issues.push({ code: "custom", message: "too-large", input: text, params });
          return z.NEVER;
        }
        return { which: text.startsWith("first") ? "first" : "last", count: chosen };
      }),
    ),
    {
      description: about,
      examples: ["all", "first 3", "last 3"],
      default: "all",
      ...saysWhenWrong("all, first 3, last 3 or the like"),
    },
  );
}

/** @param kind what is expected, for findings; names words and a duration */
function wordsOrDuration<const W extends readonly [string, ...string[]]>(kind: string, known: W, about: string) {
  return withMeta(z.union([words(known, "An event."), quantity("duration", "A time.")], { error: kind }), {
    description: about,
  });
}

const holdShape = withMeta(
  keys({
    until: wordsOrDuration(
      "hold-until",
      ["own-full", "all-full"],
      "Each machine until its own buffers are full, all until all are full, or all for a time.",
    ),
    release: z.optional(
      words(
        ["together", "head-first", "tail-first"],
        "How they are let go; together if not stated, else with every.",
        "together",
      ),
    ),
    every: z.optional(quantity("duration", "From one release to the next.", { zero: true })),
  }),
  { description: "Machines held off from the start on." },
);

const staggerShape = withMeta(
  keys({
    first: words(["head", "tail"], "The end of the line that starts first."),
    every: quantity("duration", "From one start to the next."),
  }),
  { description: "Machines started one after another." },
);

const boostShape = withMeta(
  keys({
    to: quantity("percentage", "Of the feeds' own rate.", FASTER),
    for: quantity("duration", "How long, from the start on."),
  }),
  { description: "The feeds run faster at first." },
);

const lowLevelShape = withMeta(
  keys({
    at: count(MAX_BUFFER_ITEMS, "The level, items of each kind; never less than a cycle takes."),
    of: z.optional(among("Which machines of each line, in feeding order; all if not stated.")),
    for: z.optional(wordsOrDuration("for-good", ["good"], "How long, from the start on; for good if not stated.")),
  }),
  { description: "Infeed buffers fill up to a lower level only." },
);

const meteredShape = withMeta(
  keys({
    at: quantity("percentage", "Of what the branch's machine needs at full speed.", {
      range: { holds: (value) => value.compare(ONE) >= 0, says: "at least 100 %" },
      examples: ["105 %"],
    }),
  }),
  { description: "Branches carry only a little more than their machines need." },
);

const farEndFirstShape = withMeta(
  keys({
    until: wordsOrDuration("tail-until", ["tail-full"], "Until the last machine's buffers are full, or for a time."),
  }),
  { description: "Dividers let the through belt have all it can take, and are even afterwards." },
);

const secondFeedShape = withMeta(
  keys({
    share: quantity("percentage", "How much of the feed enters there.", {
      range: { holds: isProperShare, says: "more than 0 % and less than 100 %" },
      examples: ["30 %"],
    }),
    at: z.optional(name("The machine whose inlet it joins; the last one if not stated.")),
    for: quantity("duration", "How long, from the start on."),
  }),
  { description: "A share of the feed enters further down at first." },
);

function isProperShare(value: Rational): boolean {
  return value.n > 0n && value.compare(ONE) < 0;
}

export const tacticShape = withMeta(
  keys({
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
    hold: z.optional(holdShape),
    stagger: z.optional(staggerShape),
    boost: z.optional(boostShape),
    "low-level": z.optional(lowLevelShape),
    metered: z.optional(meteredShape),
    "far-end-first": z.optional(farEndFirstShape),
    "second-feed": z.optional(secondFeedShape),
  }),
  {
    description: "A priming tactic: one part, or several together.",
    minProperties: 1,
    dependentRequired: {
      "prefill-of": ["prefill"],
      "prefill-belts": ["prefill"],
      "by-hand": ["prefill"],
      while: ["prefill"],
    },
  },
);

export type RawTactic = z.output<typeof tacticShape>;
export type RawHold = z.output<typeof holdShape>;
