/** What `run --json` prints. */
import type {
  BeltResult,
  FeedResult,
  FlowResult,
  FragileShare,
  HangsOnTick,
  InfeedResult,
  LineResult,
  LossMoney,
  MachineResult,
  Output,
  PlantSettling,
  Result,
  SensitivityEffect,
  Settling,
} from "../../index.ts";
import { CHANCE, REPLICATIONS } from "./chance.ts";
import { LOSS_MONEY } from "./money.ts";
import { BATCH, BOTTLENECK, CUT, JAM, LIMIT, LIMIT_RESULT, MIX, OUTLET, PLACE, SETTLED, WAIT } from "./plant.ts";
import {
  AMOUNT,
  ANY_TEXT,
  byItem,
  COUNT,
  count,
  described,
  documentOf,
  EXACT,
  either,
  type Fields,
  FLAG,
  having,
  INTERVAL,
  list,
  maybe,
  NAME,
  NUMBER,
  named,
  number,
  object,
  orNull,
  POSITIVE,
  type Schema,
  SHARE,
  type Shape,
  SIGNED,
  TEXT,
  when,
  words,
} from "./shapes.ts";

const SETTLING: Fields<Settling> = {
  time_min: orNull(AMOUNT),
  tolerance: number({ exclusiveMinimum: 0, exclusiveMaximum: 1 }),
  within_tolerance_min: orNull(AMOUNT),
  to_50_min: orNull(AMOUNT),
  to_90_min: orNull(AMOUNT),
  to_95_min: orNull(AMOUNT),
  to_99_min: orNull(AMOUNT),
  first_product_min: orNull(AMOUNT),
  counted_from_min: AMOUNT,
  pattern_from_min: orNull(AMOUNT),
};

const OWN_SETTLING: Shape<Settling> = named("settling", object(SETTLING));

const PLANT_SETTLING: Shape<PlantSettling> = object({
  proved: FLAG,
  basis: words("recurrence", "flow", "measured"),
  ...SETTLING,
  flow_time_min: orNull(EXACT),
  period_min: orNull(POSITIVE),
  still_changing: list(object({ buffer: NAME, rate_per_min: SIGNED, done_at_min: orNull(AMOUNT) })),
  full_share: number({ exclusiveMinimum: 0, maximum: 1 }),
  stretches: list(
    object({
      from_min: AMOUNT,
      until_min: POSITIVE,
      ...SETTLED,
      to_95_min: orNull(AMOUNT),
      time_min: orNull(AMOUNT),
      made: AMOUNT,
      ramp_up_loss: orNull(NUMBER),
    }),
  ),
});

const MONEY: Shape<LossMoney> = described(
  "Only where the file says what a product is worth; with replications of their mean loss.",
  object(LOSS_MONEY),
);

/** A rate is exact, or else measured. */
const MEASURED_ELSE = when(
  { required: ["settled_per_min"], ...having({ settled_per_min: { type: "null" } }) },
  { required: ["measured_per_min"] },
  { not: { required: ["measured_per_min"] } },
);

const OUTPUT: Fields<Output> = {
  full_per_min: EXACT,
  ...SETTLED,
  made: COUNT,
  ramp_up_loss: orNull(NUMBER),
  ramp_up_loss_min: orNull(NUMBER),
};

const LINE: Shape<LineResult> = object({
  id: NAME,
  machines: list(NAME, { minItems: 1 }),
  settling: OWN_SETTLING,
  output: object(OUTPUT, MEASURED_ELSE),
  items: list(object({ item: NAME, needs_per_min: EXACT, ...SETTLED })),
});

const INFEED: Shape<InfeedResult> = object({
  item: NAME,
  capacity: count(1),
  full_at_min: orNull(AMOUNT),
  settled_low: orNull(COUNT),
  settled_high: orNull(COUNT),
  needs_per_min: EXACT,
  ...SETTLED,
});

const RATES = { full_per_min: EXACT, ...SETTLED } as const;

const MACHINE: Shape<MachineResult> = object(
  {
    id: NAME,
    line: orNull(ANY_TEXT),
    needs_per_min: EXACT,
    ...SETTLED,
    first_item_min: orNull(AMOUNT),
    full_rate_from_min: orNull(AMOUNT),
    settling: OWN_SETTLING,
    ramp_up_loss: orNull(NUMBER),
    infeed: list(INFEED),
    uptime: object({ ramp_up: orNull(SHARE), settled: orNull(SHARE), horizon: SHARE }),
    minutes: object({ running: AMOUNT, starved: AMOUNT, blocked: AMOUNT, down: AMOUNT, held: AMOUNT }),
    waits: list(WAIT),
    made: COUNT,
    lines: list(ANY_TEXT),
    cycles: object(RATES),
    products: list(object({ item: NAME, ...RATES }), { minItems: 1 }),
    speed: maybe(EXACT),
  },
  MEASURED_ELSE,
);

