/** The key between subtitle and plot: what each line, fill and colour means. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import { font } from "./font.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";
import { fillRectangles } from "./hatch.ts";
import { type Fill, INK, INK_SOFT, levelColour } from "./palette.ts";

/** As chart.js names them. */
export type DotShape = "circle" | "rectRot" | "triangle";

export type KeyEntry =
  | { readonly kind: "fill"; readonly text: string; readonly fill: Fill }
  | {
      readonly kind: "line";
      readonly text: string;
      readonly colour: string;
      readonly width: number;
      readonly dash: readonly number[];
    }
  /** A ring, or a disc where it has a colour; or another mark. */
  | { readonly kind: "dot"; readonly text: string; readonly colour?: string; readonly shape?: DotShape }
  /** A scale bar from empty to full. */
  | { readonly kind: "levels"; readonly before: string; readonly text: string };

const GAP = 26;
const SWATCH = { fill: 34, line: 44, dot: 18, levels: 220 } as const;

export function key(entries: readonly KeyEntry[]): PicturePlugin {
  return {
    id: "key",
    afterDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      ctx.save();
      ctx.font = font(TEXT_SIZE);
      ctx.textBaseline = "middle";
      ctx.textAlign = "left";
      const middle = chart.chartArea.top - 36;
      let x = 24;
      for (const entry of entries) x = paintEntry(ctx, entry, x, middle) + GAP;
      ctx.restore();
    },
  };
}

/** @returns where the entry ends */
function paintEntry(ctx: SKRSContext2D, entry: KeyEntry, left: number, middle: number): number {
  let x = left;
  if (entry.kind === "levels") {
    ctx.fillStyle = INK;
    ctx.fillText(entry.before, x, middle);
    x = Math.ceil(x + ctx.measureText(entry.before).width + 10);
  }
  paintSwatch(ctx, entry, x, middle);
  x += SWATCH[entry.kind] + 9;
  ctx.fillStyle = INK;
  ctx.fillText(entry.text, x, middle);
  return Math.ceil(x + ctx.measureText(entry.text).width);
}

function paintSwatch(ctx: SKRSContext2D, entry: KeyEntry, x: number, middle: number): void {
  const width = SWATCH[entry.kind];
  if (entry.kind === "line") {
    ctx.beginPath();
    ctx.strokeStyle = entry.colour;
    ctx.lineWidth = entry.width;
    ctx.setLineDash([...entry.dash]);
    ctx.moveTo(x, middle);
    ctx.lineTo(x + width, middle);
    ctx.stroke();
    ctx.setLineDash([]);
    return;
  }
  if (entry.kind === "dot") {
    paintDot(ctx, x + width / 2, middle, entry);
    return;
  }
  const box = { x, y: middle - 13, width, height: 26 };
  if (entry.kind === "fill") fillRectangles(ctx, [box], entry.fill);
  else {
    for (let step = 0; step < width; step++) {
      ctx.fillStyle = levelColour(step / (width - 1));
      ctx.fillRect(x + step, box.y, 1, box.height);
    }
  }
  ctx.strokeStyle = INK_SOFT;
  ctx.lineWidth = 1;
  ctx.strokeRect(box.x + 0.5, box.y + 0.5, box.width - 1, box.height - 1);
}

/** As the "full" marks in the heat map, or as the points of a scatter. */
function paintDot(
  ctx: SKRSContext2D,
  x: number,
  y: number,
  { colour, shape = "circle" }: { readonly colour?: string; readonly shape?: DotShape },
): void {
  ctx.beginPath();
  if (shape === "circle") ctx.arc(x, y, 6, 0, 2 * Math.PI);
  else {
    const corners = shape === "rectRot" ? [-8, 0, 0, -8, 8, 0, 0, 8] : [-8, 6, 0, -8, 8, 6];
    for (let i = 0; i < corners.length; i += 2) ctx.lineTo(x + (corners[i] ?? 0), y + (corners[i + 1] ?? 0));
    ctx.closePath();
  }
  ctx.fillStyle = colour ?? "#ffffff";
  ctx.fill();
  ctx.strokeStyle = colour ?? INK;
  ctx.lineWidth = 2;
  ctx.stroke();
}
