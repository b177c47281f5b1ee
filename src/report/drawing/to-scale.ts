/** A line's floor in metres: rows, aisles, footprints, the ways of belts, returns and crossings. */
import type { DrawnPlace, DrawnWay, FloorDrawing } from "../../analysis/floor-drawing.ts";
import { areaIn, lengthIn } from "../../quantity/units.ts";
import { pixels, textPixels } from "../chart/font.ts";
import { BLUE, INK, INK_SOFT, ORANGE, PAPER } from "../chart/palette.ts";
import { listedShort, number } from "../text/figures.ts";
import { oneLine, shorten, wrapAtMost } from "../text/text-width.ts";
import { corners, type DisplayList, type Point, type Primitive } from "./primitives.ts";

const EDGE = 24;
const TITLE_SIZE = 32;
const FINDING_SIZE = 26;
const NAME_SIZE = 20;
const LEAST_NAME_SIZE = 14;
const LEAST_WIDTH = 900;
/** Pixels to a metre, at most, and of the longer side in all. */
const MOST_SCALE = 60;
const LONGEST = 2800;
const AISLE = "#f3f3f3";
const FILLS: Readonly<Record<DrawnPlace["kind"], string>> = {
  machine: "#dcecf6",
  divider: "#ffffff",
  merge: "#fdebc8",
  outlet: "#ffffff",
};

export function toScale(drawing: FloorDrawing): DisplayList {
  const { length_m: length, width_m: width } = drawing;
  const scale = Math.min(MOST_SCALE, LONGEST / Math.max(length, width, 1));
  const inner = Math.max(length * scale, LEAST_WIDTH);
  const title = oneLine(`To scale · ${drawing.title}`);
  const finding = findingOf(drawing);
  const head: Primitive[] = [];
  let y = EDGE;
  for (const [text, size, weight, colour] of [
    [title, TITLE_SIZE, 600, INK],
    [finding, FINDING_SIZE, 400, INK_SOFT],
  ] as const) {
    for (const line of wrapAtMost(text, inner, 3, pixels(size))) {
      y += size * 1.2;
      head.push(words(line, { x: EDGE, y: y - size * 0.25 }, size, colour, weight));
    }
    y += 6;
  }
  const [left, top] = [Math.round(EDGE + (inner - length * scale) / 2), Math.round(y + 44)];
  const at = (xM: number, yM: number): Point => ({ x: left + xM * scale, y: top + yM * scale });
  const rect = (x: number, from: number, wide: number, high: number): Point[] =>
    corners({ ...at(x, from), width: wide * scale, height: high * scale });
  const primitives: Primitive[] = [
    outline(null, rect(0, 0, length, width), PAPER, PAPER, 0),
    ...drawing.aisles.map(({ from_m: from, to_m: to }) =>
      outline(null, rect(0, from, length, to - from), AISLE, AISLE, 0),
    ),
    {
      kind: "line",
      of: null,
      points: [...rect(0, 0, length, width), at(0, 0)],
      colour: INK_SOFT,
      weight: 2,
      dash: [],
      hasHead: false,
    },
    ...drawing.places.flatMap((place) => placeMarks(place, at, scale)),
    ...drawing.belts.map((belt) => beltMark(belt, at)),
    ...crossingsIn(drawing.belts).map((point) => ring(at(point.x, point.y))),
    words(sourcesOf(drawing), { x: left, y: top - 12 }, NAME_SIZE, INK, 400),
  ];
  const bottom = top + width * scale + 16;
  const legend = wrapAtMost(legendOf(drawing), inner, 3, pixels(NAME_SIZE));
  return {
    width: Math.ceil(inner + 2 * EDGE),
    height: Math.ceil(bottom + 60 + legend.length * NAME_SIZE * 1.3),
    title,
    description: finding,
    primitives: [
      ...head,
      ...primitives,
      ...scaleBar(left, bottom, scale, drawing),
      ...legend.map((line, i) =>
        words(line, { x: EDGE, y: bottom + 58 + i * NAME_SIZE * 1.3 }, NAME_SIZE, INK_SOFT, 400),
      ),
    ],
  };
}

/** What comes in at the corner. */
function sourcesOf({ belts, places }: FloorDrawing): string {
  const standing = new Set(places.map(({ id }) => id));
  const sources = new Set(belts.flatMap(({ from }) => (standing.has(from) ? [] : [oneLine(from)])));
  return sources.size === 0 ? "" : `from ${listedShort([...sources])}`;
}

/** What primitives mean, of those that there are. */
function legendOf({ belts, places, aisles }: FloorDrawing): string {
  const has = (kind: DrawnPlace["kind"]): boolean => places.some((place) => place.kind === kind);
  return [
    ...(aisles.length > 0 ? ["grey: aisles"] : []),
    ...(belts.some(({ returns }) => returns) ? ["orange: returns"] : []),
    ...(crossingsIn(belts).length > 0 ? ["rings: one belt over another, or over several side by side"] : []),
    ...(belts.some(({ way_m: way }) => way === null) ? ["dotted: handed over without a belt"] : []),
    ...(has("divider") ? ["d: dividers"] : []),
    ...(has("merge") ? ["head, m, g: merges"] : []),
  ].join(" · ");
}

