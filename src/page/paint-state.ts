/** States of machines: their word, their colour by the page's style, and a pattern of lines besides. */
import { BLOCKED, DOWN, HELD, RUNNING, STARVED } from "../core.ts";

export interface Look {
  readonly word: string;
  /** Of the page's style. */
  readonly fill: string;
  readonly line: string;
  /** Directions of its lines: along x and y for each pixel. */
  readonly pattern: "plain" | "rising" | "falling" | "crossed" | "level";
}

export const STATE_LOOKS: ReadonlyMap<number, Look> = new Map([
  [RUNNING, { word: "running", fill: "running", line: "running", pattern: "plain" }],
  [STARVED, { word: "starved", fill: "starved", line: "starved-line", pattern: "rising" }],
  [BLOCKED, { word: "blocked", fill: "blocked", line: "blocked-line", pattern: "falling" }],
  [DOWN, { word: "down", fill: "down", line: "down-line", pattern: "crossed" }],
  [HELD, { word: "held", fill: "held", line: "held-line", pattern: "level" }],
]);

export type Fills = (state: number) => string | CanvasPattern;

const TILE = 6;

/** Fills for a canvas, in the colours of the page's style. */
export function stateFills(ctx: CanvasRenderingContext2D, colour: (name: string) => string): Fills {
  const made = new Map<number, string | CanvasPattern>();
  for (const [state, look] of STATE_LOOKS) made.set(state, patternOf(ctx, look, colour) ?? colour(look.fill));
  return (state) => made.get(state) ?? "#888";
}

function patternOf(
  ctx: CanvasRenderingContext2D,
  { fill, line, pattern }: Look,
  colour: (name: string) => string,
): CanvasPattern | null {
  if (pattern === "plain") return null;
  const tile = document.createElement("canvas");
  [tile.width, tile.height] = [TILE, TILE];
  const pen = tile.getContext("2d");
  if (pen === null) return null;
  pen.fillStyle = colour(fill);
  pen.fillRect(0, 0, TILE, TILE);
  pen.strokeStyle = colour(line);
  pen.lineWidth = 1.2;
  pen.beginPath();
  const stroke = (fromX: number, fromY: number, toX: number, toY: number): void => {
    pen.moveTo(fromX, fromY);
    pen.lineTo(toX, toY);
  };
  // Beyond the tile's corners, so that lines meet those of the next one.
  for (const shift of [-TILE, 0, TILE]) {
    const [left, right] = [shift - 1, shift + TILE + 1];
    if (pattern === "rising" || pattern === "crossed") stroke(left, TILE + 1, right, -1);
    if (pattern === "falling" || pattern === "crossed") stroke(left, -1, right, TILE + 1);
  }
  if (pattern === "level") stroke(0, TILE / 2, TILE, TILE / 2);
  pen.stroke();
  return ctx.createPattern(tile, "repeat");
}
