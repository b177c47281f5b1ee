/** The layout to build by what is wanted first, and why, in figures. */
import { areaIn, type LengthUnit, lengthIn } from "../../quantity/units.ts";
import { betterIn, type Criterion as Decides, type Grain, keepsReserve, leastIn } from "../recommended/recommended.ts";
import type { LayoutResult, Priority } from "./layout-results.ts";
import { NO_GRAIN } from "./reserve.ts";
import { elementsIn, isWeighed, junctions, keepsLimits, makes, rounded } from "./weighed.ts";

interface Criterion {
  /** The less the better; `null` is worse than any. */
  readonly of: (layout: LayoutResult) => number | null;
  /** Where two that are no further apart are equal. */
  readonly apart?: (grain: Grain) => number;
  /** Before the figure: where it is the least of all, as little as another's, and less than another's. */
  readonly best: string;
  readonly same: string;
  readonly less: string;
  /** @param digits so many that count */
  readonly text: (value: number, digits: number, unit: LengthUnit) => string;
}

const SETTLING: Criterion = {
  of: ({ settling_min: settling }) => settling,
  apart: ({ minutes }) => minutes,
  best: "settles soonest, at",
  same: "settles as soon, at",
  less: "settles sooner, at",
  text: duration,
};
const LOSS: Criterion = {
  of: ({ ramp_up_loss: loss }) => loss,
  apart: ({ products }) => products,
  best: "loses least on the way,",
  same: "loses as much on the way,",
  less: "loses less on the way,",
  text: counted("item"),
};
const FLOOR: Criterion = {
  of: ({ floor_m2: floor }) => floor,
  best: "takes the least floor,",
  same: "takes as much floor,",
  less: "takes less floor,",
  text: (area, digits, unit) => `${figure(areaIn(unit, area), digits)} ${unit}²`,
};
const BELT: Criterion = {
  of: ({ belt_m: belt }) => belt,
  best: "takes the least belt,",
  same: "takes as much belt,",
  less: "takes less belt,",
  text: (metres, digits, unit) => `${figure(lengthIn(unit, metres), digits)} ${unit}`,
};
const ELEMENTS: Criterion = {
  of: junctions,
  best: "has the fewest dividers and merges,",
  same: "has as many dividers and merges,",
  less: "has fewer dividers and merges,",
  text: String,
};
const EVENNESS: Criterion = {
  of: ({ evenness_at_half_feed: evenness }) => (evenness === null ? null : -evenness),
  best: "shares half the feed most evenly, with Jain's index at",
  same: "shares half the feed as evenly, with Jain's index at",
  less: "shares half the feed more evenly, with Jain's index at",
  text: (less, digits) => figure(-less, digits),
};
const HOLD_UP: Criterion = {
  of: ({ hold_up_settled: holdUp }) => holdUp,
  apart: ({ products }) => products,
  best: "holds least once settled,",
  same: "holds as much once settled,",
  less: "holds less once settled,",
  text: counted("item"),
};
const TORN_OUT: Criterion = {
  of: (layout) => elementsGrown(layout, "torn_out"),
  best: "has the least torn out for growth,",
  same: "has as much torn out for growth,",
  less: "has less torn out for growth,",
  text: counted("element"),
};
const ADDED: Criterion = {
  of: (layout) => elementsGrown(layout, "added"),
  best: "has the least added for it,",
  same: "has as much added for it,",
  less: "has less added for it,",
  text: counted("element"),
};

/** At the furthest step of growth. */
function elementsGrown({ growth, one_more: more }: LayoutResult, what: "added" | "torn_out"): number | null {
  const step = growth.at(-1) ?? more;
  return step && elementsIn(step[what]);
}

/** What is wanted first, then what decides between equals. */
const CRITERIA: Readonly<Record<Priority, readonly [Criterion, ...Criterion[]]>> = {
  fast: [SETTLING, LOSS],
  small: [FLOOR, BELT],
  cheap: [ELEMENTS, BELT, FLOOR],
  even: [EVENNESS, SETTLING],
  grow: [TORN_OUT, ADDED],
};

/** Where there is nothing to compare with: before the figure of what is wanted first. */
const ALONE: Readonly<Record<Priority, string>> = {
  fast: "it settles at",
  small: "it takes",
  even: "it shares half the feed with Jain's index at",
  cheap: "it takes dividers and merges,",
  grow: "growth tears out",
};

