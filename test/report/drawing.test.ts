/** Drawings as primitives, SVG and PNG: all is there once, nothing lies on anything else, the same bytes every time. */
import { createCanvas, loadImage } from "@napi-rs/canvas";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import type { PlantDrawing } from "../../src/analysis/plant-drawing.ts";
import { textPixels } from "../../src/report/chart/font.ts";
import { displayList } from "../../src/report/drawing/display.ts";
import { drawingFiles, drawingRefusal, drawingReport, refusalOf } from "../../src/report/drawing/drawing.ts";
import { drawingText } from "../../src/report/drawing/drawing-finding.ts";
import { crossingsOf, faultsOf } from "../../src/report/drawing/fitness.ts";
import type { Placement } from "../../src/report/drawing/placed.ts";
import { place } from "../../src/report/drawing/placement.ts";
import type { Box, DisplayList, Line, Outline, Primitive, Text } from "../../src/report/drawing/primitives.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { EXAMPLES, textOf } from "../examples/examples.ts";
import { drawn, JAMMING, layoutOf } from "./drawn-plants.ts";

/** Letters reach so far above and below the baseline, as shares of the size. */
const ABOVE = 0.72;
const BELOW = 0.22;

function areaOf(primitive: Primitive): Box {
  if (primitive.kind !== "text") {
    const [xs, ys] = [primitive.points.map(({ x }) => x), primitive.points.map(({ y }) => y)];
    const [x, y] = [Math.min(...xs), Math.min(...ys)];
    return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
  }
  const width = textPixels(primitive.text, primitive.size);
  const x = primitive.anchor === "middle" ? primitive.x - width / 2 : primitive.x;
  return { x, y: primitive.y - ABOVE * primitive.size, width, height: (ABOVE + BELOW) * primitive.size };
}

function meet(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

function holds(outer: Box, inner: Box): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  );
}

/** Stretches of lines, as wide as they are drawn. */
function stretches({ points, weight }: Line): Box[] {
  return points.slice(1).map((end, i) => {
    const start = points[i] ?? end;
    const [x, y] = [Math.min(start.x, end.x) - weight / 2, Math.min(start.y, end.y) - weight / 2];
    return { x, y, width: Math.abs(end.x - start.x) + weight, height: Math.abs(end.y - start.y) + weight };
  });
}

/** What a reader would stumble over. */
function blemishes({ width, height, primitives }: DisplayList): string[] {
  const texts = primitives.filter((primitive): primitive is Text => primitive.kind === "text");
  const outlines = primitives.filter((primitive): primitive is Outline => primitive.kind === "outline");
  const lines = primitives.filter((primitive): primitive is Line => primitive.kind === "line");
  const page = { x: 0, y: 0, width, height };
  const found: string[] = [];
  for (const primitive of primitives)
    if (!holds(page, areaOf(primitive))) found.push(`${primitive.kind} of ${primitive.of} is cut off`);
  for (const [i, text] of texts.entries()) {
    const area = areaOf(text);
    for (const other of texts.slice(i + 1))
      if (meet(area, areaOf(other))) found.push(`${text.text} lies on ${other.text}`);
    for (const line of lines) {
      if (stretches(line).some((stretch) => meet(area, stretch)))
        found.push(`${text.text} lies on the line of ${line.of}`);
    }
    for (const outline of outlines) {
      const isOwn = outline.of === text.of && text.of !== null;
      const box = areaOf(outline);
      if (isOwn ? !holds(box, area) : meet(area, box)) found.push(`${text.text} lies across ${outline.of}`);
    }
  }
  for (const [i, outline] of outlines.entries()) {
    for (const other of outlines.slice(i + 1)) {
      if (meet(areaOf(outline), areaOf(other))) found.push(`${outline.of} lies on ${other.of}`);
    }
  }
  return found;
}

/** What is missing, or there twice. */
function missing({ elements, belts }: PlantDrawing, { primitives }: DisplayList): string[] {
  const outlines = primitives.flatMap(({ kind, of }) => (kind === "outline" && of !== null ? [of] : []));
  const heads = primitives.flatMap((primitive) =>
    primitive.kind === "line" && primitive.hasHead && primitive.of !== null ? [primitive.of] : [],
  );
  const texts = new Map<string | null, number>();
  for (const { kind, of } of primitives) if (kind === "text") texts.set(of, (texts.get(of) ?? 0) + 1);
  const wrong = (list: readonly string[], ids: readonly string[]): string[] =>
    list.toSorted().join() === ids.toSorted().join() ? [] : [`${list.length} for ${ids.length}`];
  const ids = elements.map(({ id }) => id);
  const beltIds = belts.map(({ id }) => id);
  return [
    ...wrong(outlines, ids),
    ...wrong(heads, beltIds),
    ...elements
      .filter(({ id, kind }) => (texts.get(id) ?? 0) !== (kind === "divider" || kind === "merge" ? 0 : 2))
      .map(({ id }) => `texts of ${id}`),
    ...belts.filter(({ id }) => texts.get(id) !== 1).map(({ id }) => `text of ${id}`),
  ];
}

