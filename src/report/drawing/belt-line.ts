/** A belt as it is drawn: its line, left open where its text stands, and the text. */
import type { DrawnBelt } from "../../analysis/plant-drawing.ts";
import { ACCENT, ALERT, INK } from "../chart/palette.ts";
import { type Box, type Line, middle, type Point, type Primitive } from "./primitives.ts";
import { beltText, isTight, TEXT_SIZE } from "./words.ts";

export type BeltStyle = Pick<Line, "colour" | "weight" | "dash">;

export const PLAIN: BeltStyle = { colour: INK, weight: 2, dash: [] };
export const HANDED_OVER: BeltStyle = { ...PLAIN, dash: [9, 6] };
export const TIGHT: BeltStyle = { colour: ALERT, weight: 5, dash: [] };
/** Nothing moves on it. */
export const JAMMED: BeltStyle = { ...TIGHT, dash: [4, 8] };
/** Where an ordered junction serves a belt before the others. */
const FIRST = { weight: 11, length: 12, aside: 16 };
export const RETURNING: BeltStyle = { colour: ACCENT, weight: 3, dash: [] };

function styleOf(belt: DrawnBelt): BeltStyle {
  if (belt.jammed_by !== null) return JAMMED;
  if (isTight(belt)) return TIGHT;
  const { dash } = belt.rate_per_min === null ? HANDED_OVER : PLAIN;
  return { ...(belt.returns ? RETURNING : PLAIN), dash };
}

export function beltMarks(
  belt: DrawnBelt,
  points: readonly Point[],
  label: Box | null,
  commonRate: string | null,
): Primitive[] {
  const text = beltText(belt, commonRate);
  const style = styleOf(belt);
  const lines = [...lineMarks(belt.id, points, label, style), ...firstMarks(belt, points, style)];
  if (label === null || text === null) return lines;
  return [...lines, labelMark(belt.id, text, label, isTight(belt) ? 600 : 400)];
}

/** A stub at the junction, behind the arrowhead where the belt ends there. */
function firstMarks({ id, comes_first }: DrawnBelt, points: readonly Point[], { colour }: BeltStyle): Line[] {
  return comes_first.flatMap((end) => firstMark(id, end === "from" ? points : points.toReversed(), end, colour));
}

/** @param points from the junction on */
function firstMark(of: string | null, [start, next]: readonly Point[], end: "from" | "to", colour: string): Line[] {
  if (start === undefined || next === undefined) return [];
  const length = Math.hypot(next.x - start.x, next.y - start.y);
  const from = end === "from" ? 0 : Math.min(FIRST.aside, length);
  const to = Math.min(from + FIRST.length, length);
  const at = (pixels: number): Point => ({
    x: start.x + ((next.x - start.x) * pixels) / (length || 1),
    y: start.y + ((next.y - start.y) * pixels) / (length || 1),
  });
  if (to <= from) return [];
  return [{ kind: "line", of, points: [at(from), at(to)], colour, weight: FIRST.weight, dash: [], hasHead: false }];
}

export function labelMark(of: string | null, text: string, box: Box, weight: 400 | 600): Primitive {
  const { x, y } = middle(box);
  return { kind: "text", of, text, x, y: y + 7, anchor: "middle", size: TEXT_SIZE, weight, colour: INK };
}

export function lineMarks(
  of: string | null,
  points: readonly Point[],
  label: Box | null,
  style: BeltStyle,
): Primitive[] {
  const pieces = label === null ? [points] : without(points, label);
  return pieces.map((piece, i) => ({ kind: "line", of, points: piece, ...style, hasHead: i === pieces.length - 1 }));
}

/** The pieces of a line outside a box. */
function without(points: readonly Point[], box: Box): Point[][] {
  const [first, ...others] = points;
  if (first === undefined) return [];
  let piece: Point[] = [first];
  const pieces: Point[][] = [];
  let from = first;
  for (const to of others) {
    const inside = withinBox(from, to, box);
    if (inside === null) piece.push(to);
    else {
      const [enter, leave] = inside;
      pieces.push([...piece, at(from, to, enter)]);
      piece = [at(from, to, leave), to];
    }
    from = to;
  }
  pieces.push(piece);
  return pieces.map(tidied).filter((one) => one.length > 1);
}

/** The part of a level or upright stretch that lies in the box, as shares of its length. */
function withinBox(from: Point, to: Point, box: Box): [number, number] | null {
  const isLevel = from.y === to.y;
  const [a, b] = isLevel ? [from.x, to.x] : [from.y, to.y];
  const across = isLevel ? from.y : from.x;
  const [low, high] = isLevel ? [box.x, box.x + box.width] : [box.y, box.y + box.height];
  const [near, far] = isLevel ? [box.y, box.y + box.height] : [box.x, box.x + box.width];
  if (a === b || across <= near || across >= far) return null;
  const shares = [(low - a) / (b - a), (high - a) / (b - a)].map((share) => Math.min(1, Math.max(0, share)));
  const [enter, leave] = [Math.min(...shares), Math.max(...shares)];
  return enter < leave ? [enter, leave] : null;
}

function at(from: Point, to: Point, share: number): Point {
  return { x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share };
}

/** Without points that repeat the one before. */
function tidied(points: readonly Point[]): Point[] {
  return points.filter(({ x, y }, i) => {
    const before = points[i - 1];
    return before === undefined || Math.hypot(x - before.x, y - before.y) > 0.25;
  });
}
