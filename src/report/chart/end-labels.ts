/** Labels to the right of the plot, one at the end of each line, moved apart where they would collide. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import { font, textPixels } from "./font.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";
import { INK, type LineStyle } from "./palette.ts";

export interface EndLabel {
  readonly text: string;
  /** On the value axis. */
  readonly value: number;
  readonly colour: string;
  /** Drawn before the text where given. */
  readonly style?: LineStyle;
  readonly bold?: boolean;
}

const LINE_HEIGHT = 29;
const LEADER = 26;
const SAMPLE = 48;

export function endLabels(labels: readonly EndLabel[]): PicturePlugin {
  return {
    id: "endLabels",
    afterDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const scale = chart.scales.y;
      if (scale === undefined) return;
      const { right, top, bottom } = chart.chartArea;
      const wanted = labels.map((label) => clamp(scale.getPixelForValue(label.value), top, bottom));
      const placed = spread(wanted, LINE_HEIGHT, top, bottom);
      ctx.save();
      ctx.textBaseline = "middle";
      ctx.textAlign = "left";
      for (const [index, label] of labels.entries()) {
        const from = wanted[index] ?? top;
        const y = placed[index] ?? top;
        ctx.strokeStyle = label.colour;
        ctx.lineWidth = 1.5;
        ctx.beginPath();
        ctx.moveTo(right + 2, from);
        ctx.lineTo(right + LEADER - 4, y);
        ctx.stroke();
        let x = right + LEADER;
        if (label.style !== undefined) {
          paintSample(ctx, label.style, x, y);
          x += SAMPLE + 8;
        }
        ctx.font = font(TEXT_SIZE, label.bold === true ? 600 : 400);
        ctx.fillStyle = INK;
        ctx.fillText(label.text, x, y);
      }
      ctx.restore();
    },
  };
}

/** Room to the right of the plot that the labels need, pixels. */
export function endLabelRoom(labels: readonly EndLabel[]): number {
  const widths = labels.map(({ text, style }) => textPixels(text, TEXT_SIZE) + (style === undefined ? 0 : SAMPLE + 8));
  return Math.max(0, ...widths) + LEADER + 16;
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/**
 * Positions at least `gap` apart within `low` to `high`, in the order of the wanted ones (those within a gap in the order given),
 * each as near to the wanted one as the others let it. Where there is no room for the gap, evenly spaced.
 */
export function spread(wanted: readonly number[], gap: number, low: number, high: number): number[] {
  const rank = (index: number): number => Math.round((wanted[index] ?? 0) / gap);
  const order = wanted.map((_, index) => index).sort((a, b) => rank(a) - rank(b) || a - b);
  const step = wanted.length > 1 ? Math.min(gap, (high - low) / (wanted.length - 1)) : gap;
  const placed = wanted.map(() => low);
  let next = low;
  for (const index of order) {
    const at = Math.max(wanted[index] ?? low, next);
    placed[index] = at;
    next = at + step;
  }
  let most = high;
  for (const index of order.reverse()) {
    const at = Math.min(placed[index] ?? high, most);
    placed[index] = at;
    most = at - step;
  }
  return placed;
}

function paintSample(ctx: SKRSContext2D, style: LineStyle, x: number, y: number): void {
  ctx.strokeStyle = style.colour;
  ctx.lineWidth = 3.5;
  ctx.setLineDash([...style.dash]);
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(x + SAMPLE, y);
  ctx.stroke();
  ctx.setLineDash([]);
  paintMarker(ctx, style, x + SAMPLE / 2, y);
}

export function paintMarker(ctx: SKRSContext2D, style: LineStyle, x: number, y: number): void {
  ctx.fillStyle = style.colour;
  ctx.lineWidth = 3;
  ctx.beginPath();
  switch (style.marker) {
    case "circle":
      ctx.arc(x, y, 7, 0, 2 * Math.PI);
      ctx.fill();
      return;
    case "rect":
      ctx.fillRect(x - 6, y - 6, 12, 12);
      return;
    case "rectRot":
      polygon(ctx, [x, y - 9, x + 9, y, x, y + 9, x - 9, y]);
      return;
    case "triangle":
      polygon(ctx, [x, y - 9, x + 8, y + 6, x - 8, y + 6]);
      return;
    case "cross":
      ctx.moveTo(x - 8, y);
      ctx.lineTo(x + 8, y);
      ctx.moveTo(x, y - 8);
      ctx.lineTo(x, y + 8);
      ctx.stroke();
      return;
    case "crossRot":
      ctx.moveTo(x - 6, y - 6);
      ctx.lineTo(x + 6, y + 6);
      ctx.moveTo(x + 6, y - 6);
      ctx.lineTo(x - 6, y + 6);
      ctx.stroke();
      return;
  }
}

function polygon(ctx: SKRSContext2D, corners: readonly number[]): void {
  for (let i = 0; i + 1 < corners.length; i += 2) ctx.lineTo(corners[i] ?? 0, corners[i + 1] ?? 0);
  ctx.closePath();
  ctx.fill();
}
