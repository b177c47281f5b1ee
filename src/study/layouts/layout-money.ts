/** What layouts cost, and when each has paid for itself against the line as it stands, where the file states costs. */
import { exactOrNull, type LossMoney, lossMoney } from "../../analysis/money.ts";
import { measured } from "../../quantity/money.ts";
import { larger, type Rational, rational, sum, whole, ZERO } from "../../quantity/rational.ts";
import type { Costs } from "../../scenario/costs.ts";
import type { LayoutMoney, LayoutResult } from "./layout-results.ts";
import { makes } from "./weighed.ts";

/** @param today the id of the row that shows the line as it stands; `null`: there is none */
export function withMoney(layouts: readonly LayoutResult[], today: string | null, costs: Costs | null): LayoutResult[] {
  if (costs === null || costs.currency === "") return [...layouts];
  const standing = layouts.find(({ id }) => id === today) ?? null;
  return layouts.map((layout) => ({ ...layout, money: moneyOf(layout, standing, costs) }));
}

/** It, or the same drawn up with belts of other lengths. */
function stands(layout: LayoutResult, today: LayoutResult | null): boolean {
  const same = ["layout", "dividers", "merges", "belts"] as const;
  return today !== null && same.every((key) => layout[key] === today[key]);
}

function moneyOf(layout: LayoutResult, today: LayoutResult | null, costs: Costs): LayoutMoney {
  const built = builtOf(layout, costs);
  const floor = floorOf(layout, costs);
  const freed = today === null ? ZERO : floorOf(today, costs);
  const build = built && floor && built.add(floor);
  const isThere = stands(layout, today);
  const change = isThere ? ZERO : built && floor && freed && built.add(larger(floor.sub(freed), ZERO));
  const loss = lossOf(layout, costs);
  const before = today === null || makes(today) !== makes(layout) ? null : lossOf(today, costs).loss_per_year;
  const own = loss.loss_per_year;
  const saved = before === null || own === null || isThere ? null : rational(before).sub(rational(own));
  const over = change === null || own === null ? null : change.add(rational(own).mul(whole(costs.years)));
  return {
    ...loss,
    build: exactOrNull(build),
    change: exactOrNull(change),
    saved_per_year: exactOrNull(saved),
    paid_after_years:
      change === null || saved === null || saved.compare(ZERO) <= 0 ? null : change.div(saved).valueOf(),
    years: costs.years,
    over_years: exactOrNull(over),
  };
}

function lossOf({ ramp_up_loss: lost }: LayoutResult, costs: Costs): LossMoney {
  return lossMoney(costs, lost).money ?? { currency: costs.currency, loss_per_start: null, loss_per_year: null };
}

function builtOf(layout: LayoutResult, { beltPerM, divider, merge }: Costs): Rational | null {
  return priced([
    [layout.belts === 0 ? 0 : layout.belt_m, beltPerM],
    [layout.dividers, divider],
    [layout.merges, merge],
  ]);
}

function floorOf({ floor_m2: floor }: LayoutResult, { floorPerM2 }: Costs): Rational | null {
  return priced([[floor, floorPerM2]]);
}

/** What has no price counts for nothing; `null` where there is a price, and no figure. */
function priced(parts: readonly (readonly [amount: number | null, price: Rational | null])[]): Rational | null {
  const stated = parts.flatMap(([amount, price]) => (price === null ? [] : [{ amount, price }]));
  const known = stated.flatMap(({ amount, price }) => (amount === null ? [] : [measured(amount).mul(price)]));
  return known.length < stated.length ? null : sum(known);
}
