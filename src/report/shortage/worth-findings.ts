/** Which way to lay the plant out is worth having on each feed, by the rule for starts and in its words. */
import { groupBy } from "../../quantity/counts.ts";
import type { LevelResult, Shortage, ShortageLevel, VariantId } from "../../study/shortage/shortage-results.ts";
import { beside, brokenText, leavesStock, reservePrice } from "../comparison/outcome-words.ts";
import { below, listedShort, longRun } from "../text/figures.ts";
import { levelText, settledOf, variantName } from "./shortage-figures.ts";

export type WorthFindingCode = "worth" | "limits" | "without-reserve" | "slower";

interface WorthFinding {
  readonly code: WorthFindingCode;
  readonly text: string;
}

const WRITTEN = "as-written";

export function worthFindings(shortage: Shortage): WorthFinding[] {
  if (shortage.variants.length < 2) return limits(shortage);
  return [...worth(shortage), ...limits(shortage), ...withoutReserve(shortage), ...slower(shortage)];
}

function of(level: ShortageLevel, id: VariantId): LevelResult | undefined {
  return level.variants.find((one) => one.id === id);
}

/** "100 %, 90 % and 80 % of the feed". */
function feedText(levels: readonly ShortageLevel[]): string {
  return `${listedShort(
    levels.map(({ level }) => levelText(level)),
    4,
  )} of the feed`;
}

function worth(shortage: Shortage): WorthFinding[] {
  const { levels } = shortage;
  const laterText = later(shortage);
  const known = levels.filter(({ recommended }) => recommended !== null);
  const changed = groupBy(
    known.filter(({ recommended }) => recommended !== WRITTEN),
    ({ recommended }) => recommended ?? WRITTEN,
  );
  if (known.length === 0) return [];
  if (changed.size === 0) {
    const where = known.length === levels.length ? "at every level of the feed" : `at ${feedText(known)}`;
    return [
      {
        code: "worth",
        text: `Leaving it as written is what is worth doing ${where}: no ${laterText === "" ? "" : "other "}variant that leaves the stock in the buffers is better.${laterText}`,
      },
    ];
  }
  const left = known.filter(({ recommended }) => recommended === WRITTEN);
  const rest =
    left.length === 0
      ? ""
      : ` At ${feedText(left)} nothing ${laterText === "" ? "" : "else "}is better than leaving it as written.`;
  return [...changed].map(([, at], i) => ({
    code: "worth",
    text: `At ${feedText(at)} ${besideWritten(at)}.${i === changed.size - 1 ? `${rest}${laterText}` : ""}`,
  }));
}

/** What has all that the rule asks for and loses less in the end, but is behind once both have settled. */
function later({ levels, variants }: Shortage): string {
  const parts = variants.flatMap(({ id, ideal_ways: ways }) => {
    const at = ways.length > 0 ? [] : levels.filter((level) => isLater(level, of(level, id)));
    return at.length === 0
      ? []
      : [` At ${feedText(at)} ${variantName(id)} makes more for good, but has made less when both have settled.`];
  });
  return parts.join("");
}

function isLater(level: ShortageLevel, own: LevelResult | undefined): boolean {
  const best = level.recommended === null ? undefined : of(level, level.recommended);
  if (own === undefined || best === undefined || own.settling_min === null || !leavesStock(own)) return false;
  const isLimited = own.limits_broken.length > 0;
  const less = (best.ramp_up_loss ?? -Infinity) - (own.ramp_up_loss ?? Infinity);
  return !isLimited && below(settledOf(best), settledOf(own)) && less > level.equal_within_items;
}

/** "through first is worth having: at 50 % it loses …", of the level at which most is gained. */
function besideWritten(at: readonly ShortageLevel[]): string {
  const id = at[0]?.recommended ?? WRITTEN;
  const gain = (level: ShortageLevel): number =>
    (of(level, WRITTEN)?.ramp_up_loss ?? Infinity) - (of(level, id)?.ramp_up_loss ?? Infinity);
  const [most] = at.toSorted((a, b) => gain(b) - gain(a));
  const own = most && of(most, id);
  const worth = `${variantName(id)} is worth having`;
  if (most === undefined || own === undefined) return worth;
  const base = of(most, WRITTEN);
  const text = beside(own, base, equalOf(most), ", as written");
  return text === "" ? worth : `${worth}: at ${levelText(most.level)} it ${text}`;
}

function equalOf(level: ShortageLevel) {
  const perMin = longRun(of(level, WRITTEN) ?? { settled_per_min: null }) ?? 0;
  const items = level.equal_within_items;
  return { items, minutes: perMin > 0 ? items / perMin : 0 };
}

/** At the highest level, how far and for how long; nothing where no limit is stated. */
function limits({ levels }: Shortage): WorthFinding[] {
  const [highest] = levels;
  if (highest === undefined) return [];
  const isLimited = highest.variants.some(
    ({ over_limit_min: minutes, over_limit_items: count }) => minutes !== null || count !== null,
  );
  if (!isLimited) return [];
  const [kept, broken] = [false, true].map((isBroken) =>
    highest.variants.filter(({ limits_broken: those }) => those.length > 0 === isBroken),
  );
  const parts = [
    ...(kept?.length ? [`all are kept by ${listedShort(kept.map(({ id }) => variantName(id)))}`] : []),
    ...(broken ?? []).map(({ id, limits_broken: those }) => `${variantName(id)}: ${brokenText(those)}`),
  ];
  return [{ code: "limits", text: `Limits at ${levelText(highest.level)} of the feed: ${parts.join("; ")}.` }];
}

/** The highest level at which something with less stock is better; at the others it is much the same. */
function withoutReserve({ levels }: Shortage): WorthFinding[] {
  const better = levels.filter(({ best_without_reserve: id }) => id !== null);
  const [first] = better;
  const id = first?.best_without_reserve ?? null;
  const own = first && id !== null ? of(first, id) : undefined;
  if (first === undefined || own === undefined) return [];
  const gains = beside(own, of(first, first.recommended ?? WRITTEN), equalOf(first), ", as what is worth having");
  const more = better.length === 1 ? "" : ` Something with less reserve is better at ${feedText(better)}.`;
  return [
    {
      code: "without-reserve",
      text: `With less reserve, ${variantName(own.id)} at ${levelText(first.level)} ${gains}${reservePrice(own, "as written")}.${more}`,
    },
  ];
}

function slower({ levels, variants }: Shortage): WorthFinding[] {
  const parts = variants.flatMap(({ id }) => {
    const at = levels.filter((level) => {
      const own = of(level, id);
      return own?.slower_for_good === true && settledOf(own) > 0;
    });
    return at.length === 0 ? [] : [`${variantName(id)} at ${feedText(at)}`];
  });
  return parts.length === 0 ? [] : [{ code: "slower", text: `Slower for good than as written: ${parts.join("; ")}.` }];
}
