/** Where labels go in a plot so that none covers another, and as little else as can be. */
import { type Pixel, PointCounts } from "./point-counts.ts";

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface WantedLabel {
  /** Points that the label may stand at, any of which will do. */
  readonly anchors: readonly Pixel[];
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

export interface PlacedLabel {
  readonly anchor: Pixel;
  readonly box: Box;
}

/** Between a point and its label. */
const GAPS = [14, 30, 56, 90, 140, 200, 280, 380];
/** Between heights that are tried. */
const STEP = 12;
/** Room that a point wants around it. */
const AROUND = 9;
/** In pixels of distance: what it costs to cover a label, to cover a point, and to lead through either. */
const COVERS_LABEL = 1e6;
const COVERS_POINT = 25;
const COVERS_OWN = 8;
const LEADS_THROUGH_LABEL = 3000;
const LEADS_THROUGH_POINT = 14;
const LEADS_PAST_ANCHOR = 400;
/** To stand where another line runs, for each of its points there; near it; or where another label stands. */
const SHARED_ANCHOR = 1200;
const CROWDED_ANCHOR = 7;
const TAKEN_ANCHOR = 800;

/**
 * Labels are placed in the order given, each at the cheapest of many places around its anchors.
 * @param area that labels stay in
 * @param points what labels had better not cover: one array for each label, of its own points, further arrays for all else
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  area: Box,
  points: readonly (readonly Pixel[])[],
): PlacedLabel[] {
  const placed: PlacedLabel[] = [];
  const counts = (of: readonly (readonly Pixel[])[]): PointCounts =>
    new PointCounts(of.flat(), area.left + area.width + AROUND, area.top + area.height + AROUND);
  for (const [index, label] of wanted.entries()) {
    const foreign = counts(points.filter((_, owner) => owner !== index));
    const own = counts([points[index] ?? []]);
    let best: PlacedLabel = { anchor: { x: area.left, y: area.top }, box: { ...area, ...sizeOf(label) } };
    let least = Infinity;
    for (const anchor of label.anchors) {
      const standing =
        CROWDED_ANCHOR * around(foreign, anchor, 2 * AROUND) +
        SHARED_ANCHOR * around(foreign, anchor, 6) +
        TAKEN_ANCHOR * placed.filter((other) => apart(anchor, other.anchor) < 3 * AROUND).length;
      for (const box of boxesAround(anchor, label, area)) {
        const candidate = { anchor, box };
        let cost = standing + distance(anchor, box);
        if (cost < least) cost += labelCost(candidate, placed);
        if (cost < least) cost += pointCost(candidate, foreign, own);
        if (cost < least) {
          least = cost;
          best = candidate;
        }
      }
    }
    placed.push(best);
  }
  return placed;
}

function around(counts: PointCounts, { x, y }: Pixel, margin: number): number {
  return counts.within(x - margin, y - margin, x + margin, y + margin);
}

function covered(counts: PointCounts, { left, top, width, height }: Box, margin: number): number {
  return counts.within(left - margin, top - margin, left + width + margin, top + height + margin);
}

function sizeOf({ width, height }: WantedLabel): { width: number; height: number } {
  return { width, height };
}

/** To both sides, the higher and lower the further off, and right above and below. */
function boxesAround({ x, y }: Pixel, label: WantedLabel, area: Box): Box[] {
  const size = sizeOf(label);
  const { width, height } = size;
  const boxes: Box[] = [];
  const add = (left: number, top: number): void => {
    const inside =
      left >= area.left &&
      top >= area.top &&
      left + width <= area.left + area.width &&
      top + height <= area.top + area.height;
    if (inside) boxes.push({ left, top, ...size });
  };
  for (const gap of GAPS) {
    add(x - width / 2, y - gap - height);
    add(x - width / 2, y + gap);
    // Steeper leaders would run through the other points of a column.
    for (let dy = 0; dy <= 1.5 * gap + STEP; dy += STEP) {
      for (const side of dy === 0 ? [0] : [-dy, dy]) {
        add(x + gap, y - height / 2 + side);
        add(x - gap - width, y - height / 2 + side);
      }
    }
  }
  return boxes;
}

/** From a point to the nearest edge of a box. */
function distance(point: Pixel, box: Box): number {
  return apart(point, leaderEnd(point, box));
}

function apart(a: Pixel, b: Pixel): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** Where a line from the point meets the label: the middle of the side that faces it, or its nearest edge. */
export function leaderEnd({ x, y }: Pixel, { left, top, width, height }: Box): Pixel {
  if (x < left) return { x: left, y: top + height / 2 };
  if (x > left + width) return { x: left + width, y: top + height / 2 };
  return { x, y: y < top ? top : Math.min(y, top + height) };
}

function labelCost(candidate: PlacedLabel, placed: readonly PlacedLabel[]): number {
  let cost = 0;
  const way = leaderPoints(candidate);
  for (const other of placed) {
    if (overlap(candidate.box, other.box)) cost += COVERS_LABEL;
    if (way.some((point) => within(point, other.box, 2))) cost += LEADS_THROUGH_LABEL;
    if (way.some((point) => apart(point, other.anchor) < 2 * AROUND)) cost += LEADS_PAST_ANCHOR;
    if (leaderPoints(other).some((point) => within(point, candidate.box, 2))) cost += LEADS_THROUGH_LABEL;
  }
  return cost;
}

function pointCost(candidate: PlacedLabel, foreign: PointCounts, own: PointCounts): number {
  let cost =
    COVERS_POINT * covered(foreign, candidate.box, AROUND) + COVERS_OWN * covered(own, candidate.box, AROUND / 2);
  for (const point of leaderPoints(candidate)) cost += LEADS_THROUGH_POINT * around(foreign, point, AROUND);
  return cost;
}

/** Points along the leader, those next to the anchor left off. */
function leaderPoints({ anchor, box }: PlacedLabel): Pixel[] {
  const end = leaderEnd(anchor, box);
  const length = apart(anchor, end);
  const found: Pixel[] = [];
  for (let at = 16; at < length; at += 8) {
    const part = at / length;
    found.push({ x: anchor.x + (end.x - anchor.x) * part, y: anchor.y + (end.y - anchor.y) * part });
  }
  return found;
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.left + b.width && b.left < a.left + a.width && a.top < b.top + b.height && b.top < a.top + a.height;
}

function within({ x, y }: Pixel, { left, top, width, height }: Box, margin: number): boolean {
  return x > left - margin && x < left + width + margin && y > top - margin && y < top + height + margin;
}

/** Points `step` apart along a line through the given ones; a single point stays one. */
export function evenly(line: readonly Pixel[], step = 8): Pixel[] {
  const found: Pixel[] = [];
  let last: Pixel | undefined;
  let due = 0;
  for (const point of line) {
    if (last === undefined) found.push(point);
    else {
      const length = apart(point, last);
      let at = step - due;
      for (; at <= length; at += step) {
        const part = at / length;
        found.push({ x: last.x + (point.x - last.x) * part, y: last.y + (point.y - last.y) * part });
      }
      due = length - (at - step);
    }
    last = point;
  }
  return found;
}
