/** A tactic as the scenario file has it: its structure, one key for each of its parts, and how parts are read and written. */
import * as z from "zod/mini";
import { ONE, type Rational, ZERO } from "../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import { MAX_BUFFER_ITEMS, MAX_MACHINES } from "./file-limits.ts";
import { FASTER, WHILE } from "./means.ts";
import { count, keys, name, named, quantity, saysWhenWrong, withMeta, words } from "./shape-parts.ts";
import { type Among, type Amount, type Hold, type OfEachPart, ofParts, type Prefill, type Tactic } from "./tactic.ts";

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

export const ALL: Among = { which: "all" };

/** All but what is placed, which must have room. @param machineAt the id of a machine that the file names there */
export function partsFrom(
  raw: RawTactic,
  machineAt: (name: string, ...at: readonly string[]) => string | null,
): Omit<Tactic, "id" | "prefill"> {
  const { hold, stagger, boost, metered, "low-level": level, "far-end-first": farEnd, "second-feed": second } = raw;
  return {
    hold: hold ? readHold(hold) : null,
    stagger: stagger ? { first: stagger.first, everyMin: stagger.every } : null,
    boost: boost ? { factor: boost.to, forMin: boost.for } : null,
    lowLevel: level
      ? { level: level.at, among: level.of ?? ALL, forMin: level.for === "good" ? null : (level.for ?? null) }
      : null,
    metered: metered ? { factor: metered.at } : null,
    farEndFirst: farEnd ? { until: farEnd.until === "tail-full" ? farEnd.until : { afterMin: farEnd.until } } : null,
    secondFeed: second
      ? {
          share: second.share,
          at: second.at === undefined ? null : machineAt(second.at, "second-feed", "at"),
          forMin: second.for,
        }
      : null,
  };
}

function readHold({ until, release, every }: z.output<typeof holdShape>): Hold {
  return {
    until: until === "own-full" || until === "all-full" ? until : { afterMin: until },
    release: release ?? "together",
    everyMin: every ?? ZERO,
  };
}

/** A tactic as the body of its entry in a scenario file. */
export function tacticBody(tactic: Tactic): Readonly<Record<string, unknown>> {
  return Object.assign({}, ...ofParts(tactic, KEYS));
}

/** The same as plain data: amounts by machine stand in a map there, for documents that keep its order. */
export function tacticEntry(tactic: Tactic): Readonly<Record<string, unknown>> {
  const asPlain = ([key, value]: [string, unknown]) => [key, value instanceof Map ? Object.fromEntries(value) : value];
  return Object.fromEntries(Object.entries(tacticBody(tactic)).map(asPlain));
}

/** For what goes by what is stated, whatever its name. */
export function statedText(tactic: Tactic): string {
  return JSON.stringify(tacticEntry(tactic));
}

const KEYS: OfEachPart<[], Readonly<Record<string, unknown>>> = {
  prefill: prefillKeys,
  hold: (hold) => ({ hold: holdBody(hold) }),
  stagger: ({ first, everyMin }) => ({ stagger: { first, every: formatDuration(everyMin) } }),
  boost: ({ factor, forMin }) => ({ boost: { to: formatPercentage(factor), for: formatDuration(forMin) } }),
  lowLevel: ({ level, among, forMin }) => ({
    "low-level": { at: level, of: amongBody(among), for: forMin === null ? "good" : formatDuration(forMin) },
  }),
  metered: ({ factor }) => ({ metered: { at: formatPercentage(factor) } }),
  farEndFirst: ({ until }) => ({ "far-end-first": { until: untilText(until) } }),
  secondFeed: ({ share, at, forMin }) => ({
    "second-feed": { share: formatPercentage(share), ...(at !== null && { at }), for: formatDuration(forMin) },
  }),
};

function prefillKeys({ amounts, belts, byHandPerMin, while: during }: Prefill) {
  return {
    ...("among" in amounts
      ? { prefill: amountBody(amounts.amount), "prefill-of": amongBody(amounts.among) }
      : { prefill: new Map(amounts.byMachine.map(({ machine, amount }) => [machine, amountBody(amount)])) }),
    "prefill-belts": belts ? "full" : "none",
    ...(byHandPerMin !== null && { "by-hand": formatRate(byHandPerMin) }),
    while: during,
  };
}

function holdBody({ until, release, everyMin }: Hold) {
  return {
    until: untilText(until),
    release,
    ...((release !== "together" || everyMin.n > 0n) && { every: formatDuration(everyMin) }),
  };
}

function amountBody(amount: Amount): number | "full" {
  return amount ?? "full";
}

function amongBody(among: Among): string {
  return among.which === "all" ? among.which : `${among.which} ${among.count}`;
}

function untilText(until: string | { readonly afterMin: Hold["everyMin"] }): string {
  return typeof until === "string" ? until : formatDuration(until.afterMin);
}
