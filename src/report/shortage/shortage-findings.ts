/** What a study of short feeds says, in a few plain sentences, each with a code. */
import type { LevelResult, Shortage, ShortageLevel, VariantId } from "../../study/shortage/shortage-results.ts";
import {
  approximately,
  below,
  duration,
  items,
  listed,
  listedShort,
  longRun,
  number,
  rate,
  ratesApart,
} from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { type PlantNoteCode, plantNotes } from "./plant-notes.ts";
import { extremes, levelText, same, settledOf, topOf, variantName } from "./shortage-figures.ts";
import { evenness, starving, type WhoFindingCode, who } from "./who-findings.ts";
import { type WorthFindingCode, worthFindings } from "./worth-findings.ts";

export type ShortageFindingCode =
  | "tree-ideal"
  | "output"
  | "stopped"
  | "ideal"
  | "held"
  | "swing"
  | "steady"
  | "batch"
  | "unsettled"
  | "unproved"
  | WorthFindingCode
  | RampFindingCode
  | WhoFindingCode
  | PlantNoteCode;

export interface ShortageFinding {
  readonly code: ShortageFindingCode;
  readonly text: string;
}

export function shortageFindings(shortage: Shortage): ShortageFinding[] {
  return [
    ...idealTree(shortage),
    ...worthFindings(shortage),
    ...output(shortage),
    ...stopped(shortage),
    ...ideal(shortage),
    ...held(shortage),
    ...who(shortage),
    ...evenness(shortage),
    ...starving(shortage),
    ...swing(shortage),
    ...ramp(shortage),
    ...plantNotes(shortage),
    ...batches(shortage),
    ...open(shortage),
  ];
}

/** Before all that compares with it. */
function idealTree({ variants }: Shortage): ShortageFinding[] {
  const ways = variants.flatMap(({ ideal_ways }) => ideal_ways);
  if (ways.length === 0) return [];
  const text = `The even tree is an ideal to compare with: it takes dividers of ${listed(ways.map(String))} ways. With ways of two and three the same shares take a return loop, for which the line's belts are too slow or it carries several kinds; the layouts command draws one up.`;
  return [{ code: "tree-ideal", text }];
}

function output(shortage: Shortage): ShortageFinding[] {
  const { levels, variants, products } = shortage;
  if (variants.length < 2) return [];
  const spreads = levels.map((level) => ({ level, spread: spreadOf(level) }));
  const widest = topOf(spreads, ({ spread }) => spread);
  if (widest === null || standsStill(shortage)) return [];
  if (widest.spread < 1e-6) {
    const much = products.length < 2 ? inProportion(shortage) : "";
    const swings = levels.some((level) => level.variants.some(({ fluctuation }) => fluctuation.swings));
    const steadily = swings ? ", and how steadily," : "";
    const text = `Every variant makes the same at every level${much}: only who works${steadily} differs.`;
    return [{ code: "output", text }];
  }
  const sorted = widest.level.variants.toSorted((a, b) => settledOf(b) - settledOf(a));
  const [best, worst] = [sorted[0], sorted.at(-1)];
  if (best === undefined || worst === undefined) return [];
  const [most, least] = ratesApart(settledOf(best), settledOf(worst));
  const text = `The variants differ most in output at ${levelText(widest.level.level)} of the feed: ${most} ${how(best.id)}, ${least} ${how(worst.id)}.`;
  return [{ code: "output", text }];
}

