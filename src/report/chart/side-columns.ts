/** Columns of figures to the right of a picture of rows, with headings above. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import { font } from "./font.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";
import { INK, INK_SOFT } from "./palette.ts";

export interface SideColumn {
  readonly heading: string;
  /** One a row. */
  readonly cells: readonly string[];
  /** Pixels. */
  readonly width: number;
}

const GAP = 10;

export function sideColumnRoom(columns: readonly SideColumn[]): number {
  return columns.reduce((room, column) => room + column.width + GAP, 16);
}

/**
 * Where rows are thin only those are written out whose labels are on the row axis too.
 * @param over a heading over all of them
 */
export function sideColumns(over: string, columns: readonly SideColumn[]): PicturePlugin {
  return {
    id: "sideColumns",
    afterDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const rows = chart.scales.y;
      if (rows === undefined) return;
      const { right, top } = chart.chartArea;
      ctx.save();
      ctx.textAlign = "right";
      ctx.textBaseline = "middle";
      let edge = right;
      for (const column of columns) {
        edge += column.width + GAP;
        ctx.font = font(TEXT_SIZE - 2);
        ctx.fillStyle = INK_SOFT;
        ctx.fillText(column.heading, edge, top - 16);
        ctx.font = font(TEXT_SIZE);
        ctx.fillStyle = INK;
        for (const tick of rows.ticks) {
          ctx.fillText(column.cells[tick.value] ?? "", edge, rows.getPixelForValue(tick.value));
        }
      }
      ctx.font = font(TEXT_SIZE - 2);
      ctx.fillStyle = INK_SOFT;
      ctx.fillText(over, edge, top - 42);
      ctx.restore();
    },
  };
}
