/** Marks at a time: an upright line with its meaning written beside it, or a point with a note. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import { font } from "./font.ts";
import { type PicturePlugin, TEXT_SIZE } from "./frame.ts";
import { INK } from "./palette.ts";

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
      for (const [index, mark] of marks.entries()) {
        const x = Math.round(scale.getPixelForValue(mark.at));
        const others = drawn.filter((other) => Math.abs(other - x) >= LEAST_APART);
        // The earliest has its label before it, the others behind, where there is room.
        const side = others.length > 0 && others.every((other) => other > x) ? "before" : "behind";
        const place = { x, y: bottom - 26 - index * LINE_HEIGHT, side } as const;
        paintNote(ctx, mark.text, place, { left, right, edge: chart.width, others }, mark.colour);
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
      const { left, right } = chart.chartArea;
      paintNote(ctx, mark.text, { x, y: y - 28, side: "before" }, { left, right, edge: right, others: [] });
      ctx.restore();
    },
  };
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly side: "before" | "behind";
}

interface Bounds {
  readonly left: number;
  readonly right: number;
  /** Of the picture: a note that has no room in the plot may reach beyond it. */
  readonly edge: number;
  /** Lines that are not to run through a note. */
  readonly others: readonly number[];
}

const GAP = 14;
const EDGE = 6;

/**
 * Beside x and within the plot, on the other side than asked for if only that has room, on a pale ground. Where other lines leave
 * no room on either, beyond the next of them, with a stroke that leads to its own.
 */
function paintNote(ctx: SKRSContext2D, text: string, { x, y, side }: Place, bounds: Bounds, colour = INK): void {
  const { left, right, edge, others } = bounds;
  const width = ctx.measureText(text).width;
  const [before, behind] = [x - width - GAP, x + GAP];
  const isFree = (from: number, end = right): boolean =>
    from >= left + EDGE &&
    from + width <= end - EDGE &&
    others.every((other) => other < from - EDGE || other > from + width + EDGE);
  const wanted = side === "before" ? [before, behind] : [behind, before];
  const within = (from: number): number => Math.max(left + EDGE, Math.min(from, right - width - EDGE));
  const beyond = others
    .filter((other) => other > x)
    .toSorted((a, b) => a - b)
    .map((other) => other + GAP);
  const found =
    wanted.find((at) => isFree(at)) ?? beyond.find((at) => isFree(at)) ?? wanted.find((at) => isFree(at, edge));
  const from = found ?? within(wanted[0] ?? before);
  if (found !== undefined && !wanted.includes(found)) paintLeader(ctx, x, from - EDGE, y, colour);
  ctx.fillStyle = "rgba(255, 255, 255, 0.88)";
  ctx.fillRect(from - 5, y - 16, width + 10, 32);
  ctx.fillStyle = INK;
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  ctx.fillText(text, from, y);
}

/** From the line to its note, with a dot where it begins, so that it is not taken for one of the lines between. */
function paintLeader(ctx: SKRSContext2D, from: number, to: number, y: number, colour: string): void {
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = 2;
  ctx.beginPath();
  ctx.moveTo(from, y);
  ctx.lineTo(to, y);
  ctx.stroke();
  ctx.beginPath();
  ctx.arc(from, y, 5, 0, 2 * Math.PI);
  ctx.fill();
}