/** How the output goes with the feed, of what is so at every level; nothing where it does neither of these. */
function inProportion({ levels }: Shortage): string {
  const isIdeal = levels.every(({ ideal_per_min: ideal, variants: [first] }) => {
    return first === undefined || same(settledOf(first), ideal);
  });
  const perFeed = levels.map(({ level, ideal_per_min: ideal }) => ideal / approximately(level));
  const steepest = Math.max(0, ...perFeed);
  if (!isIdeal || steepest === 0) return "";
  const enough = levels.filter((_, i) => !same(perFeed[i] ?? 0, steepest));
  const inStep = levels.filter((_, i) => same(perFeed[i] ?? 0, steepest));
  const [most] = inStep;
  const least = enough.at(-1);
  if (least === undefined) return ", in proportion to the feed";
  // The output bends where the feed is just enough: in the highest of the levels in proportion, or above it.
  const full = enough.every(({ ideal_per_min: ideal }) => same(ideal, least.ideal_per_min));
  if (!full || most === undefined) return "";
  const upTo = levelText(most.level);
  if (same(most.ideal_per_min, least.ideal_per_min)) {
    return inStep.length === 1
      ? `, as much at ${upTo} of the feed as at ${levelText(enough[0]?.level ?? "1")}`
      : `, in proportion to the feed up to ${upTo} of it and no more above that`;
  }
  const above = enough.length === 1 ? "less than that at" : "no more from";
  const on = enough.length === 1 ? "" : " on";
  return `, in proportion to the feed up to ${upTo} of it and ${above} ${levelText(least.level)}${on}`;
}

/** Where a variant makes nothing at all in the long run. */
function stopped({ levels, variants }: Shortage): ShortageFinding[] {
  const parts = variants.flatMap(({ id }, v) => {
    const at = levels.filter((level) => level.variants[v] !== undefined && isStopped(level.variants[v]));
    if (at.length === 0) return [];
    const where =
      at.length === levels.length ? "at every level" : `at ${listedShort(at.map(({ level }) => levelText(level)))}`;
    return [`${variantName(id)} ${where}`];
  });
  if (parts.length === 0) return [];
  if (standsStill({ levels })) {
    return [{ code: "stopped", text: "The plant comes to a standstill in every variant and at every level." }];
  }
  return [{ code: "stopped", text: `The plant comes to a standstill: ${parts.join("; ")}.` }];
}

function isStopped(result: LevelResult): boolean {
  return settledOf(result) === 0;
}

function standsStill({ levels }: Pick<Shortage, "levels">): boolean {
  return levels.every(({ variants }) => variants.every(isStopped));
}

/** Between best and worst, as a share of the best. */
function spreadOf({ variants }: ShortageLevel): number {
  const range = extremes(variants.map(settledOf));
  return range === null || range.high <= 0 ? 0 : (range.high - range.low) / range.high;
}

function how(id: VariantId): string {
  const article: Partial<Record<VariantId, string>> = { tree: "an ", loop: "a " };
  return id === "as-written" ? "as written" : `with ${article[id] ?? ""}${variantName(id)}`;
}

/** Where the plant as written makes less than in proportion to its feed. */
function ideal({ levels, products }: Shortage): ShortageFinding[] {
  // Of unlike products another mix may come to more items or fewer.
  if (products.length > 1) return [];
  const short = levels.flatMap(({ level, ideal_per_min: most, variants: [first] }) => {
    if (first === undefined || !below(settledOf(first), most)) return [];
    return [{ level, most, made: settledOf(first) }];
  });
  const worst = topOf(short, ({ made, most }) => 1 - made / most);
  if (worst === null) return [];
  const [made, most] = ratesApart(worst.made, worst.most);
  const text = `As written the plant makes less than in proportion to its feed, most of all at ${levelText(worst.level)} of it: ${made} of ${most}.`;
  return [{ code: "ideal", text }];
}

/** Where machines starve although there would be more feed: it is held up somewhere. */
function held({ levels }: Shortage): ShortageFinding[] {
  const all = levels.flatMap(({ level, variants }) =>
    variants.flatMap((result) => {
      if (result.starving.length === 0) return [];
      return result.feeds.flatMap((feed) => {
        const [offered, taken] = [approximately(feed.offered_per_min), longRun(feed) ?? 0];
        return taken < offered * (1 - LEFT_OUT) ? [{ level, id: result.id, feed: feed.id, offered, taken }] : [];
      });
    }),
  );
  const worst = topOf(all, ({ taken, offered }) => 1 - taken / offered);
  if (worst === null) return [];
  const names = listed([...new Set(all.map(({ id }) => variantName(id)))]);
  const [taken, offered] = ratesApart(worst.taken, worst.offered);
  const text = `Machines starve although the feed is held back (${names}): at ${levelText(worst.level)} ${variantName(worst.id)} takes ${taken} of the ${offered} that ${oneLine(worst.feed)} offers.`;
  return [{ code: "held", text }];
}

