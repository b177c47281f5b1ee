/** The structure of what things cost, in the scenario file. */
import * as z from "zod/mini";
import { YEARS } from "./costs.ts";
import { MAX_YEARS } from "./file-limits.ts";
import { count, keys, money, quantity, withMeta } from "./shape-parts.ts";

export const costsShape = withMeta(
  keys({
    product: z.optional(money("money", "What one product is worth, so what a lost one costs.", false)),
    hands: z.optional(money("money-per-hour", "What it costs to have hands in the line.")),
    belt: z.optional(money("money-per-length", "What a belt costs, built.")),
    divider: z.optional(money("money", "What a divider costs, built.")),
    merge: z.optional(money("money", "What a merge costs, built; as a divider if not stated.")),
    floor: z.optional(money("money-per-area", "What floor costs.")),
    starts: z.optional(
      quantity("frequency", "How often the line is started. A year has 365 days, 52 weeks and 12 months here."),
    ),
    years: withMeta(z.optional(count(MAX_YEARS, "Over how many years a layout is weighed; 5 if not stated.")), {
      default: YEARS,
    }),
  }),
  {
    description: "What things cost, in one currency of ISO 4217. Nothing is said about money if not stated.",
    minProperties: 1,
  },
);
