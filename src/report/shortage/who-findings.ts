/** Who works on a short feed and who does not, and how evenly it is shared. */
import type { LineShares, Shortage, ShortageLevel } from "../../study/shortage/shortage-results.ts";
import { listed, listedShort, number, percent } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { extremes, jainOf, levelText, middleLevel, same, sharesOn, variantName } from "./shortage-figures.ts";

export type WhoFindingCode = "who" | "evenness" | "starving";

interface WhoFinding {
  readonly code: WhoFindingCode;
  readonly text: string;
}

/** The line that is served least evenly as written, at the level looked at. */
function lineLookedAt(level: ShortageLevel): LineShares | null {
  const [first] = level.variants;
  return first?.lines.find(({ id }) => id === first.jain_line) ?? first?.lines[0] ?? null;
}

export function who(shortage: Shortage): WhoFinding[] {
  const level = middleLevel(shortage);
  const line = level && lineLookedAt(level);
  if (level === null || line === null) return [];
  const several = (level.variants[0]?.lines.length ?? 0) > 1 ? ` on ${oneLine(line.id)}` : "";
  const groups = new Map<string, string[]>();
  for (const variant of level.variants) {
    const text = sharesText(sharesOn(variant, line));
    groups.set(text, [...(groups.get(text) ?? []), variantName(variant.id)]);
  }
  const parts = [...groups].map(([text, variants]) => `${listed(variants)}: ${text}`);
  return [{ code: "who", text: `At ${levelText(level.level)} of the feed${several}: ${parts.join("; ")}.` }];
}

const FULLY = 0.999;
const LITTLE = 0.1;

/** "all 8 machines run at 50 %", "3 of 8 machines run fully, 3 at 12.5 % to 50 %, 2 below 10 %". */
function sharesText(shares: readonly number[]): string {
  const range = extremes(shares);
  if (range === null) return "no machines";
  const all = `all ${shares.length} machines`;
  if (range.high <= 1e-9) return `${all} stand still`;
  if (same(range.low, range.high)) return `${all} run ${range.low >= FULLY ? "fully" : `at ${percent(range.low)}`}`;
  const count = (is: (share: number) => boolean): number => shares.filter(is).length;
  const between = shares.filter((share) => share >= LITTLE && share < FULLY);
  const middle = extremes(between);
  const parts: [number, string][] = [
    [count((share) => share >= FULLY), "fully"],
    [
      between.length,
      middle === null || same(middle.low, middle.high)
        ? `at ${percent(middle?.low ?? 0)}`
        : `at ${percent(middle.low)} to ${percent(middle.high)}`,
    ],
    [count((share) => share > 1e-9 && share < LITTLE), `below ${percent(LITTLE)}`],
    [count((share) => share <= 1e-9), "not at all"],
  ];
  const [first, ...others] = parts.filter(([machines]) => machines > 0);
  if (first === undefined) return "no machines";
  const rest = others.map(([machines, text]) => `, ${machines} ${text}`).join("");
  if (first[0] === shares.length) return `${all} run ${first[1]}`;
  return `${first[0]} of ${shares.length} machines run ${first[1]}${rest}`;
}

export function evenness(shortage: Shortage): WhoFinding[] {
  const level = middleLevel(shortage);
  const parts = level === null ? [] : indices(level);
  if (level === null || parts.length === 0) return [];
  const ofLine = (level.variants[0]?.lines.length ?? 0) > 1 ? ", on each variant's least even line" : "";
  const scale = "1 where all have the same share of their need, 1/n where one of n has everything";
  const text = `Jain's index at ${levelText(level.level)} of the feed (${scale})${ofLine}: ${parts.join(", ")}.`;
  return [{ code: "evenness", text }];
}

/** For pictures, in a line; `null` where nobody has anything. */
export function evennessInBrief(shortage: Shortage): string | null {
  const level = middleLevel(shortage);
  const parts = level === null ? [] : indices(level);
  return level === null || parts.length === 0
    ? null
    : `Jain's index at ${levelText(level.level)} of the feed: ${parts.join(", ")}.`;
}

/** The most even first. */
function indices(level: ShortageLevel): string[] {
  const found = level.variants.flatMap((variant) => {
    const index = jainOf(variant);
    return index === null ? [] : [{ name: variantName(variant.id), index }];
  });
  return found.toSorted((a, b) => b.index - a.index).map(({ name, index }) => `${name} ${number(index, 3)}`);
}

/** Who starves first as the feed of the plant as written is lowered. */
export function starving({ levels }: Shortage): WhoFinding[] {
  for (const { level, variants } of levels) {
    const [first] = variants;
    if (first === undefined || first.starving.length === 0) continue;
    const many = first.starving.length > 1;
    const names = listedShort(first.starving.map(oneLine));
    const text =
      level === "1"
        ? `As written ${names} ${many ? "starve" : "starves"} even at full feed.`
        : `As written ${names} ${many ? "are" : "is"} the first to starve, at ${levelText(level)} of the feed.`;
    return [{ code: "starving", text }];
  }
  return [];
}
