/** What `best --json` prints. */
import type { Arrangement, BestTold, KnownStart, PlacedAt, StartMoney, TacticEntry } from "../../index.ts";
import { LOSS_MONEY, SUM } from "./money.ts";
import {
  ANY_TEXT,
  anything,
  COUNT,
  count,
  described,
  documentOf,
  FLAG,
  list,
  maybe,
  NUMBER,
  named,
  object,
  orNull,
  type Shape,
  TEXT,
  words,
} from "./shapes.ts";

const PLACED: Shape<PlacedAt> = object({ machine: TEXT, items: count(1) });

const ARRANGEMENT: Shape<Arrangement> = named(
  "arrangement",
  object({
    placed: list(PLACED),
    items: COUNT,
    settling_min: orNull(NUMBER),
    to_95_min: orNull(NUMBER),
    ramp_up_loss: orNull(NUMBER),
  }),
);

const MONEY: Shape<StartMoney> = described(
  "Only where the file says what a product is worth.",
  object({
    ...LOSS_MONEY,
    hands_per_start: described("null where hands work and the file does not say what they cost.", SUM),
    saved_per_start: described(
      "Beside nothing done, after its hands; below 0 it costs more than it saves; null also of what is slower for good.",
      SUM,
    ),
    saved_per_year: described("The same for all starts of a year.", SUM),
  }),
);

const LOSES = { ramp_up_loss: orNull(NUMBER), to_95_min: orNull(NUMBER) } as const;

const START: Shape<BestTold["starts"][number]> = named(
  "start",
  object({
    id: TEXT,
    does: TEXT,
    tactic: anything<TacticEntry>(),
    ...LOSES,
    settling_min: orNull(NUMBER),
    items_handled: COUNT,
    money: maybe(MONEY),
    hold_up_peak: COUNT,
    over_limit_min: orNull(NUMBER),
    reserve_kept: orNull(NUMBER),
    bridges_less_min: NUMBER,
    asks_for: list(TEXT),
    placed: list(PLACED),
    reaches_goals: FLAG,
    one_less: orNull(object({ what: TEXT, ...LOSES })),
  }),
);

const KNOWN: Shape<KnownStart> = object({ id: TEXT, ...LOSES, items_handled: COUNT });

export const BEST = documentOf<BestTold>("best", "The best starts of a line", {
  title: TEXT,
  seed: ANY_TEXT,
  tick_s: TEXT,
  horizon_min: NUMBER,
  settled_per_min: orNull(NUMBER),
  priority: words("loss", "time", "handling", "hold-up", "money"),
  goals: object({ within_min: orNull(NUMBER), loss_below: orNull(NUMBER), handled_below: orNull(NUMBER) }),
  goals_reached: orNull(FLAG),
  recommended: orNull(TEXT),
  starts: list(START, { minItems: 1 }),
  left_out: COUNT,
  best_known: orNull(KNOWN),
  search: object({
    tried: COUNT,
    is_complete: FLAG,
    recommended_is_proved: FLAG,
    open_starts: COUNT,
    item_by_item: orNull(FLAG),
    was_stopped: FLAG,
  }),
  placements: orNull(
    list(
      object({
        buffers: count(1),
        best: ARRANGEMENT,
        head: orNull(ARRANGEMENT),
        tail: orNull(ARRANGEMENT),
        even: orNull(ARRANGEMENT),
        is_complete: FLAG,
        is_proved: FLAG,
      }),
    ),
  ),
  card: list(object({ when: TEXT, what: TEXT })),
  under_chance: maybe(
    object({
      n: count(2),
      best_without: orNull(TEXT),
      is_told: FLAG,
      starts: list(object({ id: TEXT, ...LOSES, makes_less: FLAG })),
    }),
  ),
});
