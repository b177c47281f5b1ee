/**
 * How much room forks take across the flow, each packed as closely to the others as their outlines allow (E. M. Reingold,
 * J. S. Tilford, "Tidier drawings of trees", IEEE Trans. Software Eng. 7, 1981), its last outlet straight on.
 */
import type { Fork } from "./forks.ts";

/** Pixels between what stands side by side. */
export const GAP = 22;

/** In pixels from where its inlet is. */
export interface Shape {
  /** The ends of what stands in each zone: the texts before a level's elements and the elements, level by level. */
  readonly lows: readonly number[];
  readonly highs: readonly number[];
  /** Where its element begins. */
  readonly edge: number;
  /** Where belts leave it, and where each leads. */
  readonly ports: readonly number[];
  readonly ends: readonly number[];
}

export interface Widths {
  readonly element: (fork: Fork) => number;
  /** Of each belt, so that what branches off alike stands below each other. */
  readonly text: number;
}

export function shapesOf(head: Fork, widths: Widths): Map<Fork, Shape> {
  const shapes = new Map<Fork, Shape>();
  const shapeOf = (fork: Fork): Shape => {
    const shape = shaped(fork, fork.outlets.map(shapeOf), widths);
    shapes.set(fork, shape);
    return shape;
  };
  shapeOf(head);
  return shapes;
}

function shaped(fork: Fork, kids: readonly Shape[], widths: Widths): Shape {
  const width = widths.element(fork);
  const text = fork.inlet === null ? 0 : widths.text / 2;
  const edge = -width / (fork.returned === null ? 2 : 3);
  const step = width / (kids.length + 1) / (kids.length > 2 ? 2 : 1);
  const ports = kids.map((_, i) => edge + width / 2 - (kids.length - 1 - i) * step);
  const lows: number[] = [];
  const highs: number[] = [];
  const ends: number[] = [];
  for (const [i, kid] of [...kids.entries()].reverse()) {
    const room = kid.highs.flatMap((high, zone) => (lows[zone] === undefined ? [] : [lows[zone] - GAP - high]));
    const end = ends.length === 0 ? (ports[i] ?? 0) : Math.min(...room);
    ends.unshift(end);
    for (const [zone, low] of kid.lows.entries()) {
      lows[zone] = Math.min(lows[zone] ?? Infinity, end + low);
      highs[zone] = Math.max(highs[zone] ?? -Infinity, end + (kid.highs[zone] ?? 0));
    }
  }
  return { lows: [-text, edge, ...lows], highs: [text, edge + width, ...highs], edge, ports, ends };
}
