/** What a study of layouts says, the recommended one first, in a few plain sentences, each with a code. */
import { groupBy } from "../../quantity/counts.ts";
import type { LayoutPrimed, LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import { brokenText, leavesStock, reservePrice } from "../comparison/outcome-words.ts";
import { figureFindings, luckFindings } from "../luck/luck-findings.ts";
import { duration, items, listed } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { becauseText, subjectOf } from "./because-text.ts";
import {
  areaText,
  buildable,
  elements,
  keepsLimits,
  limitedIn,
  makesNothing,
  TODAY,
  WANTED,
  weighedIn,
} from "./layout-figures.ts";
import type { LayoutFinding } from "./layout-finding.ts";
import { reasonText, WEIGHED } from "./layout-words.ts";
import { infeasible, lengths, possibleIf, sentence } from "./layouts-built.ts";

/** As the study weighs; limits only where the plant states any. */
export function whatIsWeighed(study: LayoutStudy): string {
  const { holdUp, dwell } = limitedIn(study);
  const { output, limits, settling, loss, "hold-up": settledHoldUp, reserve, ...others } = WEIGHED;
  // Under chance the time of a mean curve has no interval to tell it by.
  const isCertain = study.replications === undefined;
  return listed([
    ...(holdUp || dwell ? [output, limits] : [output]),
    ...(isCertain ? [settling, loss, settledHoldUp, reserve] : [loss, settledHoldUp]),
    ...Object.values(others),
  ]);
}

export function layoutsFindings(study: LayoutStudy): LayoutFinding[] {
  const { replications: luck } = study;
  return [
    { code: "recommended", text: recommendation(study) },
    ...limits(study),
    ...withoutReserve(study),
    ...choice(study),
    ...beaten(study),
    ...infeasible(study),
    ...possibleIf(study),
    ...lengths(study),
    ...(luck === undefined ? primed(study) : figureFindings(luck, [])),
    ...output(study),
    ...(luck === undefined ? [...unsettled(study), ...unproved(study)] : luckFindings(luck, "layout")),
  ];
}

function recommendation(study: LayoutStudy): string {
  const { recommended, recommended_because: because, priority, layouts } = study;
  const wanted = `for ${WANTED[priority]} (priority ${priority})`;
  // The reason begins with the layout's name.
  const chosen = layouts.find(({ id }) => id === recommended);
  const price = chosen === undefined || leavesStock(chosen) ? "" : reservePrice(chosen, todayName(study));
  return `${recommended === null ? "None is recommended" : "Recommended"} ${wanted}: ${sentence(`${becauseText(because, study)}${price}`)}`;
}

/** What would do better, and what it gives up. */
function withoutReserve(study: LayoutStudy): LayoutFinding[] {
  const { layouts, best_without_reserve: id, best_without_reserve_because: because } = study;
  const bare = layouts.find((layout) => layout.id === id);
  if (bare === undefined || because === null) return [];
  const price = reservePrice(bare, todayName(study));
  return [
    {
      code: "without-reserve",
      text: `With less reserve, ${sentence(`${oneLine(becauseText(because, study))}${price}`)}`,
    },
  ];
}

function todayName({ today }: LayoutStudy): string {
  return today === null || today === TODAY ? "the line as it stands" : `the ${oneLine(today)}`;
}

interface Aspect {
  /** Of the one that has the least of it, and of one that has less of it than another. */
  readonly best: string;
  readonly better: string;
  readonly of: (layout: LayoutResult) => number | null;
}

/** What is weighed, then what is not. */
const ASPECTS: readonly Aspect[] = [
  { best: "the most output", better: "more output", of: ({ settled_per_min: settled }) => negative(settled) },
  { best: "all limits kept", better: "less over limits", of: (layout) => (keepsLimits(layout) ? 0 : 1) },
  { best: "the shortest ramp-up", better: "a shorter ramp-up", of: ({ settling_min: at }) => at },
  { best: "the least loss", better: "less loss", of: ({ ramp_up_loss: loss }) => loss },
  { best: "the least hold-up", better: "less hold-up", of: ({ hold_up_settled: holdUp }) => holdUp },
  {
    best: "the most stock for a stop",
    better: "more stock for a stop",
    of: ({ reserve_kept: kept }) => negative(kept),
  },
  {
    best: "the most even shares of a short feed",
    better: "more even shares of a short feed",
    of: ({ evenness_at_half_feed: even }) => negative(even),
  },
  { best: "the fewest dividers and merges", better: "fewer dividers and merges", of: divides },
  { best: "the least floor", better: "less floor", of: ({ floor_m2: floor }) => floor },
  {
    best: "the least to tear out for one more",
    better: "less to tear out for one more",
    of: ({ one_more: more }) => more && elements(more.torn_out),
  },
  { best: "the shortest dwell", better: "a shorter dwell", of: ({ dwell_mean_min: dwell }) => dwell },
  { best: "the least belt", better: "less belt", of: ({ belt_m: metres }) => metres },
  { best: "the most headroom", better: "more headroom", of: ({ headroom_per_min: headroom }) => negative(headroom) },
];

function negative(value: number | null): number | null {
  return value === null ? null : -value;
}

function divides({ dividers, merges }: LayoutResult): number | null {
  return dividers === null || merges === null ? null : dividers + merges;
}

const MOST_ASPECTS = 3;

/** What a layout is best for among those that can be built, alone or with some; nothing in which most are alike. */
export function bestIn(layout: LayoutResult, all: readonly LayoutResult[]): Aspect[] {
  return ASPECTS.filter((aspect) => isBest(aspect, layout, all));
}

function isBest({ of }: Aspect, layout: LayoutResult, all: readonly LayoutResult[]): boolean {
  const own = of(layout);
  const known = all.flatMap((one) => of(one) ?? []);
  const equals = known.filter((value) => !isLess(Math.min(...known), value));
  return own !== null && !isLess(Math.min(...known), own) && equals.length <= all.length / 2;
}

/** By more than rounding; what is not known is worse than anything. */
function isLess(one: number | null, other: number | null): boolean {
  if (one === null || other === null) return one !== null && other === null;
  return other - one > 1e-9 * Math.max(1, Math.abs(one));
}

/** For what one would choose it over the recommended one: what it is best for, or else what it has less of. */
function whyInstead(layout: LayoutResult, chosen: LayoutResult | undefined, all: readonly LayoutResult[]): string {
  const better = ASPECTS.filter(({ of }) => chosen === undefined || isLess(of(layout), of(chosen)));
  const best = bestIn(layout, all).filter((aspect) => better.includes(aspect));
  if (best.length > 0) return listed(best.slice(0, MOST_ASPECTS).map((aspect) => aspect.best));
  if (better.length === 0 || chosen === undefined) return "as good";
  return `${listed(better.slice(0, MOST_ASPECTS).map((aspect) => aspect.better))} than ${oneLine(subjectOf(chosen.id))}`;
}

/** What else there is to choose. */
function choice(study: LayoutStudy): LayoutFinding[] {
  const others = weighedIn(study).filter(({ id, undominated }) => undominated && id !== study.recommended);
  const chosen = buildable(study).find(({ id }) => id === study.recommended);
  const all = [...new Set([...weighedIn(study), ...(chosen === undefined ? [] : [chosen])])];
  // Means that are not told apart are no reason.
  const parts = others.map((layout) =>
    study.replications === undefined
      ? `${oneLine(layout.id)} (${whyInstead(layout, chosen, all)})`
      : oneLine(layout.id),
  );
  if (parts.length > 0) {
    const either = study.recommended === null ? "" : " either";
    return [{ code: "choice", text: `Not beaten${either}: ${parts.join("; ")}.` }];
  }
  if (study.recommended === null || all.length < 2) return [];
  return [
    {
      code: "choice",
      text: `There is nothing to weigh: none is better than ${oneLine(subjectOf(study.recommended))} in anything that counts.`,
    },
  ];
}

/** Gathered by who beats them. */
function beaten(study: LayoutStudy): LayoutFinding[] {
  const found = weighedIn(study).flatMap(({ id, beaten_by: by }) => (by === null ? [] : [{ id: oneLine(id), by }]));
  if (found.length === 0) return [];
  const groups = groupBy(found, ({ by }) => by);
  const parts = [...groups].map(([by, those]) => `${listed(those.map(({ id }) => id))} by ${oneLine(by)}`);
  return [
    {
      code: "beaten",
      text:
        study.replications === undefined
          ? `Beaten, no better in anything that is weighed and worse in something: ${parts.join("; ")}.`
          : `Beaten, told better in nothing that is weighed and worse in something: ${parts.join("; ")}.`,
    },
  ];
}

/** Which keep all the plant's limits, and by how much the others do not. */
function limits(study: LayoutStudy): LayoutFinding[] {
  const { holdUp, dwell } = limitedIn(study);
  const all = weighedIn(study);
  if ((!holdUp && !dwell) || all.length === 0) return [];
  const [kept, broken] = [all.filter(keepsLimits), all.filter((layout) => !keepsLimits(layout))];
  const names = listed(kept.map(({ id }) => oneLine(id)));
  if (broken.length === 0) return [{ code: "limits", text: `All limits are kept by ${names}.` }];
  const over = broken.map(overText).join("; ");
  const text =
    kept.length === 0 ? `None keeps all limits: ${over}.` : `All limits are kept by ${names}; not by ${over}.`;
  return [{ code: "over-limits", text }];
}

/** "chain (over a limit for 3 h, 200 items too long there)"; by how much, too, but under chance. */
function overText({
  id,
  over_limit_min: minutes,
  over_limit_items: count,
  limits_broken: broken,
}: LayoutResult): string {
  if (broken.length > 0) return `${oneLine(id)} (${brokenText(broken)})`;
  const parts = [
    ...(minutes ? [`over a limit for ${duration(minutes)}`] : []),
    ...(count ? [`${items(count)} too long there`] : []),
  ];
  return `${oneLine(id)} (${parts.join(", ")})`;
}

/**
 * The best that priming brings, and without hands in the line, if that is sooner than any layout is with nothing done; each
 * layout's own is in the table.
 */
function primed(study: LayoutStudy): LayoutFinding[] {
  const all = weighedIn(study);
  const better = all.flatMap((layout): Primed[] => {
    const { primed: own } = layout;
    if (own === null || own.settling_min === null) return [];
    const isSooner = layout.settling_min === null || duration(own.settling_min) !== duration(layout.settling_min);
    return isSooner ? [{ layout, own, at: own.settling_min }] : [];
  });
  const soonest = least(better);
  const found: LayoutFinding[] = [];
  if (soonest !== undefined) {
    const bare = Math.min(...all.flatMap(({ settling_min: settling }) => settling ?? []));
    const sooner = better.filter(({ own, at }) => !own.by_hand && at < bare && duration(at) !== duration(bare));
    const other = soonest.own.by_hand ? least(sooner) : undefined;
    const without = other === undefined ? "" : `; without hands ${primedText(other)}`;
    found.push({ code: "primed", text: `Best primed: ${primedText(soonest)}${without}.` });
  }
  const none = all.filter((layout) => layout.primed === null).map(({ id }) => oneLine(id));
  if (none.length > 0) {
    found.push({ code: "primed", text: `No priming is better than doing nothing with ${listed(none)}.` });
  }
  return found;
}

interface Primed {
  readonly layout: LayoutResult;
  readonly own: LayoutPrimed;
  readonly at: number;
}

/** The soonest as far as is shown, and of those the one with the fewest items to handle. */
function least(those: readonly Primed[]): Primed | undefined {
  const [first] = those.toSorted((a, b) =>
    duration(a.at) === duration(b.at) ? a.own.items_handled - b.own.items_handled : a.at - b.at,
  );
  return first;
}

function primedText({ layout, own, at }: Primed): string {
  const bare = layout.settling_min;
  const instead = bare === null ? "" : ` instead of ${duration(bare)}`;
  const handled = own.items_handled === 0 ? "" : `, ${items(own.items_handled)} handled,`;
  return `${oneLine(layout.id)} with ${oneLine(own.tactic)}${handled} settles at ${duration(at)}${instead}`;
}

/** What makes nothing, or less than another, for good. */
function output(study: LayoutStudy): LayoutFinding[] {
  return buildable(study).flatMap((layout): LayoutFinding[] => {
    const { id, reason } = layout;
    if (reason === null) return [];
    return [
      { code: makesNothing(layout) ? "stopped" : "output", text: `${oneLine(id)}: ${sentence(reasonText(reason))}` },
    ];
  });
}

function unsettled(study: LayoutStudy): LayoutFinding[] {
  const names = buildable(study)
    .filter((layout) => layout.settling_min === null && !makesNothing(layout))
    .map(({ id }) => oneLine(id));
  if (names.length === 0) return [];
  return [{ code: "unsettled", text: `Not settled yet within ${duration(study.horizon_min)}: ${listed(names)}.` }];
}

function unproved(study: LayoutStudy): LayoutFinding[] {
  const names = buildable(study)
    .filter(({ settling_min: at, proved }) => at !== null && !proved)
    .map(({ id }) => oneLine(id));
  if (names.length === 0) return [];
  const [what, verb] = names.length === 1 ? ["time", "is"] : ["times", "are"];
  return [
    { code: "unproved", text: `The settling ${what} of ${listed(names)} ${verb} read from the run, not proved.` },
  ];
}

/** For pictures: the recommended one in a line; figures keep together with their units. */
export function recommendedInBrief(study: LayoutStudy): string {
  const chosen = study.layouts.find(({ id }) => id === study.recommended);
  if (chosen === undefined || study.replications !== undefined) return recommendation(study);
  const { settling_min: at, ramp_up_loss: loss, floor_m2: floor } = chosen;
  const parts = [
    at === null ? `does not settle within ${duration(study.horizon_min)}` : `settles at ${duration(at)}`,
    ...(loss === null ? [] : [loss < 0 ? `gains ${items(-loss)}` : `loses ${items(loss)}`]),
    ...(floor === null ? [] : [`takes ${areaText(floor, study.length_unit)}`]),
  ];
  // Others would do better in what is wanted, but leave less stock.
  const among = study.best_without_reserve === null ? "" : " among those that leave today's stock in the buffers";
  return `Recommended for ${WANTED[study.priority]}${among}: ${oneLine(subjectOf(chosen.id))}, which ${listed(parts)}.`;
}
