/** How much a plant makes in the long run, and of what. */
import type { Result } from "../../analysis/result.ts";
import { approximately, below, longRun, rate, significant } from "./figures.ts";
import { oneLine } from "./text-width.ts";

/** "450/min of carton, its full output" */
export function levelText(output: Result["output"]): string {
  const at = longRun(output);
  const full = at !== null && !below(at, approximately(output.full_per_min));
  return at === null ? "an unknown rate" : `${rate(at)}${ofWhat(output)}${full ? ", its full output" : ""}`;
}

/** " of carton"; " (71.25 wrapped-pie, 8.125 box)" where several kinds are made and their rates known. */
export function ofWhat({ made_by_item: made, settled_by_item_per_min: rates }: Result["output"]): string {
  const [only, ...others] = Object.keys(rates ?? made);
  if (only !== undefined && others.length === 0) return ` of ${oneLine(only)}`;
  const kinds = Object.entries(rates ?? {}).map(
    ([item, perMin]) => `${significant(approximately(perMin))} ${oneLine(item)}`,
  );
  return kinds.length === 0 ? "" : ` (${kinds.join(", ")})`;
}
