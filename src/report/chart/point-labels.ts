/** Labels in the plot, at the points or lines they name. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { Chart } from "chart.js";
import { paintMarker } from "./end-labels.ts";
import { font, textPixels } from "./font.ts";
import { type PicturePlugin, type Point, TEXT_SIZE } from "./frame.ts";
import type { LineStyle } from "./palette.ts";
import { type Box, evenly, leaderEnd, type PlacedLabel, placeLabels } from "./place-labels.ts";
import type { Pixel } from "./point-counts.ts";

export interface PointLabel {
  readonly lines: readonly string[];
  readonly bold: boolean;
  /** Of the text. */
  readonly ink: string;
  /** Of the leader. */
  readonly colour: string;
  /** A line to be named at any of its points, or a single point. In the units of the axes. */
  readonly line: readonly Point[];
  /** The marker that ties the label to its line; `null` at single points, which have their own. */
  readonly style: LineStyle | null;
}

const LINE_HEIGHT = 27;
const ANCHORS = 40;
/** A label nearer to its point needs no leader. */
const NEAR = 20;
/** Single points are painted that large, and their leaders begin at the edge. */
export const POINT_RADIUS = 10;

/** @param lines that labels had better not cover, besides those they name */
export function pointLabels(labels: readonly PointLabel[], lines: readonly (readonly Point[])[] = []): PicturePlugin {
  return {
    id: "pointLabels",
    afterDatasetsDraw(chart) {
      const toPixels = pixelsOf(chart);
      const own = labels.map(({ line }) => evenly(toPixels(line)));
      const placed = placeLabels(
        labels.map((label, index) => ({
          anchors: anchorsOn(own[index] ?? []),
          width: Math.max(0, ...label.lines.map((line) => textPixels(line, TEXT_SIZE))) + 6,
          height: LINE_HEIGHT * label.lines.length + 3,
        })),
        plotOf(chart),
        [
          ...own.map((line) => (line.length === 1 ? line.flatMap(dot) : line)),
          ...lines.map((line) => evenly(toPixels(line))),
        ],
      );
      const ctx: SKRSContext2D = chart.ctx;
      ctx.save();
      for (const [index, place] of placed.entries()) {
        const label = labels[index];
        if (label !== undefined) paintLabel(ctx, label, place);
      }
      ctx.restore();
    },
  };
}

/** A point with its extent. */
function dot({ x, y }: Pixel): Pixel[] {
  return [-8, 0, 8].flatMap((dx) => [-8, 0, 8].map((dy) => ({ x: x + dx, y: y + dy })));
}

function pixelsOf({ scales, chartArea }: Chart<"line">): (line: readonly Point[]) => Pixel[] {
  const { x: across, y: up } = scales;
  if (across === undefined || up === undefined) return () => [];
  return (line) =>
    line
      .map((point) => ({ x: across.getPixelForValue(point.x), y: up.getPixelForValue(point.y) }))
      .filter(({ x, y }) => x >= chartArea.left - 1 && x <= chartArea.right + 1 && Number.isFinite(y));
}

function plotOf({ chartArea: { left, top, right, bottom } }: Chart<"line">): Box {
  return { left: left + 4, top: top + 2, width: right - left - 8, height: bottom - top - 4 };
}

function anchorsOn(line: readonly Pixel[]): Pixel[] {
  const every = Math.max(1, Math.floor(line.length / ANCHORS));
  return line.filter((_, index) => index % every === Math.floor(every / 2));
}

function paintLabel(ctx: SKRSContext2D, label: PointLabel, { anchor, box }: PlacedLabel): void {
  const end = leaderEnd(anchor, box);
  const length = Math.hypot(end.x - anchor.x, end.y - anchor.y);
  if (length > NEAR) {
    const bare = (label.style === null ? POINT_RADIUS : 0) / length;
    ctx.strokeStyle = label.colour;
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.moveTo(anchor.x + (end.x - anchor.x) * bare, anchor.y + (end.y - anchor.y) * bare);
    ctx.lineTo(end.x, end.y);
    ctx.stroke();
  }
  if (label.style !== null) {
    ctx.strokeStyle = label.colour;
    paintMarker(ctx, label.style, anchor.x, anchor.y);
  }
  ctx.font = font(TEXT_SIZE, label.bold ? 600 : 400);
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  ctx.lineJoin = "round";
  ctx.lineWidth = 6;
  ctx.strokeStyle = "rgba(255, 255, 255, 0.8)";
  ctx.fillStyle = label.ink;
  for (const [index, line] of label.lines.entries()) {
    const y = box.top + 1.5 + LINE_HEIGHT * (index + 0.5);
    ctx.strokeText(line, box.left + 3, y);
    ctx.fillText(line, box.left + 3, y);
  }
}
