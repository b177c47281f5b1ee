/** A machine's rates, each in its own unit: what it makes in products, what it takes kind by kind in items. */
import type { MachineResult } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import { approximately, longRun, type rateWord, significant } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** Of all kinds that it makes, products/min, when it never waits. */
export function fullProducts({ products }: MachineResult): number {
  return total(products.map(({ full_per_min }) => approximately(full_per_min)));
}

/** In the long run; `null` where it is not known. */
export function settledProducts({ products }: MachineResult): number | null {
  const rates = products.map(longRun).filter((rate) => rate !== null);
  return rates.length < products.length ? null : total(rates);
}

/** "~30" where what was found is not exact beside what is. @param word what the long-run rates are called */
export function settledText(machine: MachineResult, word: ReturnType<typeof rateWord>): string {
  const rate = settledProducts(machine);
  if (rate === null) return "–";
  return `${machine.settled_per_min === null && word === "settled" ? "~" : ""}${significant(rate)}`;
}

/** Whether a product is made of each item, so that rates of items say nothing that those of products don't. */
export function takesAsItMakes(machine: MachineResult): boolean {
  const [only, ...others] = machine.infeed;
  const taken = only === undefined ? 0 : approximately(only.needs_per_min);
  return others.length === 0 && Math.abs(taken - fullProducts(machine)) < 1e-9 * taken;
}

/** "50 body + 50 lid": in the long run, items/min; "–" where that is not known. */
export function takenText({ infeed }: MachineResult): string {
  const parts = infeed.flatMap((buffer) => {
    const rate = longRun(buffer);
    return rate === null ? [] : [`${significant(rate)} ${oneLine(buffer.item)}`];
  });
  return parts.length < infeed.length ? "–" : parts.join(" + ");
}