const SIZES = {
  chain: [2, 3, 4, 5, 8, 13, 30, 40],
  tree: [2, 3, 4, 6, 9, 16, 27, 36],
  loop: [5, 7, 11, 13, 29, 40],
} as const;

const PLANTS: readonly (readonly [string, string])[] = [
  ...(["chain", "tree", "loop"] as const).flatMap((layout) =>
    SIZES[layout].map((machines) => [`a ${layout} of ${machines}`, layoutOf(layout, machines)] as const),
  ),
  ...EXAMPLES.map((name) => [name, textOf(name)] as const),
];

test.each(PLANTS)("%s: all is drawn once, and nothing lies on anything else", async (_, text) => {
  const { drawing } = drawn(text);
  const placement = await place(drawing);
  const list = displayList(drawing, placement);
  expect(faultsOf(placement)).toEqual([]);
  expect(blemishes(list)).toEqual([]);
  expect(missing(drawing, list)).toEqual([]);
});

test.each(["chain", "tree"] as const)("a long %s goes on beside, and its belts never cross", async (layout) => {
  for (const machines of [3, 27, 81]) {
    const { drawing } = drawn(layoutOf(layout, machines));
    const placement = await place(drawing);
    expect(crossingsOf(placement)).toBe(0);
    const { width, height } = placement;
    // No more than so many pages' area for each machine, whatever its shape.
    expect((width * height) / machines).toBeLessThan(machines === 3 ? 200_000 : 130_000);
  }
});

/** Each element's belt comes from an earlier one, the first one's from none. */
function forked(from: readonly number[]): PlantDrawing {
  const ids = [...from, 0].map((_, i) => `element-${i}`);
  const passes = { measured_per_min: null, rate_per_min: "30", flow_per_min: "12", returns: false, kinds: [] };
  return {
    title: "forks",
    stands_still: false,
    elements: ids.map((id, i) => ({
      ...{ id, kind: i === 0 ? "feed" : from.some((at, j) => at % (j + 1) === i) ? "divider" : "machine", line: null },
      ...{ per_min: "12", measured_per_min: null, items: ["can"], offered_per_min: null, rule: null },
      ...{ has_no_belt: false, needs_per_min: null, share: null },
    })),
    belts: from.map((at, i) => ({
      ...{ id: `belt-${i}`, from: `element-${at % (i + 1)}`, to: `element-${i + 1}`, ...passes },
      ...{ comes_first: [], jammed_by: null },
    })),
  };
}

test("however belts fork, all is placed, and nothing crosses or lies on anything else", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.nat(), { maxLength: 60 }), async (from) => {
      const drawing = forked(from);
      const placement = await place(drawing);
      expect([placement.elements.size, placement.belts.size]).toEqual([from.length + 1, from.length]);
      expect(faultsOf(placement)).toEqual([]);
      expect(crossingsOf(placement)).toBe(0);
    }),
    { numRuns: 60 },
  );
});

test("what has faults is found to have them", async () => {
  const { drawing } = drawn(layoutOf("chain", 3));
  const placement = await place(drawing);
  const box = placement.elements.get("filler-1");
  if (box === undefined) throw new Error("not placed");
  const onOneAnother: Placement = { ...placement, elements: new Map([...placement.elements, ["filler-2", box]]) };
  expect(faultsOf(onOneAnother)).toContain("filler-1 lies on filler-2");
  expect(blemishes(displayList(drawing, onOneAnother))).toContain("filler-1 lies on filler-2");
  const list = displayList(drawing, placement);
  expect(blemishes({ ...list, width: 300 }).length).toBeGreaterThan(0);
  expect(missing(drawing, { ...list, primitives: list.primitives.slice(0, -20) }).length).toBeGreaterThan(0);
});

