/** What is wrong with a placement, and how well it suits a page. */

import type { Direction, Size } from "./element-sizes.ts";
import type { Placement } from "./placed.ts";
import { type Box, overlap, type Point } from "./primitives.ts";

/** Why a placement can't be used, in words for tests; empty if it can. */
export function faultsOf({ elements, belts }: Placement): string[] {
  const boxes = [...elements].map(([id, box]) => ({ id, of: id, box }));
  const labels = [...belts].flatMap(([id, { label }]) => (label ? [{ id: `text of ${id}`, of: id, box: label }] : []));
  const faults: string[] = [];
  const all = [...boxes, ...labels].sort((a, b) => a.box.x - b.box.x);
  for (const [i, one] of all.entries()) {
    for (let j = i + 1; j < all.length; j++) {
      const other = all[j];
      if (other === undefined || other.box.x > one.box.x + one.box.width) break;
      if (overlap(one.box, other.box)) faults.push(`${one.id} lies on ${other.id}`);
    }
  }
  for (const [id, { points, from, to }] of belts) {
    if (!touches(points.at(0), elements.get(from))) faults.push(`${id} does not begin at ${from}`);
    if (!touches(points.at(-1), elements.get(to))) faults.push(`${id} does not end at ${to}`);
    for (const stretch of stretchesOf(points)) {
      if (stretch.width > 0 && stretch.height > 0) faults.push(`${id} is slanting`);
      for (const { id: other, of, box } of all) {
        if (of === id || (of === from && box === elements.get(from)) || of === to) continue;
        if (overlap(stretch, box)) faults.push(`${id} passes through ${other}`);
      }
    }
  }
  return faults;
}

function touches(point: Point | undefined, box: Box | undefined): boolean {
  return point !== undefined && box !== undefined && overlap({ ...point, width: 0, height: 0 }, box, 1);
}

export function stretchesOf(points: readonly Point[]): Box[] {
  return points.slice(1).map((end, i) => {
    const start = points[i] ?? end;
    return {
      x: Math.min(start.x, end.x),
      y: Math.min(start.y, end.y),
      width: Math.abs(end.x - start.x),
      height: Math.abs(end.y - start.y),
    };
  });
}

/** Pixels that a page has. */
const PAGE_WIDTH = 1700;
const PAGE_HEIGHT = 1300;
/** Title and legend need as much in any case. */
const LEAST_WIDTH = 1000;
const PER_CROSSING = 0.15;
const PER_BEND = 0.01;
const PER_PIXEL = 1 / 40_000;

/** By how much it is larger than a page. */
export function largeness({ width, height }: Size): number {
  const excess = Math.max(1, width / PAGE_WIDTH, height / PAGE_HEIGHT);
  const wideIsWorse = Math.max(1, width / PAGE_WIDTH);
  return excess * wideIsWorse + (Math.max(LEAST_WIDTH, width) * height) / (PAGE_WIDTH * PAGE_HEIGHT);
}

/** How large it is, and how tangled; less is better. */
export function unfitness(placement: Placement): number {
  let tangle = crossingsOf(placement) * PER_CROSSING;
  for (const { points } of placement.belts.values()) {
    tangle += Math.max(0, points.length - 2) * PER_BEND;
    for (const stretch of stretchesOf(points)) tangle += (stretch.width + stretch.height) * PER_PIXEL;
  }
  return largeness(placement) + tangle;
}

export function fitsPage({ width, height }: Size): boolean {
  return width <= PAGE_WIDTH && height <= PAGE_HEIGHT;
}

/** In the direction of the flow, for a page. */
export function isTooLong({ width, height }: Size, direction: Direction): boolean {
  return direction === "right" ? width > PAGE_WIDTH : height > PAGE_HEIGHT;
}

/** Places where one belt passes over another. */
export function crossingsOf({ belts }: Placement): number {
  const level: Box[] = [];
  const upright: Box[] = [];
  for (const { points } of belts.values()) {
    for (const stretch of stretchesOf(points)) (stretch.height === 0 ? level : upright).push(stretch);
  }
  let count = 0;
  for (const a of level) {
    for (const b of upright) {
      if (a.x < b.x && b.x < a.x + a.width && b.y < a.y && a.y < b.y + b.height) count++;
    }
  }
  return count;
}
