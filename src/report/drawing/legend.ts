/** What the primitives of a drawing mean: entries for those that are in it, in rows below it. */
import type { DrawnElement, ElementKind, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { textPixels } from "../chart/font.ts";
import { INK } from "../chart/palette.ts";
import { approximately, plain, rate } from "../text/figures.ts";
import { type BeltStyle, HANDED_OVER, JAMMED, labelMark, lineMarks, PLAIN, RETURNING, TIGHT } from "./belt-line.ts";
import { shapeMark } from "./element-shape.ts";
import type { Direction } from "./element-sizes.ts";
import type { Box, Primitive } from "./primitives.ts";
import { beltText, commonRateOf, isShort, isTight, TEXT_SIZE } from "./words.ts";

interface Entry {
  readonly text: string;
  readonly width: number;
  /** Beginning at the left, about a middle line. */
  readonly primitives: (x: number, y: number) => readonly Primitive[];
}

const ROW_HEIGHT = 46;
const SYMBOL_GAP = 12;
const ENTRY_GAP = 40;

/** @returns its primitives, and its height */
export function legend(drawing: PlantDrawing, direction: Direction, room: Omit<Box, "height">): [Primitive[], number] {
  const { x: left, y: top, width } = room;
  const primitives: Primitive[] = [];
  let [x, y] = [left, top + ROW_HEIGHT / 2];
  for (const entry of entriesOf(drawing, direction)) {
    const taken = entry.width + SYMBOL_GAP + textPixels(entry.text, TEXT_SIZE);
    if (x > left && x + taken > left + width) [x, y] = [left, y + ROW_HEIGHT];
    primitives.push(...entry.primitives(x, y), {
      kind: "text",
      of: null,
      text: entry.text,
      x: x + entry.width + SYMBOL_GAP,
      y: y + 7,
      anchor: "start",
      size: TEXT_SIZE,
      weight: 400,
      colour: INK,
    });
    x += taken + ENTRY_GAP;
  }
  return [primitives, y + ROW_HEIGHT / 2 - top];
}

/** The widest entry, so that a narrow drawing has room for it. */
export function legendWidth(drawing: PlantDrawing): number {
  return Math.max(
    0,
    ...entriesOf(drawing, "right").map(({ text, width }) => width + SYMBOL_GAP + textPixels(text, TEXT_SIZE)),
  );
}

function entriesOf(drawing: PlantDrawing, direction: Direction): Entry[] {
  const symbol = (
    text: string,
    kind: ElementKind,
    width: number,
    height: number,
    rule: DrawnElement["rule"] = null,
  ): Entry => ({
    text,
    width,
    primitives: (x, y) => [shapeMark(null, { kind, rule }, { x, y: y - height / 2, width, height }, direction)],
  });
  const { elements, belts } = drawing;
  const has = (kind: string, rule?: string): boolean =>
    elements.some((element) => element.kind === kind && (rule === undefined || element.rule === rule));
  const junctions = (["divider", "merge"] as const).flatMap((kind) =>
    (["even", "ordered"] as const).flatMap((rule) => {
      if (!has(kind, rule)) return [];
      const text = rule === "even" ? `${kind} that takes turns` : `ordered ${kind}: the belt with a block comes first`;
      return [symbol(text, kind, 30, 30, rule)];
    }),
  );
  const machines = elements.filter(({ kind }) => kind === "machine");
  const commonRate = commonRateOf(drawing);
  const shared = machines.find(({ share }) => share !== null);
  const stating = belts.find((belt) => belt.rate_per_min !== null && belt.rate_per_min !== commonRate && !belt.returns);
  const common = belts.find((belt) => belt.rate_per_min !== null && belt.rate_per_min === commonRate && !belt.returns);
  return [
    ...(has("feed") || has("outlet") ? [symbol(endText(elements), "feed", 46, 34)] : []),
    ...(has("machine") ? [symbol(machineText(shared !== undefined, machines), "machine", 42, 28)] : []),
    ...(has("surge") ? [symbol("surge buffer", "surge", 46, 32)] : []),
    ...junctions,
    ...(stating ? [arrow("belt: what passes, of what it could carry", PLAIN, beltText(stating, commonRate))] : []),
    ...(common && commonRate !== null
      ? [
          arrow(
            `belt that could carry ${plain(rate(approximately(commonRate)))}: what passes`,
            PLAIN,
            beltText(common, commonRate),
          ),
        ]
      : []),
    ...(belts.some((belt) => belt.rate_per_min === null)
      ? [arrow("handed over without a belt", HANDED_OVER, null)]
      : []),
    ...(belts.some(({ returns }) => returns) ? [arrow("leads back", RETURNING, null)] : []),
    ...(belts.some(({ jammed_by }) => jammed_by !== null)
      ? [arrow("belt on which a kind stands for ever", JAMMED, null)]
      : []),
    ...(belts.some(isTight) ? [arrow("belt with less than 5 % headroom, or none", TIGHT, null)] : []),
  ];
}

function endText(elements: PlantDrawing["elements"]): string {
  const ends = elements.some(({ kind }) => kind === "outlet") ? "feed or outlet" : "feed";
  if (!elements.some((element) => element.kind === "feed" && isShort(element))) return ends;
  return `${ends}:${ends === "feed" ? "" : " of a feed"} what is taken, of what it offers`;
}

function machineText(hasShare: boolean, machines: PlantDrawing["elements"]): string {
  const takes = machines.some(isShort) ? "what it takes, of what it needs" : "what it takes";
  const leaves = machines.some(({ items }) => items.length > 0) ? " → what leaves it" : "";
  return `machine: ${takes}${hasShare ? " · its part of what its line takes" : ""}${leaves}`;
}

function arrow(text: string, style: BeltStyle, label: string | null): Entry {
  const room = label === null ? 0 : textPixels(label, TEXT_SIZE) + 10;
  const width = label === null ? 80 : room + 64;
  return {
    text,
    width,
    primitives: (x, y) => {
      const box = { x: x + 24, y: y - 14, width: room, height: 28 };
      const ends = [
        { x, y },
        { x: x + width, y },
      ];
      const line = lineMarks(null, ends, label === null ? null : box, style);
      return label === null ? line : [...line, labelMark(null, label, box, 400)];
    },
  };
}
