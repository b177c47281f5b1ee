/**
 * A list of primitives as a PNG, the same bytes in every process, whatever fonts are installed: painted at once, encoded on another
 * thread.
 */
import { createCanvas, type SKRSContext2D } from "@napi-rs/canvas";
import { encoded } from "../chart/encoded.ts";
import { font } from "../chart/font.ts";
import { PAPER } from "../chart/palette.ts";
import { registerFonts } from "../chart/registered-fonts.ts";
import { arrowHead, type DisplayList, type Point, type Primitive, shaft } from "./primitives.ts";

export function png({ width, height, primitives }: DisplayList): Promise<Uint8Array> {
  registerFonts();
  const canvas = createCanvas(width, height);
  const ctx = canvas.getContext("2d");
  // Otherwise text is shaped for the language of the host.
  ctx.lang = "en";
  ctx.lineJoin = "round";
  ctx.fillStyle = PAPER;
  ctx.fillRect(0, 0, width, height);
  for (const primitive of primitives) paint(ctx, primitive);
  return encoded(canvas.data(), width, height);
}

function paint(ctx: SKRSContext2D, primitive: Primitive): void {
  switch (primitive.kind) {
    case "outline":
      ctx.beginPath();
      outline(ctx, primitive.points, primitive.radius);
      ctx.fillStyle = primitive.fill;
      ctx.fill();
      stroke(ctx, primitive.colour, primitive.weight, []);
      return;
    case "line":
      ctx.beginPath();
      trace(ctx, primitive.hasHead ? shaft(primitive.points) : primitive.points);
      stroke(ctx, primitive.colour, primitive.weight, primitive.dash);
      if (!primitive.hasHead) return;
      ctx.beginPath();
      trace(ctx, arrowHead(primitive.points, primitive.weight));
      ctx.fillStyle = primitive.colour;
      ctx.fill();
      return;
    case "text":
      ctx.font = font(primitive.size, primitive.weight);
      ctx.textAlign = primitive.anchor === "middle" ? "center" : "left";
      ctx.fillStyle = primitive.colour;
      ctx.fillText(primitive.text, primitive.x, primitive.y);
  }
}

function outline(ctx: SKRSContext2D, points: readonly Point[], radius: number): void {
  const [first, , across] = points;
  if (radius > 0 && first !== undefined && across !== undefined) {
    ctx.roundRect(first.x, first.y, across.x - first.x, across.y - first.y, radius);
    return;
  }
  trace(ctx, points);
  ctx.closePath();
}

function trace(ctx: SKRSContext2D, points: readonly Point[]): void {
  for (const [i, { x, y }] of points.entries()) {
    if (i === 0) ctx.moveTo(x, y);
    else ctx.lineTo(x, y);
  }
}

function stroke(ctx: SKRSContext2D, colour: string, weight: number, dash: readonly number[]): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = weight;
  ctx.setLineDash([...dash]);
  ctx.stroke();
}
