/** What a drawing shows, in words. */
import type { DrawnBelt, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { approximately, listed, listedShort } from "../text/figures.ts";
import { bullet, type Style } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { beltText, flowOf, isTight } from "./words.ts";

/** On the terminal: what there is, on what the flows rest, and which belts are full. */
export function drawingText(drawing: PlantDrawing, style: Style, shown: Shown = {}): string {
  const { title, elements, belts } = drawing;
  const count = (kind: string): number => elements.filter((element) => element.kind === kind).length;
  const counted = (kind: string): string[] => (count(kind) === 0 ? [] : [many(count(kind), kind)]);
  const kinds = ["feed", "divider", "merge", "machine", "outlet"].flatMap(counted);
  const carrying = many(belts.filter((belt) => belt.rate_per_min !== null).length, "belt");
  const tight = belts.filter(isTight);
  const stops = standing(drawing);
  const { basis, fullest } = passing(drawing);
  const page = {
    title,
    answer: [
      { what: "Drawn", text: listed([...kinds, carrying]) },
      stops === "" ? { what: "Flows", text: basis } : { what: "Stands", text: stops.replace(/\.$/, ""), isBad: true },
      ...(tight.length > 1 ? [{ what: "Tight", text: tightText(tight), isBad: true }] : []),
      ...(tight.length > 1 || fullest === null ? [] : [{ what: "Fullest", text: fullest }]),
    ],
    table: [],
    details: tight.length > 1 ? [tightLines(tight)] : [],
  };
  return pageText(page, style, shown);
}

function tightText(tight: readonly DrawnBelt[]): string {
  return `${tight.length} belts have less than 5\u00a0% headroom, or none: ${listedShort(tight.map(named), 2)}`;
}

function tightLines(tight: readonly DrawnBelt[]): string[] {
  const left = tight.length - MOST_NAMED;
  return [
    ...tight.slice(0, MOST_NAMED).flatMap((belt) => bullet(`${named(belt)}.`)),
    ...(left > 0 ? bullet(`${left} more, in drawing.json.`) : []),
  ];
}

const MOST_NAMED = 8;

function many(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

/** On what the flows rest, and which belt is the fullest. */
export function drawingFinding(drawing: PlantDrawing): string {
  const stops = standing(drawing);
  if (stops !== "") return stops;
  const { basis, fullest } = passing(drawing);
  const tight = drawing.belts.filter(isTight).length;
  const loads = tight > 1 ? ` ${tight} belts have less than 5 % headroom, or none.` : "";
  return `Flows ${basis}.${loads}${tight > 1 || fullest === null ? "" : ` The fullest belt is ${fullest}.`}`;
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

function passing({ belts }: PlantDrawing): { readonly basis: string; readonly fullest: string | null } {
  const isMeasured = belts.some(({ measured_per_min }) => measured_per_min !== null);
  const fullest = belts.reduce<DrawnBelt | null>(
    (most, belt) => (loadOf(belt) > (most === null ? 0 : loadOf(most)) ? belt : most),
    null,
  );
  return {
    basis: isMeasured ? "as measured at the end of the run; not proved" : "once all has settled",
    fullest: fullest === null ? null : named(fullest),
  };
}

function named(belt: DrawnBelt): string {
  return `${oneLine(belt.id)}: ${beltText({ ...belt, returns: false }, null)}`;
}

function loadOf(belt: DrawnBelt): number {
  const flow = flowOf(belt);
  return belt.rate_per_min === null || flow === null ? 0 : flow / approximately(belt.rate_per_min);
}
