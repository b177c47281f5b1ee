/** How long a plant takes to settle on a short feed. */
import type { Shortage, ShortageLevel, VariantId } from "../../study/shortage/shortage-results.ts";
import { duration } from "../text/figures.ts";
import { levelText, settledOf, topOf, variantName } from "./shortage-figures.ts";

export type RampFindingCode = "ramp";

/** Worth a sentence where it takes so many times as long as at the highest level, and so many minutes. */
const TIMES_AS_LONG = 1.5;
const LEAST_MIN = 5;

export function ramp({ levels, variants }: Shortage): { readonly code: RampFindingCode; readonly text: string }[] {
  const [highest] = levels;
  const [written, ...others] = variants;
  if (highest === undefined || written === undefined) return [];
  const longest = topOf(levels, (level) => settlingMin(level, written.id) ?? 0);
  const most = longest && settlingMin(longest, written.id);
  const before = settlingMin(highest, written.id);
  if (longest === null || most === null || before === null) return [];
  if (most < LEAST_MIN || most < TIMES_AS_LONG * before) return [];
  const beside = others.flatMap(({ id }) => {
    const own = settlingMin(longest, id);
    return own === null ? [] : [`${variantName(id)} ${duration(own)}`];
  });
  const compared = beside.length === 0 ? "" : ` (${beside.join(", ")})`;
  const text = `As written it takes longest to settle at ${levelText(longest.level)} of the feed: ${duration(most)}${compared}, and ${duration(before)} at ${levelText(highest.level)}. Until then buffers fill one after another, and the output changes with them.`;
  return [{ code: "ramp", text }];
}

function settlingMin({ variants }: ShortageLevel, id: VariantId): number | null {
  const own = variants.find((one) => one.id === id);
  // A line that comes to a standstill does not settle.
  return own === undefined || settledOf(own) === 0 ? null : own.settling_min;
}
