/** The structure of the file's `random`: which elements chance plays with, and by which distributions. */
import * as z from "zod/mini";
import { ONE } from "../quantity/rational.ts";
import { shares, times } from "./distribution-form.ts";
import { keys, named, quantity, withMeta, words } from "./shape-parts.ts";

const machineRandomShape = withMeta(
  keys({
    breakdowns: withMeta(
      z.optional(
        keys({
          between: times("From the end of a repair, or from the start, to the next breakdown."),
          counted: z.optional(
            words(
              ["running", "clock"],
              "Whether that time passes only while the machine runs, or always; running if not stated.",
              "running",
            ),
          ),
          repair: times("How long a repair takes."),
        }),
      ),
      { description: "The machine breaks down and is repaired." },
    ),
    "micro-stops": withMeta(
      z.optional(
        keys({
          chance: quantity("percentage", "Of a stop at the start of each cycle.", { largest: ONE }),
          lasting: times("How long a stop lasts."),
        }),
      ),
      { description: "Short stops between cycles." },
    ),
    cycle: z.optional(shares("How cycles spread: a share of the machine's cycle for each, 100 % in the mean.")),
  }),
  { description: "What chance does to these machines." },
);

const jitterAbout = "How much later than scheduled each comes, which never adds up";

const batchRandomShape = keys({
  every: z.optional(
    shares("From one vehicle to the next, as a share of the batch's every, 100 % in the mean; drawn anew for each."),
  ),
  jitter: z.optional(times(`${jitterAbout}; in place of every.`)),
  items: z.optional(shares("What a vehicle brings, as a share of the batch's items, 100 % in the mean.")),
});

const feedRandomShape = withMeta(
  keys({
    interval: z.optional(
      shares("From one item to the next, as a share of the rate's interval, 100 % in the mean; drawn anew for each."),
    ),
    jitter: z.optional(times(`${jitterAbout}; in place of interval.`)),
    outages: withMeta(
      z.optional(
        keys({
          between: times("How long it feeds from the end of an outage, or from the start, to the next."),
          lasting: times("How long an outage lasts."),
        }),
      ),
      { description: "Times at which nothing is fed." },
    ),
    batch: withMeta(z.optional(batchRandomShape), {
      description: "What chance does to the vehicles of a feed with batch.",
    }),
  }),
  { description: "What chance does to this feed." },
);

export const randomShape = withMeta(
  keys({
    machines: z.optional(
      named(
        machineRandomShape,
        "By machine or group of machines; a machine's own entry takes the place of its group's.",
      ),
    ),
    feeds: z.optional(named(feedRandomShape, "By feed.")),
  }),
  { description: "What is left to chance; nothing if not stated." },
);

export type RawRandom = z.output<typeof randomShape>;
export type RawMachineRandom = z.output<typeof machineRandomShape>;
export type RawFeedRandom = z.output<typeof feedRandomShape>;