/** Between those that are alike in all that the priority asks for. */
const FURTHER: readonly Criterion[] = [SETTLING, LOSS, ELEMENTS, BELT, FLOOR, HOLD_UP, EVENNESS, TORN_OUT];

export interface Recommendation {
  readonly recommended: string | null;
  /** In a sentence, without a full stop. */
  readonly because: string;
}

export interface Recommended extends Recommendation {
  /** Beside it, where better: the best of those that leave less stock. */
  readonly withoutReserve: string | null;
  readonly withoutReserveBecause: string | null;
}

interface HeldTo {
  /** The line as it stands, which stays where nothing is better. */
  readonly today: string | null;
  readonly grain: Grain;
}

/**
 * By the rule for starts: limits first, then what makes the most and leaves the stock that today's leaves; then what is wanted.
 * @param unit of lengths, as the file has them
 */
export function recommendationOf(
  layouts: readonly LayoutResult[],
  priority: Priority,
  unit: LengthUnit = "m",
  { today, grain }: HeldTo = { today: null, grain: NO_GRAIN },
): Recommended {
  const feasible = layouts.filter(isWeighed);
  if (feasible.length === 0) return nothing("none of the layouts can be built as the line is");
  const goesOn = (those: readonly LayoutResult[]): boolean => those.some((layout) => makes(layout) > 0);
  const keeping = feasible.filter(keepsLimits);
  const kept = goesOn(keeping) ? keeping : feasible;
  const leaving = kept.filter(leaves);
  const able = goesOn(leaving) ? leaving : kept;
  const most = Math.max(...able.map(makes));
  if (most === 0) return nothing("nothing is made in the long run, whatever the layout");
  const making = able.filter((layout) => makes(layout) === most);
  const [first] = ordered(
    making.filter(({ id, undominated }) => undominated || id === today),
    priority,
    { today, grain },
  );
  if (first === undefined) return nothing("none of the layouts makes the most and is unbeaten");
  const others = ordered(making, priority, { today, grain }).filter((layout) => layout !== first);
  const spare = kept.filter((layout) => makes(layout) >= most && !leaves(layout));
  const [bare] = ordered(spare, priority, { today, grain });
  const isWorthTelling =
    bare !== undefined && leaves(first) && betterIn(bare, first, CRITERIA[priority].map(decides), grain);
  return {
    ...chosenText(
      first,
      others,
      priority,
      { grain, unit },
      {
        limits: kept.length < feasible.length,
        stock: able.length < kept.length,
        most: making.length < able.length,
      },
    ),
    withoutReserve: isWorthTelling ? bare.id : null,
    withoutReserveBecause: isWorthTelling ? `${bare.id} ${comparedText(priority, bare, first, { grain, unit })}` : null,
  };
}

function nothing(because: string): Recommended {
  return { recommended: null, because, withoutReserve: null, withoutReserveBecause: null };
}

/** Where it is not known, stock decides nothing. */
function leaves({ reserve_kept: kept }: LayoutResult): boolean {
  return kept === null || keepsReserve({ reserveKept: kept });
}

/** The best first, then the best of the others, and so on. */
function ordered(those: readonly LayoutResult[], priority: Priority, { today, grain }: HeldTo): LayoutResult[] {
  const left = [...those];
  const inOrder: LayoutResult[] = [];
  while (left.length > 0) {
    const equals = leastIn(left, CRITERIA[priority].map(decides), grain);
    const standing = equals.find(({ id }) => id === today);
    const [first] = standing ? [standing] : leastIn(equals, FURTHER.map(decides), grain);
    if (first === undefined) break;
    inOrder.push(first);
    left.splice(left.indexOf(first), 1);
  }
  return inOrder;
}

function decides({ of, apart }: Criterion): Decides<LayoutResult> {
  return { of: (layout) => rankOf(of(layout)), apart: (grain) => apart?.(grain) ?? 0 };
}

interface Told {
  readonly grain: Grain;
  readonly unit: LengthUnit;
}

