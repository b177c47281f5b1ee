/** From places to primitives: title and finding on top, the plant, the legend below. */
import type { PlantDrawing } from "../../analysis/plant-drawing.ts";
import { pixels } from "../chart/font.ts";
import { GRID, INK, INK_SOFT } from "../chart/palette.ts";
import { oneLine, wrapAtMost } from "../text/text-width.ts";
import { beltMarks } from "./belt-line.ts";
import { drawingFinding } from "./drawing-finding.ts";
import { elementMarks } from "./element-shape.ts";
import { legend, legendWidth } from "./legend.ts";
import type { Placement } from "./placed.ts";
import type { DisplayList, Primitive } from "./primitives.ts";
import { commonRateOf } from "./words.ts";

/** Pixels, as in the charts. */
const EDGE = 24;
const TITLE_SIZE = 32;
const FINDING_SIZE = 26;
const LEAST_WIDTH = 1000;
const GAP = 28;

export function displayList(drawing: PlantDrawing, placement: Placement): DisplayList {
  const commonRate = commonRateOf(drawing);
  const inner = Math.max(placement.width, legendWidth(drawing), LEAST_WIDTH - 2 * EDGE);
  const title = oneLine(`Flows · ${drawing.title}`);
  const finding = drawingFinding(drawing);
  const [head, headHeight] = headMarks(title, finding, inner);
  const plant: Primitive[] = [
    ...drawing.belts.flatMap((belt) => {
      const placed = placement.belts.get(belt.id);
      return placed ? beltMarks(belt, placed.points, placed.label, commonRate) : [];
    }),
    ...drawing.elements.flatMap((element) => {
      const box = placement.elements.get(element.id);
      return box ? elementMarks(element, box, placement.direction) : [];
    }),
  ];
  // On whole pixels, lines stay sharp.
  const plantTop = Math.round(headHeight + GAP);
  const left = Math.round(EDGE + (inner - placement.width) / 2);
  const ruleY = Math.round(plantTop + placement.height + GAP);
  const [key, keyHeight] = legend(drawing, placement.direction, { x: EDGE, y: ruleY + 10, width: inner });
  const rule: Primitive = {
    kind: "line",
    of: null,
    points: [
      { x: EDGE, y: ruleY },
      { x: EDGE + inner, y: ruleY },
    ],
    colour: GRID,
    weight: 2,
    dash: [],
    hasHead: false,
  };
  return {
    width: Math.ceil(inner + 2 * EDGE),
    height: Math.ceil(ruleY + 10 + keyHeight + EDGE / 2),
    title,
    description: finding,
    primitives: [...head, ...plant.map((primitive) => moved(primitive, left, plantTop)), rule, ...key],
  };
}

function headMarks(title: string, finding: string, width: number): [Primitive[], number] {
  const primitives: Primitive[] = [];
  let y = EDGE;
  const write = (text: string, size: number, weight: 400 | 600, colour: string): void => {
    for (const line of wrapAtMost(text, width, 2, pixels(size))) {
      y += size * 1.2;
      primitives.push({
        kind: "text",
        of: null,
        text: line,
        x: EDGE,
        y: y - size * 0.25,
        anchor: "start",
        size,
        weight,
        colour,
      });
    }
  };
  write(title, TITLE_SIZE, 600, INK);
  y += 4;
  write(finding, FINDING_SIZE, 400, INK_SOFT);
  return [primitives, y];
}

function moved(primitive: Primitive, dx: number, dy: number): Primitive {
  if (primitive.kind === "text") return { ...primitive, x: primitive.x + dx, y: primitive.y + dy };
  return { ...primitive, points: primitive.points.map(({ x, y }) => ({ x: x + dx, y: y + dy })) };
}
