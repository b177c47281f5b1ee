/** A plugin that paints a grid of figures: pale for the lowest, dark for the highest, written out where there is room. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { Chart } from "chart.js";
import { font, textPixels } from "./font.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";
import { fillRectangles, type Rectangle } from "./hatch.ts";
import { type Fill, INK, levelColour, PAPER } from "./palette.ts";

/** No figure: the line doesn't settle there. */
export const NO_FIGURE: Fill = { colour: PAPER, hatch: "rising", hatchColour: "#8c8c8c" };

export interface ValueCell {
  /** Indices on the axes. */
  readonly x: number;
  readonly y: number;
  /** 0 for the lowest to 1 for the highest; `null` where there is no figure. */
  readonly share: number | null;
  readonly text: string;
}

export function valueCells(columns: number, rows: number, cells: readonly ValueCell[]): PicturePlugin {
  return {
    id: "valueCells",
    beforeDatasetsDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const placed = cells.map((cell) => ({ ...cell, box: boxOf(chart, columns, rows, cell) }));
      ctx.save();
      for (const { share, box } of placed) {
        if (share === null) continue;
        ctx.fillStyle = levelColour(share);
        ctx.fillRect(box.x, box.y, box.width, box.height);
      }
      const empty = placed.flatMap(({ share, box }) => (share === null ? [box] : []));
      fillRectangles(ctx, empty, NO_FIGURE);
      if (placed.every(({ text, box }) => hasRoom(text, box))) for (const one of placed) write(ctx, one);
      ctx.restore();
    },
  };
}

/** Whole pixels, so that neighbours meet without a seam; a gap between them where they are large. */
function boxOf({ chartArea }: Chart<"line">, columns: number, rows: number, { x, y }: ValueCell): Rectangle {
  const { left, top, width, height } = chartArea;
  const [fromX, toX] = [x, x + 1].map((edge) => Math.round(left + (edge * width) / columns));
  const [fromY, toY] = [y, y + 1].map((edge) => Math.round(top + (edge * height) / rows));
  const gap = Math.min(width / columns, height / rows) >= 20 ? 2 : 0;
  return {
    x: fromX ?? left,
    y: fromY ?? top,
    width: Math.max(1, (toX ?? left) - (fromX ?? left) - gap),
    height: Math.max(1, (toY ?? top) - (fromY ?? top) - gap),
  };
}

function hasRoom(text: string, { width, height }: Rectangle): boolean {
  return textPixels(text, TEXT_SIZE) + 8 <= width && height >= TEXT_SIZE + 5;
}

/** From here on white is easier to read than ink. */
const DARK = 0.55;

function write(ctx: SKRSContext2D, { text, share, box }: ValueCell & { readonly box: Rectangle }): void {
  ctx.font = font(TEXT_SIZE);
  ctx.textAlign = "center";
  ctx.textBaseline = "middle";
  ctx.fillStyle = (share ?? 0) > DARK ? PAPER : INK;
  ctx.fillText(text, box.x + box.width / 2, box.y + box.height / 2);
}