function chosenText(
  first: LayoutResult,
  others: readonly LayoutResult[],
  priority: Priority,
  as: Told,
  by: { readonly limits: boolean; readonly stock: boolean; readonly most: boolean },
): Recommendation {
  const wanted = [
    ...(by.limits ? ["keep all limits"] : []),
    ...(by.most ? ["make the most"] : []),
    ...(by.stock ? ["leave today's stock in the buffers"] : []),
  ].join(" and ");
  const other = others.find(({ id }) => id === "chain") ?? others[0];
  if (other === undefined) {
    const only = `${first.id} is the only one ${wanted === "" ? "that can be built" : `to ${wanted}`}`;
    return { recommended: first.id, because: `${only}${aloneText(first, priority, as.unit)}` };
  }
  const among = wanted === "" ? "" : `, of those that ${wanted},`;
  return { recommended: first.id, because: `${first.id}${among} ${comparedText(priority, first, other, as)}` };
}

function rankOf(value: number | null): number {
  return value === null ? Infinity : rounded(value);
}

function aloneText(only: LayoutResult, priority: Priority, unit: LengthUnit): string {
  const [{ of, text }] = CRITERIA[priority];
  const value = of(only);
  return value === null ? "" : `; ${ALONE[priority]} ${text(value, DIGITS, unit)}`;
}

/**
 * As far as the first thing in which they differ. What the priority does not ask for is told only where it decides, and
 * that the other one, beaten in all else, is better in something that is not weighed is passed over.
 */
function comparedText(priority: Priority, first: LayoutResult, other: LayoutResult, { grain, unit }: Told): string {
  const wanted = CRITERIA[priority];
  const parts: string[] = [];
  for (const criterion of new Set([...wanted, ...FURTHER])) {
    const [own, theirs] = [criterion.of(first), criterion.of(other)];
    const isLess = betterIn(first, other, [decides(criterion)], grain);
    if (own === null || betterIn(other, first, [decides(criterion)], grain)) continue;
    if (!isLess) {
      if (wanted.includes(criterion)) parts.push(`${criterion.same} ${criterion.text(own, DIGITS, unit)}`);
      continue;
    }
    parts.push(
      `${criterion === wanted[0] ? criterion.best : criterion.less} ${insteadText(criterion, [own, theirs], other, unit)}`,
    );
    return `${joined(parts)}${criterion === ELEMENTS ? "" : `, with ${dividersText(first, other)}`}`;
  }
  return joined([...parts, `is otherwise no worse than ${nameOf(other)}`]);
}

/** "24 s instead of 5.9 min for the chain", with as many digits as it takes to tell them apart. */
function insteadText(
  { of, text: inUnit }: Criterion,
  [own, theirs]: readonly [number, number | null],
  other: LayoutResult,
  unit: LengthUnit,
): string {
  const text = (value: number, digits: number): string => inUnit(value, digits, unit);
  if (theirs === null) {
    const lacks = of === SETTLING.of ? `${nameOf(other)} does not settle` : `that of ${nameOf(other)} is not known`;
    return `${text(own, DIGITS)}, where ${lacks} within the horizon`;
  }
  let digits = DIGITS;
  while (digits < MOST_DIGITS && text(own, digits) === text(theirs, digits)) digits++;
  return `${text(own, digits)} instead of ${text(theirs, digits)} for ${nameOf(other)}`;
}

function dividersText(first: LayoutResult, other: LayoutResult): string {
  const text = ({ dividers, merges }: LayoutResult): string =>
    `${counted("divider")(dividers ?? 0)}${merges ? ` and ${counted("merge")(merges)}` : ""}`;
  const [own, theirs] = [text(first), text(other)];
  return own === theirs ? `${own} in both` : `${own} instead of ${theirs}`;
}

function nameOf({ id }: LayoutResult): string {
  return id === "chain" || id === "tree" || id === "loop" ? `the ${id}` : id;
}

function joined(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")}, and ${parts.at(-1)}`;
}

/** Digits that count, unless it takes more to tell two figures apart. */
const DIGITS = 3;
const MOST_DIGITS = 9;

/** Seconds below a minute, and a digit less of them. */
function duration(minutes: number, digits: number): string {
  return minutes * 60 < 59.95 ? `${figure(minutes * 60, digits - 1)} s` : `${figure(minutes, digits)} min`;
}

function counted(what: string): (value: number, digits?: number) => string {
  return (value, digits = DIGITS) => {
    const shown = digits > DIGITS || Math.abs(value) < 10 ? figure(value, digits) : String(Math.round(value));
    return `${shown} ${what}${shown === "1" ? "" : "s"}`;
  };
}

function figure(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits)));
}
