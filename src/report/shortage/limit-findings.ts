/** How the variants keep to the limits on hold-up and dwell. */
import type { LevelResult, Shortage } from "../../study/shortage-results.ts";
import { duration, items, listed } from "../figures.ts";
import { levelText, variantName } from "./shortage-figures.ts";

export type LimitFindingCode = "limits";

/** At the highest level, side by side; nothing where no limit is stated. */
export function limitFindings({ levels }: Shortage): { readonly code: LimitFindingCode; readonly text: string }[] {
  const [highest] = levels;
  if (highest === undefined) return [];
  const said = highest.variants.flatMap((result) => {
    const over = overText(result);
    return over === null ? [] : [`${variantName(result.id)} ${over}`];
  });
  if (said.length === 0) return [];
  return [
    { code: "limits", text: `Against the limits, at ${levelText(highest.level)} of the feed: ${said.join("; ")}.` },
  ];
}

function overText({ over_limit_min: minutes, over_limit_items: count }: LevelResult): string | null {
  if (minutes === null && count === null) return null;
  const parts = [
    ...(minutes === null || minutes === 0 ? [] : [`too much lies there for ${duration(minutes)}`]),
    ...(count === null || count === 0 ? [] : [`${items(count)} lie too long`]),
  ];
  return parts.length === 0 ? "keeps to them" : listed(parts);
}