/** Of XML 1.0 as far as drawings have it: every tag closed in its turn, no bare signs. */
function isWellFormed(xml: string): boolean {
  const open: string[] = [];
  const body = xml.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, "");
  for (const [part, close, name, rest] of body.matchAll(/<(\/?)([a-z]+)((?:\s+[\w:-]+="[^"<&]*")*\s*\/?)>|[^<]+|</g)) {
    if (name === undefined) {
      if (part === "<" || /&(?!amp;|lt;|gt;)|\]\]>/.test(part) || (open.length === 0 && part.trim() !== ""))
        return false;
    } else if (close === "/") {
      if (open.pop() !== name) return false;
    } else if (!rest?.endsWith("/")) open.push(name);
  }
  return open.length === 0;
}

const HOSTILE = `Tins & <b>"boxes"</b> ${"]]>"} \u{1f96b} Ýmir Ζεύς Журавль`;

describe("files", () => {
  const { drawing } = drawn(layoutOf("loop", 5, HOSTILE));
  let svg = "";
  let png = Buffer.alloc(0);

  beforeAll(async () => {
    const files = await drawingFiles(new Map([["five", drawing]]));
    expect([...files.keys()]).toEqual(["five.svg", "five.png"]);
    svg = String(files.get("five.svg"));
    png = Buffer.from(files.get("five.png") ?? "");
  });

  test("the SVG is well formed, whatever the title, and carries its fonts", () => {
    expect(isWellFormed(svg)).toBe(true);
    expect(isWellFormed(svg.replace("&amp;", "&"))).toBe(false);
    expect(isWellFormed(svg.replace("</g>", ""))).toBe(false);
    expect(svg.includes("Tins &amp; &lt;b&gt;")).toBe(true);
    for (const subset of ["latin", "greek", "cyrillic"])
      expect(svg.includes(`font-family: "Fillfront ${subset}"`)).toBe(true);
    expect(/https?:(?!\/\/www\.w3\.org\/2000\/svg)/.test(svg)).toBe(false);
  });

  test("the SVG says what every element and belt is", () => {
    for (const { id } of [...drawing.elements, ...drawing.belts])
      expect(svg.includes(`<title>${id}</title>`)).toBe(true);
    for (const text of ["filler-5", "12/min · 20 %", "72 of 90/min", "back: 12 of 90/min", "leads back"])
      expect(svg.includes(text)).toBe(true);
  });

  test("the PNG is one of that size, and not blank", async () => {
    expect(png.subarray(0, 8).toString("latin1")).toBe("\u0089PNG\r\n\u001a\n");
    const [, width, height] = /<svg [^>]*width="(\d+)" height="(\d+)"/.exec(svg) ?? [];
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([Number(width), Number(height)]);
    const dark = await darkness(png);
    expect(dark).toBeGreaterThan(0.01);
    expect(dark).toBeLessThan(0.3);
  });

  test("SVG and PNG show the same, as another renderer has it", async () => {
    const without = (pattern: RegExp) => difference(png, Buffer.from(svg.replace(pattern, "")));
    // Smoothed edges differ a little.
    expect(await without(/ {200}/)).toBeLessThan(0.008);
    expect(await without(/<text [^>]*>[^<]*<\/text>/g)).toBeGreaterThan(0.03);
    expect(await without(/<polyline [^>]*>/g)).toBeGreaterThan(0.012);
  });

  test("both are the same bytes every time", async () => {
    const again = await drawingFiles(new Map([["five", drawing]]));
    expect(again.get("five.svg")).toBe(svg);
    expect(Buffer.from(again.get("five.png") ?? "").equals(png)).toBe(true);
  });
});

async function pixelsOf(image: Buffer): Promise<Uint8ClampedArray> {
  const picture = await loadImage(image);
  const ctx = createCanvas(picture.width, picture.height).getContext("2d");
  ctx.drawImage(picture, 0, 0);
  return ctx.getImageData(0, 0, picture.width, picture.height).data;
}

/** Share of small squares that are not about as light; single pixels differ where edges are smoothed. */
async function difference(one: Buffer, other: Buffer): Promise<number> {
  const [a, b] = [await lightness(one), await lightness(other)];
  expect(a.length).toBe(b.length);
  return a.filter((value, i) => Math.abs(value - (b[i] ?? 0)) > 40).length / a.length;
}

const SQUARE = 6;

async function lightness(image: Buffer): Promise<number[]> {
  const { width, height } = await loadImage(image);
  const data = await pixelsOf(image);
  const squares: number[] = [];
  for (let top = 0; top + SQUARE <= height; top += SQUARE) {
    for (let left = 0; left + SQUARE <= width; left += SQUARE) {
      let total = 0;
      for (let y = top; y < top + SQUARE; y++) {
        for (let x = left; x < left + SQUARE; x++) total += data[4 * (y * width + x) + 1] ?? 0;
      }
      squares.push(total / SQUARE ** 2);
    }
  }
  return squares;
}

