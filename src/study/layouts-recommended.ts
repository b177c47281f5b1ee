/** The layout to build by what is wanted first, and why, in figures. */
import { areaIn, type LengthUnit, lengthIn } from "../quantity/units.ts";
import type { LayoutResult, Priority } from "./layout-results.ts";
import { elementsIn, isWeighed, junctions, keepsLimits, makes, rounded } from "./layouts-weighed.ts";

interface Criterion {
  /** The less the better; `null` is worse than any. */
  readonly of: (layout: LayoutResult) => number | null;
  /** Before the figure: where it is the least of all, as little as another's, and less than another's. */
  readonly best: string;
  readonly same: string;
  readonly less: string;
  /** @param digits so many that count */
  readonly text: (value: number, digits: number, unit: LengthUnit) => string;
}

const SETTLING: Criterion = {
  of: ({ settling_min: settling }) => settling,
  best: "settles soonest, at",
  same: "settles as soon, at",
  less: "settles sooner, at",
  text: duration,
};
const LOSS: Criterion = {
  of: ({ ramp_up_loss: loss }) => loss,
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

/** @param unit of lengths, as the file has them */
export function recommendationOf(
  layouts: readonly LayoutResult[],
  priority: Priority,
  unit: LengthUnit = "m",
): Recommendation {
  const feasible = layouts.filter(isWeighed);
  if (feasible.length === 0) return { recommended: null, because: "none of the layouts can be built as the line is" };
  const keeping = feasible.filter(keepsLimits);
  const able = keeping.some((layout) => makes(layout) > 0) ? keeping : feasible;
  const most = Math.max(...able.map(makes));
  if (most === 0) return { recommended: null, because: "nothing is made in the long run, whatever the layout" };
  const inOrder = able
    .filter((layout) => makes(layout) === most)
    .toSorted((a, b) => compared([...CRITERIA[priority], ...FURTHER], a, b));
  const unbeaten = inOrder.filter(({ undominated }) => undominated);
  const [first] = unbeaten;
  if (first === undefined) return { recommended: null, because: "none of the layouts makes the most and is unbeaten" };
  const others = inOrder.filter((layout) => layout !== first);
  const other = others.find(({ id }) => id === "chain") ?? others[0];
  const wanted = [
    ...(able.length < feasible.length ? ["keep all limits"] : []),
    ...(inOrder.length < able.length ? ["make the most"] : []),
  ].join(" and ");
  if (other === undefined) {
    const only = `${first.id} is the only one ${feasible.length === 1 ? "that can be built" : `to ${wanted}`}`;
    return { recommended: first.id, because: `${only}${aloneText(first, priority, unit)}` };
  }
  const among = wanted === "" ? "" : `, of those that ${wanted},`;
  return { recommended: first.id, because: `${first.id}${among} ${comparedText(priority, first, other, unit)}` };
}

function compared(criteria: readonly Criterion[], a: LayoutResult, b: LayoutResult): number {
  for (const { of } of criteria) {
    const [ofA, ofB] = [rankOf(of(a)), rankOf(of(b))];
    if (ofA !== ofB) return ofA < ofB ? -1 : 1;
  }
  return 0;
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
function comparedText(priority: Priority, first: LayoutResult, other: LayoutResult, unit: LengthUnit): string {
  const wanted = CRITERIA[priority];
  const parts: string[] = [];
  for (const criterion of new Set([...wanted, ...FURTHER])) {
    const [own, theirs] = [criterion.of(first), criterion.of(other)];
    const order = compared([criterion], first, other);
    if (own === null || order > 0) continue;
    if (order === 0) {
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
