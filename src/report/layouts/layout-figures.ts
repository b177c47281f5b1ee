/** Figures of a layout as tables and sentences have them. */

import { waysText } from "../../quantity/counts.ts";
import { areaIn, type LengthUnit, lengthIn } from "../../quantity/units.ts";
import type {
  ElementCounts,
  LayoutResult,
  LayoutStudy,
  OneMore,
  Priority,
  TODAY as Today,
} from "../../study/layouts/layout-results.ts";
import { NONE } from "../text/cells.ts";
import { listed, number, rate } from "../text/figures.ts";

/** The id of the line as it stands, where that is not drawn up alike. */
export const TODAY: typeof Today = "today";

/** What each priority asks for. */
export const WANTED: Readonly<Record<Priority, string>> = {
  fast: "a short ramp-up",
  small: "little floor",
  cheap: "little to build",
  even: "an even share for all on a short feed",
  grow: "more machines later",
  money: "little money in all",
};

/** What each priority weighs, in its order; where all is equal, the rest of what is weighed decides. */
export const WEIGHS: Readonly<Record<Priority, string>> = {
  fast: "settling time, then ramp-up loss",
  small: "floor, then length of belt",
  cheap: "dividers and merges, then length of belt, then floor",
  even: "evenness on half the feed, then settling time",
  grow: "elements torn out on the way to more machines, then elements added",
  money: "what the change costs and starts lose over the years stated, then settling time",
};

export function buildable({ layouts }: Pick<LayoutStudy, "layouts">): LayoutResult[] {
  return layouts.filter(({ feasible }) => feasible);
}

/** Those that are weighed: with nothing assumed. */
export function weighedIn(study: Pick<LayoutStudy, "layouts">): LayoutResult[] {
  return buildable(study).filter(({ assuming }) => assuming === null);
}

/** @param line its name as the place to be told in takes it */
export function lineInBrief(line: string, study: LayoutStudy): string {
  const { machines, leads_to: what, feed_per_min: feed, needs_per_min: needs, ways } = study;
  const many = `${number(machines)} ${machines === 1 ? what.slice(0, -1) : what}`;
  const needed = what === "outlets" ? "" : ` that need ${rate(needs)}`;
  const fed = feed === 0 ? "by a feed that ends" : rate(feed);
  return `Line ${line}: ${many}${needed}, fed ${fed}; dividers of ${waysText(ways)}.`;
}

/** Length of belt, and whether that is what the grid takes; none of what is not drawn up. */
export function beltCell(layout: LayoutResult, { lengths: how, length_unit: unit }: LayoutStudy): string {
  const { belts, belt_m: metres, to_scale: toScale, assuming } = layout;
  if (belts === null) return NONE;
  const isAsItStands = assuming !== null && !isIf(layout);
  return how === "from-grid" && !toScale && !isAsItStands ? "not to scale" : lengthOrDash(metres, unit);
}

/** Possible only with a change, which it says. */
export function isIf({ assuming }: Pick<LayoutResult, "assuming">): boolean {
  return assuming !== null && assuming.what !== "stated-lengths";
}

/** To a tenth. */
export function lengthOrDash(metres: number | null, unit: LengthUnit): string {
  return metres === null ? NONE : number(lengthIn(unit, metres), 1);
}

export function areaOrDash(squareMetres: number | null, unit: LengthUnit): string {
  return squareMetres === null ? NONE : number(areaIn(unit, squareMetres), 1);
}

/** "23.9 m²". */
export function areaText(squareMetres: number, unit: LengthUnit): string {
  return `${areaOrDash(squareMetres, unit)}\u00a0${unit}²`;
}

/** Machines, or outlets where the line leads to those alone. */
export function evennessNote({ leads_to: what }: LayoutStudy): string {
  return `Jain's index of the ${what === "outlets" ? "outlets' shares" : "machines' shares of their needs"}`;
}

/** Dividers, merges and belts together: "+3 −1". */
export function oneMoreCell(more: OneMore | null): string {
  if (more === null) return NONE;
  return `+${elements(more.added)} \u2212${elements(more.torn_out)}`;
}

export function elements({ dividers, merges, belts }: ElementCounts): number {
  return dividers + merges + belts;
}

/** "1 divider and 2 belts", "nothing". */
export function elementsText({ dividers, merges, belts }: ElementCounts): string {
  const counted = (count: number, one: string): string[] =>
    count === 0 ? [] : [`${number(count)} ${one}${count === 1 ? "" : "s"}`];
  const parts = [...counted(dividers, "divider"), ...counted(merges, "merge"), ...counted(belts, "belt")];
  return parts.length === 0 ? "nothing" : listed(parts);
}

/** A layout with which the plant makes nothing in the long run. */
export function makesNothing({ settled_per_min: settled }: Pick<LayoutResult, "settled_per_min">): boolean {
  return settled === 0;
}

export function keepsLimits({ over_limit_min: minutes, over_limit_items: count }: LayoutResult): boolean {
  return (minutes ?? 0) === 0 && (count ?? 0) === 0;
}

/** Whether the plant states limits on what may lie there at once, and on how long. */
export function limitedIn({ layouts }: Pick<LayoutStudy, "layouts">): {
  readonly holdUp: boolean;
  readonly dwell: boolean;
} {
  return {
    holdUp: layouts.some(({ over_limit_min: minutes }) => minutes !== null),
    dwell: layouts.some(({ over_limit_items: count }) => count !== null),
  };
}

/** What all that can be built make in the long run; `null` where they differ. */
export function commonOutput(study: Pick<LayoutStudy, "layouts">): number | null {
  const [first = null, ...others] = buildable(study).map(({ settled_per_min: settled }) => settled);
  if (first === null) return null;
  return others.every((other) => other !== null && Math.abs(other - first) < 1e-6 * first) ? first : null;
}
