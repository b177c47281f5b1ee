/** The structure of what the floor grants, in the scenario file. */
import * as z from "zod/mini";
import { ONE } from "../quantity/rational.ts";
import { MAX_HOLD_UP_ITEMS } from "./file-limits.ts";
import { count, keys, name, quantity, withMeta, words } from "./shape-parts.ts";

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