/** A measured rate is off by an item or so. */
const LEFT_OUT = 0.005;

function swing(shortage: Shortage): ShortageFinding[] {
  const { levels, variants } = shortage;
  const swinging = variants.flatMap(({ id }) => {
    const own = levels.flatMap(({ level, variants: all }) => {
      const result = all.find((one) => one.id === id);
      return result?.fluctuation.swings ? [{ level, result }] : [];
    });
    const [first] = own;
    const worst = topOf(own, ({ result }) => swingShare(result));
    if (first === undefined || worst === null) return [];
    return [{ id, first: first.level, alone: own.length === 1, ...worst }];
  });
  if (standsStill(shortage)) return [];
  if (swinging.length === 0) {
    const anyStops = levels.some((level) => level.variants.some(isStopped));
    const where = anyStops ? "wherever the plant runs" : "in every variant and at every level";
    const text = `The settled output is steady ${where}: averaged over about ten cycles of each machine, it stays within 5 % or within a cycle of each machine.`;
    return [{ code: "steady", text }];
  }
  return swinging.map(({ id, first, alone, level, result }) => {
    const { low_per_min: low, high_per_min: high, period_min: period } = result.fluctuation;
    const name = `${variantName(id).charAt(0).toUpperCase()}${variantName(id).slice(1)}`;
    const long = period === null ? "" : `, with a period of ${duration(period)}`;
    const most = first === level ? "" : `, most at ${levelText(level)}`;
    const text = `${name}: the settled output swings${alone ? "" : ", first"} at ${levelText(first)} of the feed${most}: between ${rate(low)} and ${rate(high)} around ${rate(settledOf(result))}${long}.`;
    return { code: "swing", text };
  });
}

function swingShare(result: LevelResult): number {
  const { low_per_min: low, high_per_min: high } = result.fluctuation;
  return (high - low) / Math.max(settledOf(result), 1e-9);
}

function batches({ levels, feeds }: Shortage): ShortageFinding[] {
  const lowest = levels.at(-1);
  return feeds.flatMap(({ id, batch_items: full }): ShortageFinding[] => {
    const last = lowest?.batches.find(({ feed }) => feed === id);
    if (full === null || last === undefined || lowest === undefined) return [];
    const text = `Vehicles at ${oneLine(id)} bring fewer items, rounded to whole ones, and come and unload as before: at ${levelText(lowest.level)} ${items(last.items)} of ${number(full)}.`;
    return [{ code: "batch", text }];
  });
}

/** What the runs could not settle or prove. */
function open({ levels }: Shortage): ShortageFinding[] {
  const all = levels.flatMap(({ level, variants }) => variants.map((result) => ({ level, result })));
  const name = ({ level, result }: (typeof all)[number]): string => `${variantName(result.id)} at ${levelText(level)}`;
  const unsettled = (basis: "flow" | "measured"): string[] =>
    all
      .filter(({ result }) => (result.settling_min ?? result.stops_at_min) === null && result.basis === basis)
      .map(name);
  const unproved = all.filter(({ result }) => result.settling_min !== null && !result.proved).map(name);
  const found: ShortageFinding[] = [];
  const [solved, measured] = [unsettled("flow"), unsettled("measured")];
  if (measured.length > 0) {
    const text = `Not settled yet within the horizon, so measured over its last quarter: ${listedShort(measured)}.`;
    found.push({ code: "unsettled", text });
  }
  if (solved.length > 0) {
    const text = `Not settled yet within the horizon; the settled rates are the flow solution's: ${listedShort(solved)}.`;
    found.push({ code: "unsettled", text });
  }
  if (unproved.length > 0) {
    found.push({
      code: "unproved",
      text: `Settled by the flow solution, not proved by recurrence: ${listedShort(unproved)}.`,
    });
  }
  return found;
}

/** How long a plant takes to settle on a short feed. */
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