function findingOf({
  line,
  length_m: length,
  width_m: width,
  floor_m2: floor,
  belt_m: belt,
  crossings,
  belts,
  length_unit: unit,
}: FloorDrawing): string {
  const far = (metres: number): string => `${number(lengthIn(unit, metres), 1)} ${unit}`;
  const laid = belts.filter(({ way_m: way }) => way !== null);
  const stated = laid.reduce((total, { stated_m: metres }) => total + (metres ?? Number.NaN), 0);
  const crossing =
    crossings === 0
      ? "no belt crosses another"
      : `${number(crossings)} ${crossings === 1 ? "pair of belts crosses" : "pairs of belts cross"}`;
  return `${oneLine(line)}: ${far(length)} by ${far(width)}, ${number(areaIn(unit, floor), 1)} ${unit}² of floor; ${far(belt)} of belt on its way along rows and columns${Number.isNaN(stated) ? "" : `, ${far(stated)} as stated`}; ${crossing}.`;
}

function placeMarks(place: DrawnPlace, at: (x: number, y: number) => Point, scale: number): Primitive[] {
  const { id, kind, x_m: x, y_m: y, length_m: length, width_m: width } = place;
  const [from, size] = [at(x, y), { width: Math.max(length * scale, 4), height: Math.max(width * scale, 4) }];
  const box = outline(id, corners({ ...from, ...size }), FILLS[kind], INK, 2);
  // With the plan, as far as it can be read.
  const fontSize = Math.max(LEAST_NAME_SIZE, Math.round((NAME_SIZE * Math.min(scale, MOST_SCALE)) / MOST_SCALE));
  const room = kind === "outlet" ? 160 : size.width - 8;
  // "d1", and of the second of several lanes, chains or trees "d2.1".
  const name = oneLine(id.slice(id.indexOf(".") + 1)).replace(
    /^(?:[a-z]+-(\d+)-)?(d|m|g)(?:ivider|erge|ather)-(?=\d)/,
    (_, group: string | undefined, kind: string) => (group === undefined ? kind : `${kind}${group}.`),
  );
  const text = shorten(kind === "machine" || kind === "outlet" ? oneLine(id) : name, room, pixels(fontSize));
  if (size.height < fontSize * 0.9 && kind !== "outlet") return [box];
  const middleX = kind === "outlet" ? from.x + 8 + textPixels(text, fontSize) / 2 : from.x + size.width / 2;
  return [
    box,
    words(text, { x: middleX, y: from.y + size.height / 2 + fontSize * 0.35 }, fontSize, INK, 400, "middle", id),
  ];
}

function beltMark({ id, points, returns, way_m: way }: DrawnWay, at: (x: number, y: number) => Point): Primitive {
  const corner = points.map(([x, y]) => at(x, y));
  // What leads to the same height needs no corner.
  const bent = corner.filter(({ x, y }, i) => i === 0 || x !== corner[i - 1]?.x || y !== corner[i - 1]?.y);
  const colour = returns ? ORANGE : BLUE;
  return { kind: "line", of: id, points: bent, colour, weight: 3, dash: way === null ? [3, 4] : [], hasHead: true };
}

/** Where a piece along passes over one across of another belt; those that fork or join don't cross. */
function crossingsIn(belts: readonly DrawnWay[]): Point[] {
  const pieces = belts.flatMap(({ from, to, points }) =>
    points.slice(1).map((b, i) => ({ from, to, a: points[i] ?? b, b })),
  );
  const found: Point[] = [];
  for (const along of pieces) {
    if (along.a[1] !== along.b[1]) continue;
    for (const across of pieces) {
      if (across.a[0] !== across.b[0] || across.from === along.from || across.to === along.to) continue;
      const [x, y] = [across.a[0], along.a[1]];
      if (within(x, along.a[0], along.b[0]) && within(y, across.a[1], across.b[1])) found.push({ x, y });
    }
  }
  return found;
}

function within(value: number, a: number, b: number): boolean {
  return value > Math.min(a, b) + 1e-9 && value < Math.max(a, b) - 1e-9;
}

const RING = 7;

function ring({ x, y }: Point): Primitive {
  const box = corners({ x: x - RING, y: y - RING, width: 2 * RING, height: 2 * RING });
  return { kind: "outline", of: null, points: box, radius: RING, fill: PAPER, colour: INK, weight: 2 };
}

/** Metres or feet below the plan. */
function scaleBar(
  x: number,
  y: number,
  scale: number,
  { length_m: length, length_unit: unit }: FloorDrawing,
): Primitive[] {
  const one = 1 / lengthIn(unit, 1);
  const units = [10, 5, 2, 1].find((count) => count * one <= length / 2) ?? 1;
  const line = (points: Point[], colour: string): Primitive => {
    return { kind: "line", of: null, points, colour, weight: 3, dash: [], hasHead: false };
  };
  const end = x + units * one * scale;
  return [
    line(
      [
        { x, y: y + 6 },
        { x, y: y + 14 },
        { x: end, y: y + 14 },
        { x: end, y: y + 6 },
      ],
      INK,
    ),
    words(`${units} ${unit}`, { x: end + 10, y: y + 20 }, NAME_SIZE, INK, 400),
  ];
}

function outline(of: string | null, points: readonly Point[], fill: string, colour: string, weight: number): Primitive {
  return { kind: "outline", of, points, radius: 0, fill, colour, weight };
}

function words(
  text: string,
  { x, y }: Point,
  size: number,
  colour: string,
  weight: 400 | 600,
  anchor: "start" | "middle" = "start",
  of: string | null = null,
): Primitive {
  return { kind: "text", of, text, x, y, anchor, size, weight, colour };
}
