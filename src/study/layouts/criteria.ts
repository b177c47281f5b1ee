/** What decides between layouts for each priority. */
import { approximateText } from "../../quantity/approximate.ts";
import type { Grain } from "../recommended/recommended.ts";
import type { CriterionName, LayoutResult, Priority } from "./layout-results.ts";
import { elementsIn, junctions } from "./weighed.ts";

export interface Criterion {
  readonly name: CriterionName;
  /** The less the better; `null` is worse than any. */
  readonly of: (layout: LayoutResult) => number | null;
  /** Where two that are no further apart are equal. */
  readonly apart?: (grain: Grain) => number;
}

const SETTLING: Criterion = {
  name: "settling",
  of: ({ settling_min: settling }) => settling,
  apart: ({ minutes }) => minutes,
};
const LOSS: Criterion = { name: "loss", of: ({ ramp_up_loss: loss }) => loss, apart: ({ products }) => products };
const FLOOR: Criterion = { name: "floor", of: ({ floor_m2: floor }) => floor };
const BELT: Criterion = { name: "belt", of: ({ belt_m: belt }) => belt };
const JUNCTIONS: Criterion = { name: "junctions", of: junctions };
const EVENNESS: Criterion = {
  name: "evenness",
  of: ({ evenness_at_half_feed: evenness }) => (evenness === null ? null : -evenness),
};
const HOLD_UP: Criterion = {
  name: "hold-up",
  of: ({ hold_up_settled: holdUp }) => holdUp,
  apart: ({ products }) => products,
};
const TORN_OUT: Criterion = { name: "torn-out", of: (layout) => elementsGrown(layout, "torn_out") };
const ADDED: Criterion = { name: "added", of: (layout) => elementsGrown(layout, "added") };
const MONEY: Criterion = {
  name: "money",
  of: ({ money }) => (money?.over_years == null ? null : approximateText(money.over_years)),
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
  cheap: [JUNCTIONS, BELT, FLOOR],
  even: [EVENNESS, SETTLING],
  grow: [TORN_OUT, ADDED],
  money: [MONEY, SETTLING],
};

/** Between those that are alike in all that the priority asks for. */
export const FURTHER: readonly Criterion[] = [SETTLING, LOSS, JUNCTIONS, BELT, FLOOR, HOLD_UP, EVENNESS, TORN_OUT];
