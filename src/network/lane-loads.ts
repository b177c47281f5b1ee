/**
 * What the belts of lanes are to carry. An incoming lane's first stretch carries what comes in and what comes back, its
 * other belts their parts of that; an outgoing lane carries its part of all.
 */
import { larger, type Rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import type { BeltOrNone, LanesLine } from "../scenario/scenario.ts";
import type { Plant } from "./collect.ts";
import { type BeltLoad, carriedAtMost, mostFrom } from "./headroom.ts";
import { type Lanes, lanesElements } from "./lanes.ts";
import { needOf } from "./needs.ts";
import { circulation, leastParts } from "./shares.ts";

export interface LaneLoad extends BeltLoad {
  /** What comes in on this lane; for an outgoing lane on all of them. */
  readonly inputPerMin: Rational;
  /** `null` for an outgoing lane. */
  readonly source: string | null;
}

type DividedLanes = Extract<Lanes, { ok: true }>;

/**
 * Where consumers take less than is offered, incoming lanes pass the same at most, and what one consumer leaves goes to the
 * others evenly, which is what happens but for dividers below one another, which pass it to their neighbours first.
 */
export function laneLoads(line: LanesLine, lanes: DividedLanes, plant: Plant): LaneLoad[] {
  const offered = lanes.sources.map((source) => mostFrom(source, lanes.kinds, plant));
  const needs = lanes.consumers.map((consumer) => consumerNeed(consumer, lanes, plant));
  const taken = levelled(needs, sum(offered));
  const passed = levelled(offered, sum(taken));
  const total = sum(passed);
  const { connections, shares } = lanesElements(line, lanes, plant);
  return connections.flatMap(({ id, belt }): LaneLoad[] => {
    if (belt === null) return [];
    const ratePerMin = carriedAtMost(belt);
    const [, kind, place] = /\.(lane|cross|out)-(\d+)/.exec(id) ?? [];
    const index = Number(place) - 1;
    const [isOut, share] = [kind === "out", shares.get(id)];
    if (isOut) {
      const flowPerMin = taken[index] ?? ZERO;
      const greatest = ratePerMin.mul(whole(lanes.consumers.length));
      return [loadOf(id, flowPerMin, ratePerMin, greatest, total, null)];
    }
    const inputPerMin = passed[index] ?? ZERO;
    const perInput = share === undefined ? whole(1) : share.mul(circulation(lanes.shares));
    const source = lanes.sources[index] ?? null;
    return [loadOf(id, inputPerMin.mul(perInput), ratePerMin, ratePerMin.div(perInput), inputPerMin, source)];
  });
}

function loadOf(
  connection: string,
  flowPerMin: Rational,
  ratePerMin: Rational,
  greatestInputPerMin: Rational,
  inputPerMin: Rational,
  source: string | null,
): LaneLoad {
  return { connection, flowPerMin, ratePerMin, greatestInputPerMin, inputPerMin, source };
}

/** `null` for an outlet, which takes whatever comes. */
function consumerNeed(consumer: string, { kinds }: DividedLanes, plant: Plant): Rational | null {
  return plant.outlets.has(consumer) ? null : needOf(consumer, [...kinds], plant);
}

/** As even as can be with at most these; together as much as the total, or all of them. */
export function levelled(most: readonly (Rational | null)[], total: Rational): Rational[] {
  let [left, open] = [total, most.length];
  let level: Rational | null = null;
  const known = most.filter((one) => one !== null).toSorted((a, b) => a.compare(b));
  for (const one of known) {
    if (one.mul(whole(open)).compare(left) >= 0) break;
    left = left.sub(one);
    open--;
  }
  if (open > 0) level = left.div(whole(open));
  return most.map((one) => (level === null ? (one ?? ZERO) : one === null ? level : smaller(one, level)));
}

/** The least greater number of outgoing lanes with which every belt can carry its part; `null` if there is none near. */
export function moreLanes(line: LanesLine, lanes: DividedLanes, plant: Plant): number | null {
  const offered = lanes.sources.map((source) => mostFrom(source, lanes.kinds, plant));
  const needs = lanes.consumers.map((consumer) => consumerNeed(consumer, lanes, plant));
  const total = sum(levelled(needs, sum(offered)));
  const lane = levelled(offered, total).reduce(larger, ZERO);
  const back = line.return ?? line.belt;
  const carries = (belt: BeltOrNone, flow: Rational): boolean =>
    belt === null || flow.compare(carriedAtMost(belt)) <= 0;
  const now = lanes.consumers.length;
  for (let count = now + 1; count <= 4 * now; count++) {
    const parts = leastParts(count, line.ways);
    const each = lane.div(whole(count));
    if (
      carries(line.belt, each.mul(whole(parts))) &&
      carries(line.belt, total.div(whole(count))) &&
      carries(lanes.sources.length === 1 ? line.belt : line.branch, each) &&
      (parts === count || carries(back, each.mul(whole(parts - count))))
    )
      return count;
  }
  return null;
}