const BELT: Shape<BeltResult> = object(
  {
    id: NAME,
    from: NAME,
    to: NAME,
    rate_per_min: EXACT,
    at_most_per_min: maybe(EXACT),
    ...SETTLED,
    headroom_per_min: orNull(EXACT),
  },
  MEASURED_ELSE,
);

const FEED: Shape<FeedResult> = object(
  {
    id: NAME,
    items: list(object({ item: NAME, share: EXACT }), { minItems: 1 }),
    rate_per_min: EXACT,
    ...SETTLED,
    fed: COUNT,
  },
  MEASURED_ELSE,
);

const FLOW: Shape<FlowResult> = object({
  settled_per_min: EXACT,
  settling_min: orNull(EXACT),
  ramp_up_loss: orNull(SIGNED),
  events: list(object({ at_min: EXACT, what: words("full", "empty", "feed"), where: NAME }), { maxItems: 2000 }),
});

const EFFECT: Shape<SensitivityEffect> = object({
  settled_per_min: orNull(AMOUNT),
  to_95_min: orNull(AMOUNT),
  ramp_up_loss: orNull(NUMBER),
  made: COUNT,
});

const FRAGILE: Shape<FragileShare> = object({
  machine: NAME,
  hangs_on: words("order", "room", "tick"),
  settled_per_min: EXACT,
  turned_per_min: either(EXACT, NUMBER),
});

const HANGS_ON_TICK: Shape<HangsOnTick> = object({
  ticks_s: list(EXACT),
  hold_up_settled: INTERVAL,
  dwell_mean_min: orNull(INTERVAL),
  limits: list(object(LIMIT)),
});

const settled = (type: "null" | "string"): Schema => having({ settled_per_min: { type } });
const parts = (type: "null" | "string"): Schema => {
  const each = { items: settled(type) };
  return having({ lines: { items: having({ output: settled(type) }) }, machines: each, belts: each, feeds: each });
};
const basisIs = (basis: string): Schema => settling({ basis: { const: basis } });
const settling = (figures: Schema): Schema => having({ settling: having(figures) });

const RULES: Schema = {
  allOf: [
    when(
      having({ flow: { type: "null" } }),
      having({ no_flow: { type: "string" } }),
      having({ no_flow: { type: "null" } }),
    ),
    when(
      basisIs("recurrence"),
      settling({ proved: { const: true }, period_min: { type: "number" }, still_changing: { maxItems: 0 } }),
      settling({ proved: { const: false }, period_min: { type: "null" } }),
    ),
    when(
      basisIs("measured"),
      { allOf: [having({ output: settled("null") }), parts("null")] },
      {
        ...having({ output: settled("string") }),
        ...when({ not: { required: ["hangs_on_tick"] } }, parts("string"), {}),
      },
    ),
  ],
};

export const RUN = documentOf<Result>(
  "run",
  "Result of a run",
  {
    title: TEXT,
    tick_s: EXACT,
    horizon_min: POSITIVE,
    seed: TEXT,
    chance: maybe(CHANCE),
    replications: maybe(REPLICATIONS),
    settling: PLANT_SETTLING,
    money: maybe(MONEY),
    output: object(
      { ...OUTPUT, made_by_item: byItem(COUNT), settled_by_item_per_min: orNull(byItem(EXACT)) },
      MEASURED_ELSE,
    ),
    lines: list(LINE),
    machines: list(MACHINE),
    belts: list(BELT),
    hold_up: object({
      peak: COUNT,
      peak_at_min: AMOUNT,
      settled: AMOUNT,
      by_item: byItem(AMOUNT),
      by_place: list(PLACE),
      over_limit_min: AMOUNT,
      settled_low: AMOUNT,
      settled_high: AMOUNT,
    }),
    dwell: object({
      mean_min: orNull(AMOUNT),
      longest_min: orNull(AMOUNT),
      by_item_min: byItem(AMOUNT),
      over_limit_items: COUNT,
    }),
    feeds: list(FEED, { minItems: 1 }),
    outlets: list(OUTLET),
    bottlenecks: orNull(list(BOTTLENECK)),
    jams: orNull(list(JAM)),
    mixes: list(MIX),
    cuts: list(CUT),
    batches: list(BATCH),
    limits: list(LIMIT_RESULT),
    flow: orNull(FLOW),
    no_flow: orNull(TEXT),
    sensitivity: maybe(
      list(
        object({
          figure: words("feed", "cycle", "room", "belts"),
          id: TEXT,
          less: orNull(EFFECT),
          more: orNull(EFFECT),
        }),
      ),
    ),
    fragile_shares: maybe(list(FRAGILE, { minItems: 1 })),
    hangs_on_tick: maybe(HANGS_ON_TICK),
    warnings: list(TEXT),
  },
  RULES,
);
