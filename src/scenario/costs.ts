/** What things cost, where the file says so: as read, and as its entry in a scenario file. */
import { formatMoney, type Per } from "../quantity/money.ts";
import type { Rational } from "../quantity/rational.ts";
import { formatFrequency } from "../quantity/units.ts";

/** Exact amounts in one currency; `null` is not stated. */
export interface Costs {
  /** As ISO 4217 has it. */
  readonly currency: string;
  /** What one product is worth. */
  readonly product: Rational | null;
  readonly handsPerHour: Rational | null;
  readonly beltPerM: Rational | null;
  readonly divider: Rational | null;
  readonly merge: Rational | null;
  readonly floorPerM2: Rational | null;
  readonly startsPerYear: Rational | null;
  /** Over which a layout is weighed. */
  readonly years: number;
}

/** What is weighed where the file does not say how long; common practice, no source. */
export const YEARS = 5;

export const AMOUNTS = {
  product: "money",
  hands: "money-per-hour",
  belt: "money-per-length",
  divider: "money",
  merge: "money",
  floor: "money-per-area",
} as const satisfies Readonly<Record<string, Per>>;

export function isAmount(key: string): key is keyof typeof AMOUNTS {
  return Object.hasOwn(AMOUNTS, key);
}

export function costsKey(costs: Costs | null) {
  if (costs === null) return {};
  const { currency, product, handsPerHour, beltPerM, divider, merge, floorPerM2, startsPerYear, years } = costs;
  const amount = (key: keyof typeof AMOUNTS, value: Rational | null) =>
    value === null ? {} : { [key]: formatMoney(AMOUNTS[key], { amount: value, currency }) };
  const body = {
    ...amount("product", product),
    ...amount("hands", handsPerHour),
    ...amount("belt", beltPerM),
    ...amount("divider", divider),
    ...amount("merge", merge),
    ...amount("floor", floorPerM2),
    ...(startsPerYear && { starts: formatFrequency(startsPerYear) }),
    ...(years === YEARS ? {} : { years }),
  };
  return { costs: body };
}
