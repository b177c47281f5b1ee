/** A drawing of a plant as SVG and PNG, from one list of primitives. */

import type { FloorDrawing } from "../../analysis/floor-drawing.ts";
import type { PlantDrawing } from "../../analysis/plant-drawing.ts";
import { json } from "../text/json.ts";

/** Beyond these, placing takes half a minute, and nobody reads it. */
const MOST_MACHINES = 120;
const MOST_PARTS = 500;

/**
 * Why a plant is not drawn, in a sentence; `null` if it is.
 * @param parts elements and belts
 */
export function drawingRefusal(machines: number, parts: number): string | null {
  if (machines > MOST_MACHINES) return `a drawing shows at most ${MOST_MACHINES} machines; this plant has ${machines}`;
  if (parts <= MOST_PARTS) return null;
  return `a drawing shows at most ${MOST_PARTS} elements and belts; this plant has ${parts}`;
}

/** `drawingRefusal` of a plant. */
export function refusalOf({ elements, belts }: PlantDrawing): string | null {
  return drawingRefusal(elements.filter(({ kind }) => kind === "machine").length, elements.length + belts.length);
}

/** The floors of a plant's lines, to scale: `to-scale.svg` and `.png` of a single one, else numbered. */
export async function toScaleFiles(floors: readonly FloorDrawing[]): Promise<Map<string, string | Uint8Array>> {
  const [{ toScale }, { svg }, { png }] = await Promise.all([
    import("./to-scale.ts"),
    import("./svg.ts"),
    import("./png.ts"),
  ]);
  const files = new Map<string, string | Uint8Array>();
  for (const [index, floor] of floors.entries()) {
    const name = floors.length === 1 ? "to-scale" : `to-scale-${index + 1}`;
    const list = toScale(floor);
    files.set(`${name}.svg`, svg(list)).set(`${name}.png`, await png(list));
  }
  return files.set("to-scale.json", json("floors", { floors }));
}

/** The files of a report that is a drawing alone. */
export async function drawingReport(drawing: PlantDrawing): Promise<Map<string, string | Uint8Array>> {
  const files = await drawingFiles(new Map([["drawing", drawing]]));
  return files.set("drawing.json", json("draw", drawing));
}

/**
 * @param drawings by the name of their files, without ending
 * @returns `<name>.svg` and `<name>.png` of each; nothing where `refusalOf` says why
 */
export async function drawingFiles(
  drawings: ReadonlyMap<string, PlantDrawing>,
): Promise<Map<string, string | Uint8Array>> {
  const drawn = [...drawings].filter(([, drawing]) => refusalOf(drawing) === null);
  if (drawn.length === 0) return new Map();
  // Loaded only now, since placing and painting take large libraries.
  const [{ place }, { displayList }, { svg }, { png }] = await Promise.all([
    import("./placement.ts"),
    import("./display.ts"),
    import("./svg.ts"),
    import("./png.ts"),
  ]);
  const files = new Map<string, string | Uint8Array>();
  let encoded: Promise<unknown> = Promise.resolve();
  for (const [name, drawing] of drawn) {
    const list = displayList(drawing, await place(drawing));
    files.set(`${name}.svg`, svg(list));
    // One is encoded while the next is placed: a canvas of a large plant takes 30 MB.
    await encoded;
    encoded = png(list).then((bytes) => files.set(`${name}.png`, bytes));
  }
  await encoded;
  return files;
}
