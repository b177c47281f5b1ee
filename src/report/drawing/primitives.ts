/** A drawing as a list of plain primitives, which SVG and PNG are both made from. */

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Upright; x and y are those of the upper left corner. */
export interface Box extends Point {
  readonly width: number;
  readonly height: number;
}

interface Common {
  /** The element or belt that it belongs to; `null` for title and legend. */
  readonly of: string | null;
}

/** A closed outline. */
export interface Outline extends Common {
  readonly kind: "outline";
  readonly points: readonly Point[];
  /** Radius of the corners. */
  readonly radius: number;
  readonly fill: string;
  readonly colour: string;
  readonly weight: number;
}

export interface Line extends Common {
  readonly kind: "line";
  readonly points: readonly Point[];
  readonly colour: string;
  readonly weight: number;
  readonly dash: readonly number[];
  /** An arrowhead at its last point. */
  readonly hasHead: boolean;
}

export interface Text extends Common {
  readonly kind: "text";
  readonly text: string;
  /** Of the baseline. */
  readonly x: number;
  readonly y: number;
  readonly anchor: "start" | "middle";
  readonly size: number;
  readonly weight: 400 | 600;
  readonly colour: string;
}

export type Primitive = Outline | Line | Text;

export interface DisplayList {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** For readers who can't see it. */
  readonly description: string;
  readonly primitives: readonly Primitive[];
}

export function corners({ x, y, width, height }: Box): Point[] {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
}

export function middle({ x, y, width, height }: Box): Point {
  return { x: x + width / 2, y: y + height / 2 };
}

/** @param gap by which they must stay apart */
export function overlap(a: Box, b: Box, gap = 0): boolean {
  return (
    a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height + gap && b.y < a.y + a.height + gap
  );
}

const HEAD_LENGTH = 13;
const HEAD_HALF = 5.5;

/** The corners of an arrowhead at a line's end. A heavier line has a larger one. */
export function arrowHead(points: readonly Point[], weight: number): Point[] {
  const tip = points.at(-1);
  const before = points.at(-2);
  if (tip === undefined || before === undefined) return [];
  const length = Math.hypot(tip.x - before.x, tip.y - before.y) || 1;
  const along = { x: (tip.x - before.x) / length, y: (tip.y - before.y) / length };
  const size = 1 + (weight - 2) / 6;
  const back = { x: tip.x - along.x * HEAD_LENGTH * size, y: tip.y - along.y * HEAD_LENGTH * size };
  const aside = { x: -along.y * HEAD_HALF * size, y: along.x * HEAD_HALF * size };
  return [tip, { x: back.x + aside.x, y: back.y + aside.y }, { x: back.x - aside.x, y: back.y - aside.y }];
}

/** The line without what its arrowhead covers, so that a heavy one does not show beside the tip. */
export function shaft(points: readonly Point[]): Point[] {
  const tip = points.at(-1);
  const before = points.at(-2);
  if (tip === undefined || before === undefined) return [...points];
  const length = Math.hypot(tip.x - before.x, tip.y - before.y) || 1;
  const cut = Math.min(length, HEAD_LENGTH - 3);
  const end = { x: tip.x - ((tip.x - before.x) / length) * cut, y: tip.y - ((tip.y - before.y) / length) * cut };
  return [...points.slice(0, -1), end];
}
