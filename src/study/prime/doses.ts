/** Tactics that come in doses, each from the weakest dose to the strongest. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { approximate, ratio, rational, whole } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import type { Among } from "../../scenario/tactic-shapes.ts";
import { twoThirdsAlong } from "../comparison/standard-tactics.ts";
import { NO_TACTIC } from "../play.ts";
import type { DoseUnit } from "../results.ts";

export interface Dosed {
  readonly id: string;
  readonly unit: DoseUnit;
  /** From the weakest to the strongest; the first does next to nothing. */
  readonly doses: readonly number[];
  readonly tacticOf: (dose: number) => Tactic;
  readonly byHand: boolean;
}

const WHILE_MIN = whole(10);
const MOST_SECONDS_HELD = 1800;
const MOST_SECONDS_BETWEEN = 120;
const MOST_PER_CENT = 100;

export function dosedTactics(scenario: Scenario): Dosed[] {
  const order = feedingOrder(scenario, expand(scenario));
  const longest = Math.max(...order.map((machines) => machines.length), 1);
  const capacities = scenario.machines.flatMap(({ infeed }) => infeed.map(({ count }) => count));
  const all: Among = { which: "all" };
  const stocked = (among: Among, amount: number | null): Partial<Tactic> => {
    return { prefill: { amounts: { among, amount }, belts: false, byHandPerMin: null, while: "stopped" } };
  };
  const dosed = (
    id: string,
    unit: DoseUnit,
    doses: readonly number[],
    partsOf: (dose: number) => Partial<Tactic>,
    byHand = false,
  ): Dosed => ({ id, unit, doses, byHand, tacticOf: (dose) => ({ ...NO_TACTIC, ...partsOf(dose), id }) });
  const whileGiven = { for_min: approximate(WHILE_MIN) };
  const seconds = (count: number) => ratio(BigInt(count), 60n);
  const perCent = (count: number) => ratio(BigInt(count), 100n);

  return [
    dosed(
      "stocked",
      { counts: "items-in-each" },
      upTo(Math.max(...capacities)),
      (dose) => (dose === 0 ? {} : stocked(all, dose)),
      true,
    ),
    dosed(
      "tail-stocked",
      { counts: "full-from-tail" },
      upTo(longest),
      (dose) => (dose === 0 ? {} : stocked({ which: "last", count: dose }, null)),
      true,
    ),
    dosed("held", { counts: "seconds-held" }, steps(MOST_SECONDS_HELD, 5), (dose) => {
      return { hold: { until: { afterMin: seconds(dose) }, release: "together", everyMin: whole(0) } };
    }),
    dosed("tail-starts-first", { counts: "seconds-between-starts" }, upTo(MOST_SECONDS_BETWEEN), (dose) => {
      return { stagger: { first: "tail", everyMin: seconds(dose) } };
    }),
    dosed("boosted", { counts: "per-cent-more-feed", ...whileGiven }, upTo(MOST_PER_CENT), (dose) => {
      return dose === 0 ? {} : { boost: { factor: rational("1").add(perCent(dose)), forMin: WHILE_MIN } };
    }),
    dosed(
      "low-level",
      { counts: "items-of-room" },
      upTo(Math.max(...capacities))
        .toReversed()
        .slice(0, -1),
      (dose) => {
        return { lowLevel: { level: dose, among: all, forMin: null } };
      },
    ),
    dosed("metered", { counts: "per-cent-over-need" }, upTo(MOST_PER_CENT).toReversed(), (dose) => {
      return { metered: { factor: rational("1").add(perCent(dose)) } };
    }),
    dosed("far-end-first", { counts: "seconds-far-end-first" }, steps(MOST_SECONDS_HELD, 5), (dose) => {
      return dose === 0 ? {} : { farEndFirst: { until: { afterMin: seconds(dose) } } };
    }),
    dosed("second-feed", { counts: "per-cent-at-second-place", ...whileGiven }, upTo(MOST_PER_CENT - 1), (dose) => {
      return dose === 0 ? {} : { secondFeed: { share: perCent(dose), at: twoThirdsAlong(order), forMin: WHILE_MIN } };
    }),
  ];
}

function upTo(most: number): number[] {
  return Array.from({ length: most + 1 }, (_, dose) => dose);
}

function steps(most: number, step: number): number[] {
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => i * step);
}
