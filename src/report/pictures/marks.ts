/** Marks at a time: an upright line with its meaning written beside it, or a point with a note. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import { font } from "../font.ts";
import { INK } from "../palette.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";

export interface TimeMark {
  /** On the time axis. */
  readonly at: number;
  readonly text: string;
  readonly colour: string;
  readonly dash: readonly number[];
}

const LINE_HEIGHT = 36;
const LEAST_APART = 4;

/** Labels stand one above the other from the foot of the plot, the first lowest. */
export function timeMarks(marks: readonly TimeMark[]): PicturePlugin {
  return {
    id: "timeMarks",
    afterDatasetsDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const scale = chart.scales.x;
      if (scale === undefined) return;
      const { left, right, top, bottom } = chart.chartArea;
      ctx.save();
      ctx.font = font(TEXT_SIZE, 600);
      const drawn: number[] = [];
      for (const mark of marks) {
        const x = Math.round(scale.getPixelForValue(mark.at));
        // Two in one place have one line and both labels.
        if (drawn.some((other) => Math.abs(other - x) < LEAST_APART)) continue;
        drawn.push(x);
        ctx.strokeStyle = mark.colour;
        ctx.lineWidth = 3;
        ctx.setLineDash([...mark.dash]);
        ctx.beginPath();
        ctx.moveTo(x, top);
        ctx.lineTo(x, bottom);
        ctx.stroke();
      }
      ctx.setLineDash([]);
      // The earliest has its label before it, the others behind, so that no line runs through a label.
      const earliest = Math.min(...marks.map(({ at }) => at));
      const first = Math.round(scale.getPixelForValue(earliest));
      for (const [index, mark] of marks.entries()) {
        const x = Math.round(scale.getPixelForValue(mark.at));
        const side = marks.length > 1 && mark.at === earliest ? "before" : "behind";
        const place = { x, first, y: bottom - 26 - index * LINE_HEIGHT, side } as const;
        paintNote(ctx, mark.text, place, left, right);
      }
      ctx.restore();
    },
  };
}

export interface PointMark {
  readonly at: number;
  readonly value: number;
  readonly text: string;
}

/** A ring at the point, the note above it. */
export function pointMark(mark: PointMark): PicturePlugin {
  return {
    id: "pointMark",
    afterDatasetsDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const { x: times, y: values } = chart.scales;
      if (times === undefined || values === undefined) return;
      const x = times.getPixelForValue(mark.at);
      const y = values.getPixelForValue(mark.value);
      ctx.save();
      ctx.beginPath();
      ctx.arc(x, y, 8, 0, 2 * Math.PI);
      ctx.fillStyle = "#ffffff";
      ctx.fill();
      ctx.strokeStyle = INK;
      ctx.lineWidth = 3;
      ctx.stroke();
      ctx.font = font(TEXT_SIZE, 600);
      paintNote(ctx, mark.text, { x, y: y - 28, side: "before" }, chart.chartArea.left, chart.chartArea.right);
      ctx.restore();
    },
  };
}

interface Place {
  readonly x: number;
  /** Where notes before x end, if that is not x. */
  readonly first?: number;
  readonly y: number;
  readonly side: "before" | "behind";
}

/** Beside x and within the plot, on the other side than asked for if only that has room, on a pale ground. */
function paintNote(
  ctx: SKRSContext2D,
  text: string,
  { x, first = x, y, side }: Place,
  left: number,
  right: number,
): void {
  const width = ctx.measureText(text).width;
  const before = first - width - 14;
  const behind = x + 14;
  const fitsBefore = before >= left + 6;
  const fitsBehind = behind + width <= right - 6;
  const wanted =
    side === "before" ? (fitsBefore || !fitsBehind ? before : behind) : fitsBehind || !fitsBefore ? behind : before;
  const from = Math.max(left + 6, Math.min(wanted, right - width - 6));
  ctx.fillStyle = "rgba(255, 255, 255, 0.88)";
  ctx.fillRect(from - 5, y - 16, width + 10, 32);
  ctx.fillStyle = INK;
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  ctx.fillText(text, from, y);
}
