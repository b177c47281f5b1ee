/** What `layouts --json` prints. */
import type {
  BrokenLimit,
  ElementCounts,
  LayoutKind,
  LayoutMoney,
  LayoutsTold,
  OneMore,
  SameLuck,
} from "../../index.ts";
import { LOSS_MONEY, SUM } from "./money.ts";
import {
  AMOUNT,
  ANY_TEXT,
  anything,
  COUNT,
  count,
  described,
  documentOf,
  either,
  type Fields,
  FLAG,
  having,
  like,
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
  when,
  words,
} from "./shapes.ts";

const KIND: Shape<LayoutKind> = named("kind", words("chain", "tree", "loop", "tree-of-chains", "chain-of-trees"));

const ELEMENTS: Shape<ElementCounts> = named("elements", object({ dividers: COUNT, merges: COUNT, belts: COUNT }));

const GROWN: Fields<OneMore> = { layout: KIND, added: ELEMENTS, torn_out: ELEMENTS };

const BROKEN: Shape<BrokenLimit> = object({
  what: words("hold-up", "dwell"),
  place: orNull(TEXT),
  item: orNull(TEXT),
  limit: AMOUNT,
  peak: AMOUNT,
  over_min: orNull(AMOUNT),
  over_items: orNull(AMOUNT),
  of_min: AMOUNT,
});

const MONEY: Shape<LayoutMoney> = described(
  "Only where the file states costs.",
  object({
    ...LOSS_MONEY,
    build: described("New and whole: belts, dividers, merges and floor, as far as prices are stated.", SUM),
    change: described(
      "In place of today's, of which nothing is used again and the floor is there already; 0 for what stands.",
      SUM,
    ),
    saved_per_year: described(
      "Against today's, by the losses of starts alone; null also of what makes more or less for good.",
      SUM,
    ),
    paid_after_years: described("null where it saves nothing, or that is not known.", orNull(NUMBER)),
    years: count(1),
    over_years: described("What the change costs and the losses of so many years come to.", SUM),
  }),
);

/** Of what can be built, and of what cannot. */
const BUILT = when(
  having({ feasible: { const: false } }),
  having({
    reason: { type: "string" },
    settling_min: { type: "null" },
    undominated: { const: false },
    file: { type: "null" },
  }),
  having({
    dividers: { type: "integer" },
    merges: { type: "integer" },
    floor_m2: { type: "number" },
    headroom_per_min: { type: "number" },
    file: { type: ["string", "null"] },
  }),
);

const LAYOUT: Shape<LayoutsTold["layouts"][number]> = named(
  "layout",
  object(
    {
      id: like("^(?:today|(?:chain|tree|loop|tree-of-[1-9][0-9]*-chains|chain-of-trees-of-[1-9][0-9]*)(?:-if)?)$"),
      layout: KIND,
      does: TEXT,
      feasible: FLAG,
      reason: orNull(TEXT),
      settled_per_min: orNull(AMOUNT),
      proved: FLAG,
      settling_min: orNull(AMOUNT),
      to_95_min: orNull(AMOUNT),
      ramp_up_loss: orNull(NUMBER),
      hold_up_settled: orNull(AMOUNT),
      hold_up_peak: orNull(AMOUNT),
      dwell_mean_min: orNull(AMOUNT),
      dwell_longest_min: orNull(AMOUNT),
      over_limit_min: orNull(AMOUNT),
      over_limit_items: orNull(COUNT),
      reserve_kept: orNull(AMOUNT),
      bridges_less_min: AMOUNT,
      limits_broken: list(BROKEN),
      evenness_at_half_feed: orNull(number({ exclusiveMinimum: 0, maximum: 1 })),
      dividers: orNull(COUNT),
      merges: orNull(COUNT),
      belts: orNull(COUNT),
      belt_m: orNull(AMOUNT),
      floor_m2: orNull(AMOUNT),
      money: maybe(MONEY),
      crossings: orNull(COUNT),
      tightest_belt: orNull(TEXT),
      headroom_per_min: orNull(NUMBER),
      primed: orNull(
        object({
          tactic: TEXT,
          does: TEXT,
          settling_min: orNull(AMOUNT),
          ramp_up_loss: orNull(NUMBER),
          items_handled: COUNT,
          hold_up_peak: AMOUNT,
          by_hand: FLAG,
        }),
      ),
      one_more: orNull(object(GROWN)),
      growth: list(object({ machines: count(2), ...GROWN, too_slow: COUNT, busiest_per_min: orNull(AMOUNT) })),
      assuming: orNull(TEXT),
      to_scale: FLAG,
      undominated: FLAG,
      beaten_by: orNull(TEXT),
      file: orNull(TEXT),
    },
    BUILT,
  ),
);

const WAYS = count(2, 12);

export const LAYOUTS = documentOf<LayoutsTold>("layouts", "Layouts of a line", {
  title: TEXT,
  line: TEXT,
  machines: count(2),
  ways: either(WAYS, list(WAYS, { minItems: 1 })),
  leads_to: words("machines", "outlets"),
  length_unit: words("m", "ft"),
  lengths: words("from-grid", "as-stated"),
  today: orNull(ANY_TEXT),
  feed_per_min: AMOUNT,
  needs_per_min: POSITIVE,
  seed: TEXT,
  tick_s: like("^(?:[0-9]+(?:/[0-9]+)?|auto)$"),
  horizon_min: POSITIVE,
  equal_within_items: AMOUNT,
  priority: words("fast", "small", "cheap", "even", "grow", "money"),
  layouts: list(LAYOUT, { minItems: 1 }),
  recommended: orNull(TEXT),
  replications: maybe(anything<SameLuck>()),
  recommended_because: TEXT,
  best_without_reserve: orNull(TEXT),
  best_without_reserve_because: orNull(TEXT),
});
