/** Shapes of what losses come to in money. */
import type { LossMoney } from "../../index.ts";
import { described, type Fields, like, orNull } from "./shapes.ts";

/** An exact sum. */
export const SUM = orNull(like("^-?[0-9]+(/[0-9]+)?$"));

export const LOSS_MONEY: Fields<LossMoney> = {
  currency: described("As ISO 4217 has it.", like("^[A-Z]{3}$")),
  loss_per_start: described("Exact, in that currency; below 0 it is a gain, null where the loss is not known.", SUM),
  loss_per_year: described("null also where the file does not say how often the line starts.", SUM),
};
