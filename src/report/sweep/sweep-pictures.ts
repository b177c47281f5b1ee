/** A sweep: over one quantity curves, over two heat maps, of settling, loss and output. */

import type { Sweep, SweepPoint, SweptQuantity } from "../../study/sweep/sweep-results.ts";
import { type Curves, curvesPicture } from "../chart/curves.ts";
import { acrossAxis, columnAxis, label, type Picture } from "../chart/frame.ts";
import { approximately, minutesCell, number, plain, significant } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import {
  type Figure,
  lostItems,
  outputPerMin,
  quantityInWords,
  settledHoldUp,
  settlingMin,
  withinMin,
} from "./sweep-figures.ts";
import { type SweepFindingCode, sweepFindings } from "./sweep-findings.ts";
import { sweepMap } from "./sweep-map-picture.ts";

interface Content {
  /** Over one quantity. */
  readonly curves: string;
  /** Over two. */
  readonly map: string;
  readonly code: SweepFindingCode;
  readonly otherwise: string;
  readonly y: string;
  readonly unit: string;
  readonly decimals: number;
  /** The first of them is mapped. */
  readonly figures: readonly [SweepFigure, SweepFigure];
  readonly cell: (value: number) => string;
}

interface SweepFigure {
  readonly name: string;
  readonly of: Figure;
}

export const SETTLING: Content = {
  curves: "Ramp-up",
  map: "Full output, minutes from the start",
  code: "settling",
  otherwise: "No two points settle within the horizon.",
  y: "time from the start, minutes",
  unit: " min",
  decimals: 1,
  figures: [
    { name: "full output", of: settlingMin },
    { name: "95 %", of: withinMin },
  ],
  cell: minutesCell,
};

export const LOSS: Content = {
  curves: "Loss and hold-up",
  map: "Ramp-up loss, items",
  code: "loss",
  otherwise: "No two points have a ramp-up loss, for they don't settle within the horizon.",
  y: "items",
  unit: "",
  decimals: 0,
  figures: [
    { name: "ramp-up loss", of: lostItems },
    { name: "settled hold-up", of: settledHoldUp },
  ],
  cell: (value) => number(value),
};

export const OUTPUT: Content = {
  curves: "Output in the long run",
  map: "Output in the long run, items per minute",
  code: "output",
  otherwise: "No two points are complete.",
  y: "items per minute",
  unit: "/min",
  decimals: 1,
  figures: [
    { name: "long-run output", of: outputPerMin },
    { name: "full output", of: (point) => approximately(point.full_per_min) },
  ],
  cell: (value) => significant(value),
};

/** `null` where nothing was swept. */
export function sweepPicture(sweep: Sweep, content: Content): Picture | null {
  const [first, second] = sweep.quantities;
  if (first === undefined) return null;
  const finding = plain(sweepFindings(sweep).find((one) => one.code === content.code)?.text ?? content.otherwise);
  if (second === undefined) return overOne(sweep, first, content, finding);
  const [{ of }] = content.figures;
  const shown = { shown: content.map, finding, of, cell: (value: number) => plain(content.cell(value)) };
  return sweepMap(sweep, first, second, shown);
}

function overOne(sweep: Sweep, quantity: SweptQuantity, content: Content, finding: string): Picture {
  const { title, points } = sweep;
  const { values, numbers } = quantity;
  const at = (point: SweepPoint): number => {
    const index = values.indexOf(point.values[0] ?? "");
    return numbers?.[index] ?? index;
  };
  const axis = numbers === null ? columnAxis(values.map(label), axisLabel(quantity)) : numberAxis(quantity, numbers);
  const curves: Curves<SweepPoint> = {
    shown: `${content.curves} over ${oneLine(quantity.path)}`,
    scenarioTitle: title,
    finding,
    x: axis,
    y: content.y,
    unit: content.unit,
    decimals: content.decimals,
    curves: content.figures,
    points: points.toSorted((a, b) => at(a) - at(b)),
    at,
    isProved: (point) => point.proved,
    marks: [],
    joined: numbers !== null,
  };
  return curvesPicture(curves);
}

function axisLabel(quantity: SweptQuantity): string {
  return oneLine(quantityInWords(quantity));
}

function numberAxis(quantity: SweptQuantity, numbers: readonly number[]) {
  const least = Math.min(...numbers);
  const most = Math.max(...numbers);
  return acrossAxis(axisLabel(quantity), most > least ? most : least + 1, least, quantity.unit === "");
}
