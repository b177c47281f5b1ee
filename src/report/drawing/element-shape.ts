/** An element as it is drawn: its outline and its texts. */
import type { DrawnElement, ElementKind } from "../../analysis/plant-drawing.ts";
import { INK, PAPER } from "../chart/palette.ts";
import { type Direction, endOutline, junctionOutline, LINE_HEIGHT, NOSE } from "./element-sizes.ts";
import { type Box, corners, type Outline, type Point, type Primitive } from "./primitives.ts";
import { elementTexts, isShort, NAME_SIZE, OUTLINES, TEXT_SIZE } from "./words.ts";

/** Pale enough for ink on top. */
const MACHINE_FILL = "#eef2f6";
const JUNCTION_FILL = "#4d4d4d";

export function elementMarks(element: DrawnElement, box: Box, direction: Direction): Primitive[] {
  const isEnd = OUTLINES[element.kind] === "pointed";
  const texts = elementTexts(element);
  const x = box.x + (box.width - (isEnd && direction === "right" ? NOSE : 0)) / 2;
  const height = box.height - (isEnd && direction === "down" ? NOSE : 0);
  const top = box.y + (height - texts.length * LINE_HEIGHT) / 2;
  return [
    shapeMark(element.id, element, box, direction),
    ...texts.map((text, i): Primitive => {
      const isName = i === 0;
      return {
        kind: "text",
        of: element.id,
        text,
        x,
        y: top + i * LINE_HEIGHT + 21,
        anchor: "middle",
        size: isName ? NAME_SIZE : TEXT_SIZE,
        weight: isName || isShort(element) ? 600 : 400,
        colour: INK,
      };
    }),
  ];
}

/** An ordered junction is hollow. */
export function shapeMark(
  of: string | null,
  { kind, rule }: Pick<DrawnElement, "kind" | "rule">,
  box: Box,
  direction: Direction,
): Outline {
  const isFilled = rule === "even";
  return {
    kind: "outline",
    of,
    points: outlineOf(kind, box, direction),
    radius: kind === "surge" ? 16 : 0,
    fill: isFilled ? JUNCTION_FILL : kind === "machine" ? MACHINE_FILL : PAPER,
    colour: INK,
    weight: kind === "machine" ? 2.5 : rule === "ordered" ? 3 : 2,
  };
}

function outlineOf(kind: ElementKind, box: Box, direction: Direction): Point[] {
  switch (OUTLINES[kind]) {
    case "triangle":
      return junctionOutline(kind === "divider", box, direction);
    case "pointed":
      return endOutline(box, direction);
    case "box":
      return corners(box);
  }
}
