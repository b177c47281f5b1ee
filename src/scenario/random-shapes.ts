/** The structure of the file's `random`: which elements chance plays with, and by which distributions. */
import * as z from "zod/mini";
import { ONE } from "../quantity/rational.ts";
import { LARGEST_SHAPE, LEAST_SHAPE, MAX_STAGES } from "./limits.ts";
import { count, keys, named, quantity, withMeta, words } from "./shape-parts.ts";

type Measure = "duration" | "percentage";

/** What findings call the place of a distribution. */
const PLACES = { duration: "times", percentage: "shares" } as const;

const EXAMPLES: Readonly<Record<Measure, unknown[]>> = {
  duration: ["4 min", { exponential: "45 min" }, { triangular: ["5 s", "10 s", "30 s"] }],
  percentage: [{ exponential: "100 %" }, { lognormal: "100 %", spread: "10 %" }, { uniform: ["80 %", "120 %"] }],
};

function familiesOf(measure: Measure) {
  const value = (what: string) => z.optional(quantity(measure, what));
  const values = (length: number, what: string) =>
    withMeta(z.optional(z.array(quantity(measure, "A value.", { zero: true }), { error: "list" })), {
      description: what,
      minItems: length,
      maxItems: length,
    });
  const shape = withMeta(
    z
      .number({ error: "shape" })
      .check(z.gte(LEAST_SHAPE, { error: "shape" }))
      .check(z.lte(LARGEST_SHAPE, { error: "shape" })),
    { description: "Shape of a Weibull distribution: below 1 early failures, 1 exponential, above 1 wear." },
  );
  return withMeta(
    keys(
      {
        fixed: value("Always so much."),
        exponential: value("Mean; without memory."),
        geometric: value("Mean; whole steps, with the same chance to end after each."),
        step: value("Of a geometric distribution: its least value, and from one value to the next."),
        uniform: values(2, "Least and most; all between them alike."),
        triangular: values(3, "Least, most frequent and most."),
        weibull: value("Mean; goes with shape."),
        shape: z.optional(shape),
        lognormal: value("Mean; goes with spread."),
        spread: value("Standard deviation of a lognormal distribution."),
        erlang: value("Mean; goes with stages."),
        stages: z.optional(
          count(MAX_STAGES, "Exponential stages one after another that make up an Erlang distribution."),
        ),
      },
      PLACES[measure],
    ),
    { id: `distribution-of-${PLACES[measure]}` },
  );
}

const FAMILIES = { duration: familiesOf("duration"), percentage: familiesOf("percentage") } as const;

function distribution(measure: Measure, about: string) {
  return withMeta(z.union([quantity(measure, "Always so much."), FAMILIES[measure]], { error: PLACES[measure] }), {
    description: about,
    examples: EXAMPLES[measure],
  });
}

const times = (about: string) => distribution("duration", about);
const shares = (about: string) => distribution("percentage", about);

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
export type RawDistribution = NonNullable<RawMachineRandom["cycle"]>;
