/** Shapes of what a result says of a plant as a whole: waits, bottlenecks, jams, mixes, cuts, batches, limits, places. */
import type {
  BatchResult,
  Bottleneck,
  CauseCode,
  HoldUpPlace,
  Jam,
  LimitResult,
  Mix,
  OutletResult,
  RateCut,
  Wait,
} from "../../index.ts";
import {
  AMOUNT,
  COUNT,
  count,
  EXACT,
  FLAG,
  list,
  maybe,
  NAME,
  named,
  object,
  orNull,
  POSITIVE,
  SHARE,
  type Shape,
  words,
} from "./shapes.ts";

/** What is not known exactly is measured. */
export const SETTLED = { settled_per_min: orNull(EXACT), measured_per_min: maybe(AMOUNT) } as const;

const FEW = { maxItems: 20, uniqueItems: true } as const;

const CAUSE_CODE: Shape<CauseCode> = named(
  "causeCode",
  words(
    "short-feed",
    "slow-unloading",
    "taken-off",
    "belt",
    "slow-machine",
    "at-times",
    "mix",
    "jam",
    "outlet",
    "circular",
  ),
);

const BEGINS = { code: CAUSE_CODE, element: NAME, alike: list(NAME, FEW), item: NAME, outlet: maybe(NAME) } as const;

const STATE = words("starved", "blocked");

export const WAIT: Shape<Wait> = named(
  "wait",
  object({
    state: STATE,
    item: NAME,
    minutes: AMOUNT,
    settled_share: orNull(SHARE),
    cause: orNull(
      object({
        ...BEGINS,
        via: list(object({ machine: NAME, state: STATE, item: NAME }), { maxItems: 20 }),
        served_first: list(NAME, FEW),
        decided_by: maybe(list(NAME, { ...FEW, minItems: 1 })),
      }),
    ),
  }),
);

export const BOTTLENECK: Shape<Bottleneck> = object({
  ...BEGINS,
  machines: list(NAME, { minItems: 1, uniqueItems: true }),
  lost_per_min: POSITIVE,
  cure: maybe(
    object({
      change: words("full-speed", "half-more"),
      settled_per_min: EXACT,
      gain_per_min: EXACT,
      next: orNull(object(BEGINS)),
    }),
  ),
});

export const JAM: Shape<Jam> = object({
  line: NAME,
  item: NAME,
  belt: NAME,
  at: NAME,
  also: list(NAME, FEW),
  is_full: FLAG,
  since_min: orNull(AMOUNT),
  starved: list(object({ machine: NAME, item: NAME })),
  blocked: list(NAME),
  stops_plant: FLAG,
  dividers: list(object({ divider: NAME, takes_turns: FLAG }), { maxItems: 20 }),
});

export const MIX: Shape<Mix> = object({
  line: NAME,
  jams: orNull(FLAG),
  kinds: list(
    object({ item: NAME, offered_per_min: EXACT, takeable_per_min: orNull(EXACT), beside_per_min: orNull(EXACT) }),
    { minItems: 2 },
  ),
  nearest: orNull(NAME),
  margin: orNull(EXACT),
  rule: words("shares", "proportion", "dead-end", "outlet"),
});

export const CUT: Shape<RateCut> = object({
  divider: NAME,
  belt: NAME,
  cut_per_min: EXACT,
  arriving_per_min: orNull(EXACT),
  taken_per_min: orNull(EXACT),
  passed_on_per_min: orNull(EXACT),
  state: orNull(words("exact", "short", "uneven", "held-up")),
});

const HELD_UP = { held_up_min: AMOUNT, vehicles_wait_min: AMOUNT } as const;

const LEVELS = { settled_low: orNull(COUNT), settled_high: orNull(COUNT) } as const;

export const BATCH: Shape<BatchResult> = object({
  feed: NAME,
  vehicles: orNull(
    object({ every_min: EXACT, items: count(1), first_min: EXACT, unloading_per_min: EXACT, bring_per_min: EXACT }),
  ),
  surge: orNull(object({ room: count(1), peak: COUNT, ...LEVELS })),
  cycle: orNull(
    object({
      length_min: POSITIVE,
      fed: COUNT,
      ...HELD_UP,
      runs_through: FLAG,
      waits: list(object({ machine: NAME, item: NAME, min: POSITIVE })),
    }),
  ),
  needed_room: orNull(COUNT),
  brings_too_much: orNull(FLAG),
  ...HELD_UP,
});

/** Which limit it is. */
export const LIMIT = { what: words("hold-up", "dwell"), place: orNull(NAME), item: orNull(NAME) } as const;

export const LIMIT_RESULT: Shape<LimitResult> = object({
  ...LIMIT,
  limit: AMOUNT,
  peak: AMOUNT,
  peak_at_min: orNull(AMOUNT),
  over_min: orNull(AMOUNT),
  settled_over_share: orNull(SHARE),
  over_items: orNull(COUNT),
  lying_over: orNull(COUNT),
});

export const PLACE: Shape<HoldUpPlace> = object({
  place: NAME,
  part: words("belts", "infeed", "outfeed", "surge"),
  item: NAME,
  settled: AMOUNT,
  peak: COUNT,
});

export const OUTLET: Shape<OutletResult> = object({
  id: NAME,
  items: list(object({ item: NAME, ...SETTLED }), { minItems: 1 }),
  ...SETTLED,
  left: COUNT,
});