/** Share of dark pixels. */
async function darkness(image: Buffer): Promise<number> {
  const data = await pixelsOf(image);
  let dark = 0;
  for (let i = 0; i < data.length; i += 4) if ((data[i] ?? 255) < 128) dark++;
  return dark / (data.length / 4);
}

test("belts without headroom are set off, and named on the terminal", async () => {
  const { drawing } = drawn(textOf("rate-cut.yaml"));
  const { primitives } = displayList(drawing, await place(drawing));
  const lineOf = (id: string) =>
    primitives.find((primitive): primitive is Line => primitive.kind === "line" && primitive.of === id);
  const [tight, plain] = [lineOf("main.to-press"), lineOf("main.onward")];
  expect(tight?.weight).toBeGreaterThan(2 * (plain?.weight ?? 99));
  expect(tight?.colour).not.toBe(plain?.colour);
  expect(drawingText(drawing, PLAIN_STYLE)).toContain("Fullest  main.to-press: 54.84 of 54.84/min");
});

test("a direct hand-over is dashed, a belt that leads back has its primitive", async () => {
  const { drawing } = drawn(textOf("equal-loop.yaml"));
  const { primitives } = displayList(drawing, await place(drawing));
  const of = (id: string) => primitives.filter((primitive) => primitive.of === id);
  const handed = drawing.belts.find(({ rate_per_min }) => rate_per_min === null)?.id ?? "";
  const returning = drawing.belts.find(({ returns }) => returns)?.id ?? "";
  expect(of(handed).every((primitive) => primitive.kind !== "line" || primitive.dash.length > 0)).toBe(true);
  expect(of(returning)).toContainEqual(expect.objectContaining({ text: "back: 12.5 of 73.68/min" }));
});

test("ordered junctions are hollow, what they serve first has a block, and both are in the legend", async () => {
  const ordered = layoutOf("chain", 4).replace("from: silo", "dividers: branch-first\n    from: silo");
  const marksOf = async (text: string): Promise<readonly Primitive[]> => {
    const { drawing } = drawn(text);
    return displayList(drawing, await place(drawing)).primitives;
  };
  const outline = (primitives: readonly Primitive[]) =>
    primitives.find(
      (primitive): primitive is Outline => primitive.kind === "outline" && primitive.of === "main.divider-1",
    );
  const blocks = (primitives: readonly Primitive[]) =>
    primitives.flatMap((primitive) =>
      primitive.kind === "line" && !primitive.hasHead && primitive.weight > 8 ? [primitive.of] : [],
    );
  const texts = (primitives: readonly Primitive[]) =>
    primitives.flatMap((primitive) => (primitive.kind === "text" ? [primitive.text] : []));
  const [even, first] = [await marksOf(layoutOf("chain", 4)), await marksOf(ordered)];
  expect(outline(even)?.fill).not.toBe(outline(first)?.fill);
  expect(blocks(even)).toEqual([]);
  expect(blocks(first)).toEqual(["main.branch-1", "main.branch-2", "main.branch-3"]);
  expect(texts(even)).toContain("divider that takes turns");
  expect(texts(first)).toContain("ordered divider: the belt with a block comes first");
});

test("a jam and a standstill are told, and marked where it stands", async () => {
  const { drawing } = drawn(JAMMING);
  const list = displayList(drawing, await place(drawing));
  expect(list.description).toBe(
    "The plant stands still: nothing is made once all has settled. Jam, for ever: red stands at the end of main.through-3.",
  );
  expect(blemishes(list)).toEqual([]);
  const jammed = list.primitives.filter(({ of }) => of === "main.through-3");
  expect(jammed).toContainEqual(expect.objectContaining({ text: "red stands" }));
  expect(list.primitives.filter(({ of }) => of === "mix")).toContainEqual(
    expect.objectContaining({ text: "red + blue · 0 of 50/min" }),
  );
  expect(list.primitives).toContainEqual(
    expect.objectContaining({ of: null, text: "belt on which a kind stands for ever" }),
  );
});

test("what is too large is refused with a sentence, and no file is made", async () => {
  const { drawing } = drawn(layoutOf("chain", 121));
  expect(refusalOf(drawing)).toBe("a drawing shows at most 120 machines; this plant has 121");
  expect((await drawingFiles(new Map([["x", drawing]]))).size).toBe(0);
  expect([...(await drawingReport(drawing)).keys()]).toEqual(["drawing.json"]);
  expect(drawingRefusal(20, 501)).toMatch(/at most 500 elements and belts; this plant has 501/);
  expect(drawingRefusal(120, 500)).toBeNull();
});
