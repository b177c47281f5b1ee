/** What a ramp-up loses in money, where the file says what a product is worth. */
import { measured } from "../quantity/money.ts";
import { exact, type Rational } from "../quantity/rational.ts";
import type { Costs } from "../scenario/costs.ts";
import type { Exact } from "./exact.ts";

/** Exact sums of the figures told; `null`: not known. */
export interface LossMoney {
  /** As ISO 4217 has it. */
  readonly currency: string;
  /** Below 0 it is a gain. */
  readonly loss_per_start: Exact | null;
  /** `null` also where the file does not say how often it starts. */
  readonly loss_per_year: Exact | null;
}

/** @returns an entry for what is told of a start, or none where nothing is to be said about money */
export function lossMoney(costs: Costs | null | undefined, lost: number | null): { readonly money?: LossMoney } {
  const worth = costs?.product ?? null;
  if (!costs || worth === null) return {};
  const perStart = lost === null ? null : measured(lost).mul(worth);
  return {
    money: {
      currency: costs.currency,
      loss_per_start: exactOrNull(perStart),
      loss_per_year: exactOrNull(perYear(costs, perStart)),
    },
  };
}

export function perYear({ startsPerYear }: Costs, perStart: Rational | null): Rational | null {
  return perStart === null || startsPerYear === null ? null : perStart.mul(startsPerYear);
}

export function exactOrNull(amount: Rational | null): Exact | null {
  return amount && exact(amount);
}
