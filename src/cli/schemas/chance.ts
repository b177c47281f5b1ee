/** Shapes of what a result says where something is left to chance. */
import type { Chance, RampUpEnds, ReplicatedFigure, Replications, StopCount, StoppedRun } from "../../index.ts";
import {
  AMOUNT,
  COUNT,
  count,
  type Fields,
  FLAG,
  INTERVAL,
  list,
  maybe,
  NUMBER,
  named,
  number,
  object,
  orNull,
  POSITIVE,
  type Shape,
  TEXT,
  words,
} from "./shapes.ts";

const REPLICATED: Shape<ReplicatedFigure> = named(
  "replicated",
  object({
    mean: NUMBER,
    ci95: orNull(INTERVAL),
    p5: NUMBER,
    p95: NUMBER,
    n: count(1),
    no_ci95: maybe(words("one replication", "too few stops", "no variation")),
  }),
);

const RAMP_UP_END: Shape<RampUpEnds> = named(
  "rampUpEnd",
  object({
    mser5_min: orNull(AMOUNT),
    mser5_why: orNull(words("too few values", "beyond half")),
    welch_min: orNull(AMOUNT),
    welch_why: orNull(words("one run", "too few points", "still moving", "too rough")),
    welch_window_min: orNull(AMOUNT),
    drifts: FLAG,
  }),
);

const STOP = { what: words("breakdowns", "micro-stops", "outages"), of: TEXT } as const;

const STOP_COUNT: Shape<StopCount> = named(
  "stopCount",
  object({ ...STOP, seen: COUNT, enough: FLAG, replications_needed: orNull(count(1)) }),
);

const STOPPED: Fields<StoppedRun> = {
  since_min: AMOUNT,
  stands: list(object({ belt: TEXT, item: TEXT }), { maxItems: 3 }),
};

export const CHANCE: Shape<Chance> = object({
  ramp_up_end: RAMP_UP_END,
  settled_output_per_min: object({
    mean: AMOUNT,
    ci95: orNull(INTERVAL),
    why: orNull(
      words("still ramping up", "too few stops", "too few values", "batches still correlated", "no variation"),
    ),
    batches: orNull(count(20)),
    batch_min: orNull(POSITIVE),
  }),
  counted_from_min: AMOUNT,
  stops: list(STOP_COUNT),
  run_at_least_min: orNull(POSITIVE),
  stopped: orNull(object(STOPPED)),
  gates: list(object({ feed: TEXT, mean: AMOUNT, most: COUNT, at_end: COUNT })),
});

export const REPLICATIONS: Shape<Replications> = object({
  n: count(2),
  seed: TEXT,
  until: orNull(
    object({
      figure: TEXT,
      share: number({ exclusiveMinimum: 0, exclusiveMaximum: 1 }),
      reached: FLAG,
      half_width: orNull(AMOUNT),
      about: orNull(count(2)),
      coverage_percent: number({ minimum: 50, maximum: 100 }),
    }),
  ),
  ramp_up_end: RAMP_UP_END,
  counted_from_min: orNull(AMOUNT),
  settled_output_per_min: orNull(REPLICATED),
  tolerance: POSITIVE,
  ramp_up_loss: orNull(REPLICATED),
  hold_up_settled: orNull(REPLICATED),
  made: REPLICATED,
  machines: list(object({ id: TEXT, uptime: orNull(REPLICATED) })),
  median: object({ replication: count(1), seed: TEXT }),
  asked: orNull(count(2)),
  stops: list(STOP_COUNT),
  run_at_least_min: orNull(POSITIVE),
  tick_takes_at_most: AMOUNT,
  without_rare: orNull(object({ stops: list(object(STOP), { minItems: 1 }), settled_output_per_min: REPLICATED })),
  to_95_min: orNull(AMOUNT),
  ramp_up_loss_min: orNull(NUMBER),
  loss_counted_to_min: orNull(AMOUNT),
  hold_up_ramp_up_end: RAMP_UP_END,
  hold_up_counted_from_min: orNull(AMOUNT),
  stopped: list(object({ replication: count(1), ...STOPPED })),
});
