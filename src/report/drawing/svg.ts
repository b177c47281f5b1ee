/** A list of primitives as SVG 1.1, with the parts of the font that its texts need, so that it looks the same everywhere. */
import { readFileSync } from "node:fs";
import { FONT_FAMILY, FONT_SUBSETS, type FontSubset, subsetFamily } from "../chart/font.ts";
import { PAPER } from "../chart/palette.ts";
import { FONT_WEIGHTS, fontFile } from "../chart/registered-fonts.ts";
import { arrowHead, type DisplayList, type Point, type Primitive, shaft } from "./primitives.ts";

export function svg({ width, height, title, description, primitives }: DisplayList): string {
  const body = grouped(primitives).map(([of, own]) => {
    const lines = own.map(markText);
    return of === null ? lines.join("\n") : `<g><title>${escaped(of)}</title>\n${lines.join("\n")}\n</g>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">
<title>${escaped(title)}</title>
<desc>${escaped(description)}</desc>
<style>
${fontFaces(primitives)}
text { font-family: ${FONT_FAMILY}, "Source Sans 3", sans-serif; }
</style>
<rect width="${width}" height="${height}" fill="${PAPER}"/>
${body.join("\n")}
</svg>
`;
}

/** Neighbours of one element or belt. */
function grouped(primitives: readonly Primitive[]): [string | null, Primitive[]][] {
  const groups: [string | null, Primitive[]][] = [];
  for (const primitive of primitives) {
    const last = groups.at(-1);
    if (last !== undefined && last[0] === primitive.of) last[1].push(primitive);
    else groups.push([primitive.of, [primitive]]);
  }
  return groups;
}

function markText(primitive: Primitive): string {
  switch (primitive.kind) {
    case "outline":
      return outline(primitive);
    case "line": {
      const dash = primitive.dash.length === 0 ? "" : ` stroke-dasharray="${primitive.dash.join(" ")}"`;
      const points = primitive.hasHead ? shaft(primitive.points) : primitive.points;
      const line = `<polyline points="${places(points)}" fill="none" ${stroke(primitive)}${dash}/>`;
      if (!primitive.hasHead) return line;
      return `${line}\n<polygon points="${places(arrowHead(primitive.points, primitive.weight))}" fill="${primitive.colour}"/>`;
    }
    case "text": {
      const bold = primitive.weight === 400 ? "" : ` font-weight="${primitive.weight}"`;
      const place = `x="${short(primitive.x)}" y="${short(primitive.y)}" text-anchor="${primitive.anchor}"`;
      return `<text ${place} font-size="${primitive.size}"${bold} fill="${primitive.colour}">${escaped(primitive.text)}</text>`;
    }
  }
}

function outline(primitive: Extract<Primitive, { kind: "outline" }>): string {
  const style = `fill="${primitive.fill}" ${stroke(primitive)} stroke-linejoin="round"`;
  const [first, , across] = primitive.points;
  if (primitive.radius === 0 || first === undefined || across === undefined) {
    return `<polygon points="${places(primitive.points)}" ${style}/>`;
  }
  const size = `width="${short(across.x - first.x)}" height="${short(across.y - first.y)}" rx="${primitive.radius}"`;
  return `<rect x="${short(first.x)}" y="${short(first.y)}" ${size} ${style}/>`;
}

function stroke({ colour, weight }: { readonly colour: string; readonly weight: number }): string {
  return `stroke="${colour}" stroke-width="${weight}"`;
}

function places(points: readonly Point[]): string {
  return points.map(({ x, y }) => `${short(x)},${short(y)}`).join(" ");
}

function short(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** Characters that XML 1.0 does not allow are replaced. */
function escaped(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "\ufffd")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}

const LETTERS: Readonly<Record<FontSubset, RegExp>> = {
  latin: /[\u0020-\u00ff\u2000-\u206f]/u,
  "latin-ext": /[\u0100-\u02ff\u1d00-\u1dbf\u1e00-\u1eff]/u,
  greek: /[\u0370-\u03ff]/u,
  cyrillic: /[\u0400-\u045f\u0490\u0491\u04b0\u04b1\u2116]/u,
};

function fontFaces(primitives: readonly Primitive[]): string {
  const texts = primitives.filter((primitive) => primitive.kind === "text");
  const faces: string[] = [];
  for (const subset of FONT_SUBSETS) {
    for (const weight of FONT_WEIGHTS) {
      if (!texts.some((primitive) => primitive.weight === weight && LETTERS[subset].test(primitive.text))) continue;
      const data = readFileSync(fontFile(subset, weight)).toString("base64");
      faces.push(
        `@font-face { font-family: "${subsetFamily(subset)}"; font-weight: ${weight}; src: url(data:font/woff2;base64,${data}) format("woff2"); }`,
      );
    }
  }
  return faces.join("\n");
}
