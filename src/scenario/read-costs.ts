/** What things cost, as read. */
import type { Rational } from "../quantity/rational.ts";
import { type AMOUNTS, type Costs, isAmount, YEARS } from "./costs.ts";
import { inFileOrder, type Reading, requireEntries, textAt } from "./reading.ts";
import type { RawScenario } from "./shapes.ts";

export function readCosts({ costs }: RawScenario, reading: Reading): Costs | null {
  if (costs === undefined) return null;
  requireEntries(reading, ["costs"], "costs");
  const stated = inFileOrder<unknown>(reading.root, ["costs"], costs);
  const first = stated.flatMap(([key]) => (isAmount(key) ? (costs[key] ?? []) : []))[0];
  const currency = first?.currency ?? "";
  const of = (key: keyof typeof AMOUNTS): Rational | null => {
    const found = costs[key];
    if (found === undefined) return null;
    if (found.currency !== currency) {
      const path = ["costs", key];
      reading.findings.report("mixed-currencies", { found: textAt(reading.root, path) ?? "", currency }, path);
    }
    return found.amount;
  };
  const divider = of("divider");
  return {
    currency,
    product: of("product"),
    handsPerHour: of("hands"),
    beltPerM: of("belt"),
    divider,
    merge: of("merge") ?? divider,
    floorPerM2: of("floor"),
    startsPerYear: costs.starts ?? null,
    years: costs.years ?? YEARS,
  };
}
