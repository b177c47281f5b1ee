/** Small steps in a belt's course next to an element are taken out: the belt meets the element a little aside instead. */
import type { Box, Point } from "./marks.ts";

/** Pixels. */
const SMALL = 9;
/** From where a belt meets an element to its corner, at least. */
const CORNER = 8;

export function withoutKinks(points: readonly Point[], from: Box | undefined, to: Box | undefined): Point[] {
  const straightAtStart = withoutFirstKink(points, from);
  return withoutFirstKink(straightAtStart.toReversed(), to).reverse();
}

function withoutFirstKink(points: readonly Point[], box: Box | undefined): Point[] {
  const [start, turn, next, after] = points;
  if (box === undefined || start === undefined || turn === undefined || next === undefined || after === undefined) {
    return [...points];
  }
  const step = { x: next.x - turn.x, y: next.y - turn.y };
  if (Math.abs(step.x) + Math.abs(step.y) > SMALL) return [...points];
  const moved = { x: start.x + step.x, y: start.y + step.y };
  const isOnSide =
    step.x === 0
      ? moved.y >= box.y + CORNER && moved.y <= box.y + box.height - CORNER
      : moved.x >= box.x + CORNER && moved.x <= box.x + box.width - CORNER;
  return isOnSide ? [moved, ...points.slice(3)] : [...points];
}
