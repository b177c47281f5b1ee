/** What a drawing shows, in words. */
import type { DrawnBelt, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { approximately, listed, plain } from "../figures.ts";
import type { Style } from "../style.ts";
import { bullet } from "../terminal-lines.ts";
import { oneLine } from "../text-width.ts";
import { beltText, flowOf, isTight } from "./words.ts";

/** On the terminal: what there is, and which belts are full. */
export function drawingText(drawing: PlantDrawing, style: Style): string {
  const { title, elements, belts } = drawing;
  const count = (kind: string): number => elements.filter((element) => element.kind === kind).length;
  const counted = (kind: string): string[] => (count(kind) === 0 ? [] : [many(count(kind), kind)]);
  const kinds = ["feed", "divider", "merge", "machine", "outlet"].flatMap(counted);
  const carrying = many(belts.filter((belt) => belt.rate_per_min !== null).length, "belt");
  const tight = belts.filter(isTight);
  const lines = [
    style.title(plain(oneLine(title))),
    "",
    ...bullet(`${listed([...kinds, carrying])} are drawn.`),
    ...bullet(drawingFinding(drawing)),
    ...(tight.length > 1 ? tight.slice(0, MOST_NAMED).flatMap((belt) => bullet(`${named(belt)}.`)) : []),
    ...(tight.length > MOST_NAMED ? bullet(`${tight.length - MOST_NAMED} more, in drawing.json.`) : []),
  ];
  return `${lines.join("\n")}\n`;
}

const MOST_NAMED = 8;

function many(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

/** On what the flows rest, and which belt is the fullest. */
export function drawingFinding(drawing: PlantDrawing): string {
  const stops = standing(drawing);
  return stops === "" ? passing(drawing) : stops;
}

/** A standstill, and jams, by the belts at whose heads a kind stands. */
function standing({ belts, stands_still }: PlantDrawing): string {
  const jammed = belts.filter(({ jammed_by }) => jammed_by !== null);
  const where = jammed
    .slice(0, MOST_JAMS)
    .map(({ id, jammed_by }) => `${oneLine(jammed_by ?? "")} stands at the end of ${oneLine(id)}`);
  const more = jammed.length > MOST_JAMS ? `, and at ${jammed.length - MOST_JAMS} more` : "";
  const still = stands_still ? "The plant stands still: nothing is made once all has settled." : "";
  return [still, ...(where.length === 0 ? [] : [`Jam, for ever: ${listed(where)}${more}.`])]
    .filter((text) => text !== "")
    .join(" ");
}

const MOST_JAMS = 2;

function passing({ belts }: PlantDrawing): string {
  const isMeasured = belts.some(({ measured_per_min }) => measured_per_min !== null);
  const basis = isMeasured ? "Flows as measured at the end of the run; not proved." : "Flows once all has settled.";
  const tight = belts.filter(isTight).length;
  if (tight > 1) return `${basis} ${tight} belts have less than 5 % headroom, or none.`;
  const fullest = belts.reduce<DrawnBelt | null>(
    (most, belt) => (loadOf(belt) > (most === null ? 0 : loadOf(most)) ? belt : most),
    null,
  );
  return fullest === null ? basis : `${basis} The fullest belt is ${named(fullest)}.`;
}

function named(belt: DrawnBelt): string {
  return `${oneLine(belt.id)}: ${beltText({ ...belt, returns: false }, null)}`;
}

function loadOf(belt: DrawnBelt): number {
  const flow = flowOf(belt);
  return belt.rate_per_min === null || flow === null ? 0 : flow / approximately(belt.rate_per_min);
}
