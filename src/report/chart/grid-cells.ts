/** Plugins that paint rows over time: levels as colours, states as stacked shares. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { Chart } from "chart.js";
import type { PicturePlugin } from "./frame.ts";
import { fillRectangles, type Rectangle } from "./hatch.ts";
import { INK_SOFT, levelColour, STATE_FILLS, STATES, type State } from "./palette.ts";

/** Column i lasts from `edges[i]` to `edges[i + 1]`, on the time axis. */
export interface LevelRows {
  readonly edges: readonly number[];
  /** One array a row: share of the capacity in each column. */
  readonly shares: readonly (readonly number[])[];
}

export interface StateRows {
  readonly edges: readonly number[];
  /** One object a row: share of each column spent in each state. */
  readonly shares: readonly Readonly<Record<State, readonly number[]>>[];
}

interface Band {
  readonly top: number;
  readonly height: number;
}

/** Columns may reach beyond the end of the time axis. */
function clipToPlot(ctx: SKRSContext2D, chart: Chart<"line">): void {
  const { left, top, width, height } = chart.chartArea;
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
}

/** Whole pixels, so that neighbours meet without a seam. */
function bands(chart: Chart<"line">, rows: number): Band[] {
  const { top, height } = chart.chartArea;
  const pitch = height / Math.max(1, rows);
  const gap = pitch >= 36 ? 8 : pitch >= 20 ? 3 : pitch >= 7 ? 1 : 0;
  return Array.from({ length: rows }, (_, row) => {
    const from = Math.round(top + row * pitch);
    return { top: from, height: Math.max(1, Math.round(top + (row + 1) * pitch) - from - gap) };
  });
}

function pixelsOf(chart: Chart<"line">, edges: readonly number[]): number[] {
  const scale = chart.scales.x;
  return edges.map((edge) => (scale === undefined ? 0 : Math.round(scale.getPixelForValue(edge))));
}

export function levelCells(rows: LevelRows): PicturePlugin {
  return cells("levelCells", rows, (ctx, xs, placed) => {
    for (const [row, band] of placed.entries()) {
      for (const [column, share] of (rows.shares[row] ?? []).entries()) {
        const x = xs[column] ?? 0;
        ctx.fillStyle = levelColour(share);
        ctx.fillRect(x, band.top, (xs[column + 1] ?? x) - x, band.height);
      }
    }
  });
}

export function stateCells(rows: StateRows): PicturePlugin {
  return cells("stateCells", rows, (ctx, xs, placed) => {
    for (const state of STATES) fillRectangles(ctx, stateRectangles(rows, state, xs, placed), STATE_FILLS[state]);
  });
}

/** @param fill given the pixels of the cells' edges and where each row stands */
function cells(
  id: string,
  rows: LevelRows | StateRows,
  fill: (ctx: SKRSContext2D, xs: readonly number[], placed: readonly Band[]) => void,
): PicturePlugin {
  return {
    id,
    beforeDatasetsDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const placed = bands(chart, rows.shares.length);
      ctx.save();
      clipToPlot(ctx, chart);
      fill(ctx, pixelsOf(chart, rows.edges), placed);
      outline(ctx, chart, placed);
      ctx.restore();
    },
  };
}

/** States stand on one another in the order of `STATES`, running at the foot of the row. */
function stateRectangles(
  rows: StateRows,
  state: State,
  xs: readonly number[],
  placed: readonly Band[],
): readonly Rectangle[] {
  const rectangles: Rectangle[] = [];
  for (const [row, band] of placed.entries()) {
    const shares = rows.shares[row];
    if (shares === undefined) continue;
    for (const [column, share] of shares[state].entries()) {
      if (share <= 0) continue;
      let below = 0;
      for (const other of STATES) {
        if (other === state) break;
        below += shares[other][column] ?? 0;
      }
      const bottom = Math.round(band.top + band.height * (1 - below));
      const top = Math.round(band.top + band.height * (1 - below - share));
      const x = xs[column] ?? 0;
      const width = (xs[column + 1] ?? x) - x;
      if (bottom > top && width > 0) rectangles.push({ x, y: top, width, height: bottom - top });
    }
  }
  return rectangles;
}

function outline(ctx: SKRSContext2D, chart: Chart<"line">, placed: readonly Band[]): void {
  const { left, width } = chart.chartArea;
  ctx.strokeStyle = INK_SOFT;
  ctx.lineWidth = 1;
  for (const { top, height } of placed) {
    if (height >= 12) ctx.strokeRect(left + 0.5, top + 0.5, width - 1, height - 1);
  }
}
