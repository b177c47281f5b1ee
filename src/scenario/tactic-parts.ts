/** The parts of a tactic: what each is, its keys in the scenario file, and how it is read and written. */
import * as z from "zod/mini";
import { ONE, type Rational, ZERO } from "../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../quantity/units.ts";
import { MAX_BUFFER_ITEMS } from "./file-limits.ts";
import { FASTER } from "./means.ts";
import { count, keys, name, quantity, withMeta, words } from "./shape-parts.ts";
import { type Prefill, prefillKeys, prefillShapes } from "./tactic-prefill.ts";
import { ALL, type Among, among, amongBody, type Key, untilText, wordsOrDuration } from "./tactic-shapes.ts";

/** What says when machines start: a tactic has one of these. */
interface StartParts {
  readonly hold: Hold;
  readonly stagger: Stagger;
}

/** What a tactic may have; any of them may be combined with any other. */
export interface TacticParts extends StartParts {
  readonly prefill: Prefill;
  readonly boost: Boost;
  readonly lowLevel: LowLevel;
  readonly metered: Metered;
  readonly farEndFirst: FarEndFirst;
  readonly secondFeed: SecondFeed;
}

/** Machines held off from the start on. */
export interface Hold {
  /** Each until its own buffers are full, all until all are full, or all for a time. */
  readonly until: "own-full" | "all-full" | { readonly afterMin: Rational };
  readonly release: "together" | "head-first" | "tail-first";
  /** Between one release and the next, where they are not together. */
  readonly everyMin: Rational;
}

/** Machines started one after another from the start on. */
export interface Stagger {
  readonly first: "head" | "tail";
  readonly everyMin: Rational;
}

/** The feeds run faster at first. */
export interface Boost {
  /** As a multiple of their own rate, 6/5 for 120 %. */
  readonly factor: Rational;
  readonly forMin: Rational;
}

/** Infeed buffers take items up to a lower level. */
export interface LowLevel {
  readonly level: number;
  readonly among: Among;
  /** `null` is for good. */
  readonly forMin: Rational | null;
}

/** Each branch carries only a little more than its machine needs. */
export interface Metered {
  /** As a multiple of the need, 21/20 for 105 %. */
  readonly factor: Rational;
}

/** Dividers let the through belt have all it can take before the branch, and are even afterwards. */
export interface FarEndFirst {
  /** Until the last machine's buffers are full, or for a time. */
  readonly until: "tail-full" | { readonly afterMin: Rational };
}

/** A share of the feed enters further down at first. */
export interface SecondFeed {
  readonly share: Rational;
  /** The machine whose inlet it joins; `null` for the last. */
  readonly at: string | null;
  readonly forMin: Rational;
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

/** Keys that are spelled as the parts are. */
const startShapes = {
  hold: z.optional(holdShape),
  stagger: z.optional(staggerShape),
} satisfies Readonly<Record<keyof StartParts, unknown>>;

/** @param part or its key */
export function saysStart(part: string): boolean {
  return Object.hasOwn(startShapes, part);
}

/** @internal */
export const tacticShape = withMeta(
  keys({
    ...prefillShapes,
    ...startShapes,
    boost: z.optional(boostShape),
    "low-level": z.optional(lowLevelShape),
    metered: z.optional(meteredShape),
    "far-end-first": z.optional(farEndFirstShape),
    "second-feed": z.optional(secondFeedShape),
  } satisfies Readonly<Record<Key<keyof TacticParts>, unknown> & Record<string, unknown>>),
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

/** @internal */
export type RawTactic = z.output<typeof tacticShape>;

/** All but what is placed, which must have room. @param machineAt the id of a machine that the file names there @internal */
export function partsFrom(
  raw: RawTactic,
  machineAt: (name: string, ...at: readonly string[]) => string | null,
): { readonly [Part in Exclude<keyof TacticParts, "prefill">]: TacticParts[Part] | null } {
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

/** As the file has each, by key. */
export const KEYS: {
  readonly [Part in keyof TacticParts]: (part: TacticParts[Part]) => Readonly<Record<string, unknown>>;
} = {
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

function holdBody({ until, release, everyMin }: Hold) {
  return {
    until: untilText(until),
    release,
    ...((release !== "together" || everyMin.n > 0n) && { every: formatDuration(everyMin) }),
  };
}
