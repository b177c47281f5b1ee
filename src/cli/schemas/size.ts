/** What `size --json` prints. */
import type { ItemRate, PlantSize } from "../../index.ts";
import {
  AMOUNT,
  COUNT,
  count,
  documentOf,
  either,
  FLAG,
  INTERVAL,
  like,
  list,
  named,
  object,
  orNull,
  type Shape,
  TEXT,
} from "./shapes.ts";

const EXACT = named("exact", like("^-?[0-9]+(?:/[0-9]+)?$"));

const RATE: Shape<ItemRate> = named("rate", object({ item: TEXT, per_min: EXACT }));

export const SIZE = documentOf<PlantSize>("size", "A plant's size", {
  title: TEXT,
  wanted: list(RATE, { minItems: 1 }),
  machines: list(
    object({
      group: TEXT,
      stage: count(1),
      count: COUNT,
      stated_count: orNull(count(1)),
      needs: EXACT,
      busy: EXACT,
      speed_to_fit: EXACT,
      takes: list(RATE),
      makes: list(RATE),
      enough_for: orNull(EXACT),
    }),
    { minItems: 1 },
  ),
  feeds: list(
    object({
      feed: TEXT,
      items: list(TEXT, { minItems: 1 }),
      rate_per_min: EXACT,
      stated_per_min: orNull(EXACT),
      enough_for: orNull(EXACT),
    }),
    { minItems: 1 },
  ),
  belts: list(
    object({
      id: TEXT,
      line: TEXT,
      needs_per_min: orNull(EXACT),
      stated_per_min: orNull(EXACT),
      enough_for: orNull(EXACT),
    }),
  ),
  choices: list(object({ item: TEXT, groups: list(TEXT, { minItems: 2 }) })),
  fewest_proved: FLAG,
  enough_for: orNull(EXACT),
  returns: list(object({ item: TEXT, feed: TEXT, per_min: EXACT })),
  slowed: list(TEXT),
  run: object({
    reached: FLAG,
    proved: FLAG,
    settling_min: orNull(AMOUNT),
    settled: list(object({ item: TEXT, per_min: either(EXACT, AMOUNT) })),
  }),
  under_chance: orNull(
    object({
      replications: count(2),
      added: list(object({ group: TEXT, count: count(1) })),
      reached: FLAG,
      settled: list(object({ item: TEXT, mean: AMOUNT, ci95: orNull(INTERVAL) })),
    }),
  ),
  scenario: TEXT,
});
