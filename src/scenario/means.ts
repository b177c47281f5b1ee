/**
 * What the floor grants for priming: a tactic that asks for more is compared and named, and does not win. Its structure in
 * the file, and how each means is read and written.
 */
import * as z from "zod/mini";
import { ONE, type Rational } from "../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import type { Path } from "./file-finding.ts";
import { MAX_HOLD_UP_ITEMS } from "./file-limits.ts";
import { type Reading, requireEntries } from "./reading.ts";
import { count, keys, name, quantity, withMeta, words } from "./shape-parts.ts";

export interface Means {
  /** `null`: none go into the line. */
  readonly hands: HandsGranted | null;
  /** The levels up to which infeed buffers fill can be moved. */
  readonly levels: boolean;
  /** Branches run at any speed below their own. */
  readonly branches: boolean;
  readonly starts: { readonly held: boolean; readonly staggered: boolean };
  /** How much faster the feeds can run, and for how long; `null`: no faster. */
  readonly feed: { readonly factor: Rational; readonly forMin: Rational } | null;
  /** The machine at which part of the feed can join the line; `null`: none. */
  readonly secondFeed: string | null;
  /** Dividers can be told which outlet goes first. */
  readonly dividers: boolean;
}

export interface HandsGranted {
  /** The most that they place. */
  readonly items: number;
  readonly ratePerMin: Rational;
  readonly while: (typeof WHILE)[number];
}

/** Where the file states none. */
export const PLAIN_MEANS: Means = {
  hands: null,
  levels: false,
  branches: false,
  starts: { held: true, staggered: true },
  feed: null,
  secondFeed: null,
  dividers: false,
};

export const WHILE = ["before", "stopped", "running"] as const;

export const FASTER = {
  range: { holds: (value: typeof ONE) => value.compare(ONE) > 0, says: "more than 100 %" },
  examples: ["120 %"],
};

const handsShape = withMeta(
  keys({
    items: count(MAX_HOLD_UP_ITEMS, "The most that hands place, items."),
    rate: quantity("rate", "How fast they place them."),
    while: z.optional(
      words(
        WHILE,
        "Before the shift, with the start waiting for them, or beside the running line; stopped, that the start waits, if not stated.",
      ),
    ),
  }),
  { description: "Hands that place items in infeed buffers; none if not stated." },
);

/** @internal */
export const meansShape = withMeta(
  keys({
    hands: z.optional(handsShape),
    levels: z.optional(
      words(
        ["movable", "fixed"],
        "Whether the levels can be moved up to which infeed buffers fill; fixed if not stated.",
      ),
    ),
    branches: z.optional(
      words(["variable", "fixed"], "Whether branches run at any speed below their own; fixed if not stated."),
    ),
    start: z.optional(
      words(
        ["held", "staggered", "either", "together"],
        "Machines held off at the start, started one after another, either of them, or all together only; either if not stated.",
      ),
    ),
    feed: z.optional(
      withMeta(
        keys({
          to: quantity("percentage", "Of the feeds' own rate.", FASTER),
          for: quantity("duration", "How long, from the start on."),
        }),
        { description: "How much faster the feeds can run at first; no faster if not stated." },
      ),
    ),
    "second-feed": z.optional(
      withMeta(keys({ at: name("The machine whose inlet it joins.") }), {
        description: "Where part of the feed can enter further down; nowhere if not stated.",
      }),
    ),
    dividers: z.optional(
      words(["switched", "fixed"], "Whether dividers can be told which outlet goes first; fixed if not stated."),
    ),
  }),
  {
    description:
      "What the floor grants for priming; what is not stated is not granted, but for a start held or staggered.",
    minProperties: 1,
  },
);

/**
 * @param means as the file states them
 * @param machineAt the id of a machine that the file names there
 * @internal
 */
export function readMeans(
  means: z.output<typeof meansShape> | undefined,
  reading: Reading,
  machineAt: (name: string, path: Path) => string | null,
): Means {
  if (means === undefined) return PLAIN_MEANS;
  const path = ["means"];
  requireEntries(reading, path, "means");
  const { hands, feed, start = "either" } = means;
  const second = means["second-feed"];
  return {
    hands: hands ? { items: hands.items, ratePerMin: hands.rate, while: hands.while ?? "stopped" } : null,
    levels: means.levels === "movable",
    branches: means.branches === "variable",
    starts: {
      held: start === "held" || start === "either",
      staggered: start === "staggered" || start === "either",
    },
    feed: feed ? { factor: feed.to, forMin: feed.for } : null,
    secondFeed: second ? machineAt(second.at, [...path, "second-feed", "at"]) : null,
    dividers: means.dividers === "switched",
  };
}

export function meansKey(means: Means) {
  const { hands, levels, branches, feed, secondFeed, dividers } = means;
  const keys: Readonly<Record<keyof Means, object | null | false>> = {
    hands: hands && { hands: { items: hands.items, rate: formatRate(hands.ratePerMin), while: hands.while } },
    levels: levels && { levels: "movable" },
    branches: branches && { branches: "variable" },
    starts: startWord(means) !== startWord(PLAIN_MEANS) && { start: startWord(means) },
    feed: feed && { feed: { to: formatPercentage(feed.factor), for: formatDuration(feed.forMin) } },
    secondFeed: secondFeed !== null && { "second-feed": { at: secondFeed } },
    dividers: dividers && { dividers: "switched" },
  };
  const stated: object = Object.assign({}, ...Object.values(keys));
  return Object.keys(stated).length === 0 ? {} : { means: stated };
}

function startWord({ starts: { held, staggered } }: Means): string {
  if (held) return staggered ? "either" : "held";
  return staggered ? "staggered" : "together";
}
