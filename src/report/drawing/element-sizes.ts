/** How large an element is drawn, and where belts meet it. */
import type { DrawnElement, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { textPixels } from "../chart/font.ts";
import type { Point } from "./primitives.ts";
import { elementTexts, NAME_SIZE, OUTLINES, TEXT_SIZE } from "./words.ts";

export type Direction = "right" | "down";

export interface Size {
  readonly width: number;
  readonly height: number;
}

const PADDING = 14;
export const LINE_HEIGHT = 28;
/** By how much the arrow of a feed's or outlet's box stands out. */
export const NOSE = 22;
const JUNCTION_DEPTH = 36;
const JUNCTION_LEAST = 44;
const PORT_GAP = 22;

export function sizesOf({ elements, belts }: PlantDrawing, direction: Direction): Map<string, Size> {
  const into = new Map<string, number>();
  const out = new Map<string, number>();
  for (const { from, to } of belts) {
    into.set(to, (into.get(to) ?? 0) + 1);
    out.set(from, (out.get(from) ?? 0) + 1);
  }
  const widest = Math.max(0, ...elements.filter(({ kind }) => kind === "machine").map(textsWidth));
  return new Map(
    elements.map((element) => {
      const most = Math.max(into.get(element.id) ?? 0, out.get(element.id) ?? 0);
      return [element.id, sizeOf(element, most, widest, direction)] as const;
    }),
  );
}

function sizeOf(element: DrawnElement, ports: number, widest: number, direction: Direction): Size {
  const along = (ports + 1) * PORT_GAP;
  if (OUTLINES[element.kind] === "triangle") {
    const across = Math.max(JUNCTION_LEAST, along);
    return direction === "right"
      ? { width: JUNCTION_DEPTH, height: across }
      : { width: across, height: JUNCTION_DEPTH };
  }
  const isEnd = OUTLINES[element.kind] === "pointed";
  const text = element.kind === "machine" ? widest : textsWidth(element);
  const width = text + 2 * PADDING + (isEnd && direction === "right" ? NOSE : 0);
  const lines = elementTexts(element).length;
  const height = lines * LINE_HEIGHT + PADDING + (isEnd && direction === "down" ? NOSE : 0);
  return {
    width: even(direction === "down" ? Math.max(width, along) : width),
    height: even(direction === "right" ? Math.max(height, along) : height),
  };
}

function textsWidth(element: DrawnElement): number {
  return Math.max(...elementTexts(element).map((text, i) => textPixels(text, i === 0 ? NAME_SIZE : TEXT_SIZE)), 60);
}

/** Room for a belt's text in its course. */
export function labelSize(text: string): Size {
  return { width: textPixels(text, TEXT_SIZE) + 10, height: LINE_HEIGHT };
}

function even(value: number): number {
  return 2 * Math.ceil(value / 2);
}

/** A divider opens from its inlet to its outlets; a merge closes. */
export function junctionOutline(opens: boolean, { x, y, width, height }: Point & Size, direction: Direction): Point[] {
  if (direction === "right") {
    const [tip, base] = opens ? [x, x + width] : [x + width, x];
    return [
      { x: tip, y: y + height / 2 },
      { x: base, y },
      { x: base, y: y + height },
    ];
  }
  const [tip, base] = opens ? [y, y + height] : [y + height, y];
  return [
    { x: x + width / 2, y: tip },
    { x, y: base },
    { x: x + width, y: base },
  ];
}

/** A box that points in the direction of the flow. */
export function endOutline({ x, y, width, height }: Point & Size, direction: Direction): Point[] {
  if (direction === "right") {
    const shoulder = x + width - NOSE;
    return [
      { x, y },
      { x: shoulder, y },
      { x: x + width, y: y + height / 2 },
      { x: shoulder, y: y + height },
      { x, y: y + height },
    ];
  }
  const shoulder = y + height - NOSE;
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: shoulder },
    { x: x + width / 2, y: y + height },
    { x, y: shoulder },
  ];
}
