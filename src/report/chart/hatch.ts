/** Rectangles filled with a colour and, on top, hatching, so that fills differ in print and for every eye. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { Fill, Hatch } from "./palette.ts";

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const SPACING = 9;

export function fillRectangles(ctx: SKRSContext2D, rectangles: readonly Rectangle[], fill: Fill): void {
  if (rectangles.length === 0) return;
  ctx.save();
  ctx.beginPath();
  for (const { x, y, width, height } of rectangles) ctx.rect(x, y, width, height);
  ctx.fillStyle = fill.colour;
  ctx.fill();
  if (fill.hatch !== "none") {
    ctx.clip();
    ctx.strokeStyle = fill.hatchColour;
    ctx.lineWidth = 1.5;
    strokeHatch(ctx, bounds(rectangles), fill.hatch);
  }
  ctx.restore();
}

function bounds(rectangles: readonly Rectangle[]): Rectangle {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y, width, height } of rectangles) {
    left = Math.min(left, x);
    top = Math.min(top, y);
    right = Math.max(right, x + width);
    bottom = Math.max(bottom, y + height);
  }
  return { x: left, y: top, width: right - left, height: bottom - top };
}

function strokeHatch(ctx: SKRSContext2D, area: Rectangle, hatch: Exclude<Hatch, "none">): void {
  const right = area.x + area.width;
  const bottom = area.y + area.height;
  // Starting points are multiples of the spacing, so that neighbouring areas continue one pattern.
  const from = (value: number): number => Math.floor(value / SPACING) * SPACING;
  ctx.beginPath();
  if (hatch === "rising" || hatch === "crossed") {
    for (let sum = from(area.x + area.y); sum <= right + bottom; sum += SPACING) {
      ctx.moveTo(sum - bottom, bottom);
      ctx.lineTo(sum - area.y, area.y);
    }
  }
  if (hatch === "falling" || hatch === "crossed") {
    for (let difference = from(area.x - bottom); difference <= right - area.y; difference += SPACING) {
      ctx.moveTo(difference + area.y, area.y);
      ctx.lineTo(difference + bottom, bottom);
    }
  }
  if (hatch === "level") {
    for (let y = from(area.y) + 0.5; y <= bottom; y += SPACING / 1.5) {
      ctx.moveTo(area.x, y);
      ctx.lineTo(right, y);
    }
  }
  ctx.stroke();
}
