/** What the tables, findings and pictures of a sweep are read off. */
import type { Sweep, SweepPoint, SweptQuantity } from "../../study/sweep/sweep-results.ts";
import { longRun } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** A figure of a point, `null` where there is none. */
export type Figure = (point: SweepPoint) => number | null;

export const settlingMin: Figure = (point) => point.settling_min;
export const withinMin: Figure = (point) => point.within_tolerance_min;
export const lostItems: Figure = (point) => point.ramp_up_loss;
export const settledHoldUp: Figure = (point) => point.hold_up_settled;
export const outputPerMin: Figure = (point) => longRun(point);

export function isFull({ settled_per_min: settled, full_per_min: full }: SweepPoint): boolean {
  return settled === full;
}

/** "feeds.blender.rate 60/min and machines.cartoner.infeed 50". */
export function pointName({ quantities }: Sweep, { values }: SweepPoint): string {
  return quantities.map(({ path }, q) => `${path}\u00a0${(values[q] ?? "").replaceAll(" ", "\u00a0")}`).join(" and ");
}

/** "60/min and 50", in the order of the quantities. */
export function valuesOf({ values }: SweepPoint): string {
  return values.map((value) => oneLine(value).replaceAll(" ", "\u00a0")).join(" and ");
}

export interface Extreme {
  readonly value: number;
  readonly point: SweepPoint;
}

/** The lowest and the highest figure, of several with the same one the first; `null` where no point has any. */
export function extremesOf(
  points: readonly SweepPoint[],
  of: Figure,
): (readonly [low: Extreme, high: Extreme] & { readonly known: number }) | null {
  const known = points.flatMap((point) => {
    const value = of(point);
    return value === null ? [] : [{ value, point }];
  });
  const [first] = known;
  if (first === undefined) return null;
  let [low, high] = [first, first];
  for (const one of known) {
    if (one.value < low.value) low = one;
    if (one.value > high.value) high = one;
  }
  return Object.assign([low, high] as const, { known: known.length });
}

export function isAlike(low: Extreme, high: Extreme): boolean {
  return high.value - low.value <= 1e-9 * Math.max(1, Math.abs(high.value));
}

/** "feeds.blender.rate (/min)". */
export function quantityHeading({ path, unit }: SweptQuantity): string {
  return unit === null || unit === "" ? path : `${path} (${unit})`;
}

/** "feed rate of blender, /min", for axes; a path of another form stands as it is. */
export function quantityInWords({ path, unit }: SweptQuantity): string {
  const [section = "", name = "", ...rest] = path.split(".");
  const one = { feeds: "feed", machines: "machine", lines: "line", tactics: "tactic" }[section];
  const what = rest.map((word) => word.replaceAll("-", " ")).join(" ");
  const words = one === undefined || what === "" ? path : `${what} of ${one} ${name}`;
  return unit === null || unit === "" ? words : `${words}, ${unit}`;
}

/** How many points there are in the sweep, or in the part of it. */
export function plannedCount({ of_points: all, shard }: Sweep): number {
  if (shard === null) return all;
  const [part = 1, of = 1] = shard.split("/").map(Number);
  return part > all ? 0 : Math.floor((all - part) / of) + 1;
}
