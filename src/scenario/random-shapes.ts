/** The structure of the file's `random`: which elements chance plays with, and by which distributions. */
import { z } from "zod";
import { ONE } from "../quantity/rational.ts";
import { LARGEST_SHAPE, LEAST_SHAPE, MAX_STAGES } from "./limits.ts";
import { count, keys, named, quantity, words } from "./shape-parts.ts";

type Measure = "duration" | "percentage";

/** What findings call the place of a distribution. */
const PLACES = { duration: "times", percentage: "shares" } as const;

const EXAMPLES: Readonly<Record<Measure, unknown[]>> = {
  duration: ["4 min", { exponential: "45 min" }, { triangular: ["5 s", "10 s", "30 s"] }],
  percentage: [{ exponential: "100 %" }, { lognormal: "100 %", spread: "10 %" }, { uniform: ["80 %", "120 %"] }],
};

function familiesOf(measure: Measure) {
  const value = (what: string) => quantity(measure, what).optional();
  const values = (length: number, what: string) =>
    z
      .array(quantity(measure, "A value.", { zero: true }), { error: "list" })
      .optional()
      .meta({ description: what, minItems: length, maxItems: length });
  const shape = z
    .number({ error: "shape" })
    .min(LEAST_SHAPE, { error: "shape" })
    .max(LARGEST_SHAPE, { error: "shape" })
    .meta({ description: "Shape of a Weibull distribution: below 1 early failures, 1 exponential, above 1 wear." });
  return keys(
    {
      fixed: value("Always so much."),
      exponential: value("Mean; without memory."),
      geometric: value("Mean; whole steps, with the same chance to end after each."),
      step: value("Of a geometric distribution: its least value, and from one value to the next."),
      uniform: values(2, "Least and most; all between them alike."),
      triangular: values(3, "Least, most frequent and most."),
      weibull: value("Mean; goes with shape."),
      shape: shape.optional(),
      lognormal: value("Mean; goes with spread."),
      spread: value("Standard deviation of a lognormal distribution."),
      erlang: value("Mean; goes with stages."),
      stages: count(MAX_STAGES, "Exponential stages one after another that make up an Erlang distribution.").optional(),
    },
    PLACES[measure],
  ).meta({ id: `distribution-of-${PLACES[measure]}` });
}

const FAMILIES = { duration: familiesOf("duration"), percentage: familiesOf("percentage") } as const;

function distribution(measure: Measure, about: string) {
  return z
    .union([quantity(measure, "Always so much."), FAMILIES[measure]], { error: PLACES[measure] })
    .meta({ description: about, examples: EXAMPLES[measure] });
}

const times = (about: string) => distribution("duration", about);
const shares = (about: string) => distribution("percentage", about);

const machineRandomShape = keys({
  breakdowns: keys({
    between: times("From the end of a repair, or from the start, to the next breakdown."),
    counted: words(
      ["running", "clock"],
      "Whether that time passes only while the machine runs, or always; running if not stated.",
      "running",
    ).optional(),
    repair: times("How long a repair takes."),
  })
    .optional()
    .meta({ description: "The machine breaks down and is repaired." }),
  "micro-stops": keys({
    chance: quantity("percentage", "Of a stop at the start of each cycle.", { largest: ONE }),
    lasting: times("How long a stop lasts."),
  })
    .optional()
    .meta({ description: "Short stops between cycles." }),
  cycle: shares("How cycles spread: a share of the machine's cycle for each, 100 % in the mean.").optional(),
}).meta({ description: "What chance does to these machines." });

const jitterAbout = "How much later than scheduled each comes, which never adds up";

const batchRandomShape = keys({
  every: shares(
    "From one vehicle to the next, as a share of the batch's every, 100 % in the mean; drawn anew for each.",
  ).optional(),
  jitter: times(`${jitterAbout}; in place of every.`).optional(),
  items: shares("What a vehicle brings, as a share of the batch's items, 100 % in the mean.").optional(),
});

const feedRandomShape = keys({
  interval: shares(
    "From one item to the next, as a share of the rate's interval, 100 % in the mean; drawn anew for each.",
  ).optional(),
  jitter: times(`${jitterAbout}; in place of interval.`).optional(),
  outages: keys({
    between: times("How long it feeds from the end of an outage, or from the start, to the next."),
    lasting: times("How long an outage lasts."),
  })
    .optional()
    .meta({ description: "Times at which nothing is fed." }),
  batch: batchRandomShape.optional().meta({ description: "What chance does to the vehicles of a feed with batch." }),
}).meta({ description: "What chance does to this feed." });

export const randomShape = keys({
  machines: named(
    machineRandomShape,
    "By machine or group of machines; a machine's own entry takes the place of its group's.",
  ).optional(),
  feeds: named(feedRandomShape, "By feed.").optional(),
}).meta({ description: "What is left to chance; nothing if not stated." });

export type RawRandom = z.output<typeof randomShape>;
export type RawMachineRandom = z.output<typeof machineRandomShape>;
export type RawFeedRandom = z.output<typeof feedRandomShape>;
export type RawDistribution = NonNullable<RawMachineRandom["cycle"]>;
