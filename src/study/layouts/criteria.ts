/** What decides between layouts for each priority, and how each is told. */
import { approximateText } from "../../quantity/approximate.ts";
import { inMinorUnits, measured } from "../../quantity/money.ts";
import { areaIn, type LengthUnit, lengthIn } from "../../quantity/units.ts";
import type { Grain } from "../recommended/recommended.ts";
import type { LayoutResult, Priority } from "./layout-results.ts";
import { elementsIn, junctions } from "./weighed.ts";

export interface Criterion {
  /** The less the better; `null` is worse than any. */
  readonly of: (layout: LayoutResult) => number | null;
  /** Where two that are no further apart are equal. */
  readonly apart?: (grain: Grain) => number;
  /** Before the figure: where it is the least of all, as little as another's, and less than another's. */
  readonly best: string;
  readonly same: string;
  readonly less: string;
  /** @param digits so many that count */
  readonly text: (value: number, digits: number, unit: LengthUnit, like: LayoutResult) => string;
}

export const SETTLING: Criterion = {
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
export const ELEMENTS: Criterion = {
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

const MONEY: Criterion = {
  of: ({ money }) => (money?.over_years == null ? null : approximateText(money.over_years)),
  best: "costs least, the change and what starts lose,",
  same: "costs as much, the change and what starts lose,",
  less: "costs less, the change and what starts lose,",
  text: (value, _digits, _unit, { money }) =>
    money === undefined
      ? ""
      : `${inMinorUnits(measured(value), money.currency)} ${money.currency} in ${money.years} years`,
};

/** At the furthest step of growth. */
function elementsGrown({ growth, one_more: more }: LayoutResult, what: "added" | "torn_out"): number | null {
  const step = growth.at(-1) ?? more;
  return step && elementsIn(step[what]);
}

/** What is wanted first, then what decides between equals. */
export const CRITERIA: Readonly<Record<Priority, readonly [Criterion, ...Criterion[]]>> = {
  fast: [SETTLING, LOSS],
  small: [FLOOR, BELT],
  cheap: [ELEMENTS, BELT, FLOOR],
  even: [EVENNESS, SETTLING],
  grow: [TORN_OUT, ADDED],
  money: [MONEY, SETTLING],
};

/** Where there is nothing to compare with: before the figure of what is wanted first. */
export const ALONE: Readonly<Record<Priority, string>> = {
  fast: "it settles at",
  small: "it takes",
  even: "it shares half the feed with Jain's index at",
  cheap: "it takes dividers and merges,",
  grow: "growth tears out",
  money: "it costs, with what starts lose,",
};

/** Between those that are alike in all that the priority asks for. */
export const FURTHER: readonly Criterion[] = [SETTLING, LOSS, ELEMENTS, BELT, FLOOR, HOLD_UP, EVENNESS, TORN_OUT];

/** Digits that count, unless it takes more to tell two figures apart. */
export const DIGITS = 3;
export const MOST_DIGITS = 9;

/** Seconds below a minute, and a digit less of them. */
function duration(minutes: number, digits: number): string {
  return minutes * 60 < 59.95 ? `${figure(minutes * 60, digits - 1)} s` : `${figure(minutes, digits)} min`;
}

export function counted(what: string): (value: number, digits?: number) => string {
  return (value, digits = DIGITS) => {
    const shown = digits > DIGITS || Math.abs(value) < 10 ? figure(value, digits) : String(Math.round(value));
    return `${shown} ${what}${shown === "1" ? "" : "s"}`;
  };
}

function figure(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits)));
}
