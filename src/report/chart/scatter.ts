/** What is had against what it costs, a point each, of both the less the better: those not beaten stand out. */

import { wrapAtMost } from "../text/text-width.ts";
import { pixels } from "./font.ts";
import {
  acrossAxis,
  type Picture,
  type PictureDataset,
  type Point,
  picture,
  type Scale,
  TEXT_SIZE,
  valueAxis,
} from "./frame.ts";
import { key } from "./key.ts";
import { ACCENT, INK, INK_SOFT, PAPER } from "./palette.ts";
import { POINT_RADIUS, type PointLabel, pointLabels } from "./point-labels.ts";

export interface ScatterPoint {
  /** As its label has it. */
  readonly name: string;
  readonly at: Point;
  readonly undominated: boolean;
  /** What is shown beside those that are weighed: what stands today, and what would have to be changed first. */
  readonly beside?: keyof typeof BESIDE;
  /** Of two that want the same place for their labels the lower one has it. */
  readonly rank: number;
}

export interface Scatter {
  readonly shown: string;
  readonly scenarioTitle: string;
  readonly finding: string;
  readonly x: string;
  /** Whether the axis counts whole things, of which many points have none. */
  readonly counts: boolean;
  readonly y: string;
  /** Of the line along the best. */
  readonly best: string;
  readonly points: readonly ScatterPoint[];
}

const BESIDE = {
  today: { text: "as it stands today", shape: "rectRot", colour: INK },
  assumed: { text: "possible if (not weighed)", shape: "triangle" },
} as const;

const FRONT = { colour: ACCENT, width: 2.5, dash: [9, 6] };
/** One that is beaten by far would press the others together. */
const ROOM_FOR_BEATEN = 1.4;

/** Points that near, as a share of the axis, are on one another. */
const NEAR = 0.01;
/** Of a label that several points share, pixels and lines. */
const HEAP_WIDTH = 330;
const HEAP_LINES = 4;

export function scatterPicture(scatter: Scatter): Picture {
  const { points: shown } = scatter;
  const most = Math.max(scatter.counts ? 10 : 1e-3, ...shown.map(({ at }) => at.x)) * 1.04;
  const values = shown.map(({ at }) => at.y);
  const weighed = shown.filter(({ beside }) => beside !== "assumed");
  const front = frontOf(weighed, most);
  const besides = (["today", "assumed"] as const).filter((kind) => shown.some(({ beside }) => beside === kind));
  return picture({
    shown: scatter.shown,
    scenarioTitle: scatter.scenarioTitle,
    finding: scatter.finding,
    plotHeight: 520,
    x: xAxis(scatter, most),
    y: valueAxis(scatter.y, Math.max(0.1, ...values) * 1.12, Math.min(0, ...values) * 1.12),
    datasets: [
      // The first is painted last, so that today's shows where another is in its place.
      ...besides.map((kind) => besideDataset(shown, kind)),
      pointsDataset(shown, "not beaten"),
      pointsDataset(shown, "beaten"),
      {
        label: "best",
        data: front,
        borderColor: FRONT.colour,
        borderWidth: FRONT.width,
        borderDash: FRONT.dash,
        pointRadius: 0,
      },
    ],
    plugins: [
      pointLabels(labelsOf(shown), [front]),
      key([
        { kind: "dot", text: "not beaten", colour: ACCENT },
        ...(shown.some((one) => isKind(one, "beaten")) ? [{ kind: "dot", text: "beaten" } as const] : []),
        ...besides.map((kind) => ({ kind: "dot", ...BESIDE[kind] }) as const),
        { kind: "line", text: scatter.best, ...FRONT },
      ]),
    ],
    right: 24,
    withKey: true,
  });
}

/** Points without any of what is counted stand clear of the value axis. */
function xAxis({ x, counts, points }: Scatter, most: number): Scale {
  if (counts) return acrossAxis(x, most, -0.03 * most, true);
  const least = Math.min(...points.map(({ at }) => at.x));
  // What is much the same for all would crowd at the end of an axis from 0.
  return acrossAxis(x, most, least > FAR * most ? least - FAR * (most - least) : 0);
}

/** Of the axis, as a share. */
const FAR = 0.5;

/**
 * Those that the picture has room for, and those that are beaten by so much that it has none.
 * @param stands whether there has to be room
 */
export function withinPicture<T extends { readonly at: Point }>(
  known: readonly T[],
  stands: (one: T) => boolean,
): { readonly shown: T[]; readonly beyond: T[] } {
  const standing = known.filter(stands).map(({ at }) => at.y);
  const limit = standing.length === 0 ? Infinity : ROOM_FOR_BEATEN * Math.max(0, ...standing);
  return { shown: known.filter(({ at }) => at.y <= limit), beyond: known.filter(({ at }) => at.y > limit) };
}

function isKind({ undominated, beside }: ScatterPoint, kind: "beaten" | "not beaten"): boolean {
  return undominated ? kind === "not beaten" : kind === "beaten" && beside === undefined;
}

function pointsDataset(shown: readonly ScatterPoint[], kind: "beaten" | "not beaten"): PictureDataset {
  const undominated = kind === "not beaten";
  return {
    label: kind,
    data: shown.filter((one) => isKind(one, kind)).map(({ at }) => at),
    showLine: false,
    pointRadius: undominated ? POINT_RADIUS : POINT_RADIUS - 2,
    pointBackgroundColor: undominated ? ACCENT : PAPER,
    pointBorderColor: undominated ? ACCENT : INK_SOFT,
    pointBorderWidth: 2.5,
    clip: false,
  };
}

function besideDataset(shown: readonly ScatterPoint[], kind: keyof typeof BESIDE): PictureDataset {
  const { text, shape } = BESIDE[kind];
  return {
    label: text,
    data: shown.filter(({ beside }) => beside === kind).map(({ at }) => at),
    showLine: false,
    pointStyle: shape,
    pointRadius: POINT_RADIUS - 1,
    pointBackgroundColor: kind === "today" ? INK : PAPER,
    pointBorderColor: INK,
    pointBorderWidth: 2.5,
    clip: false,
  };
}

/** Of the first and those not beaten first, which have the first choice of places; points on one another share one. */
function labelsOf(shown: readonly ScatterPoint[]): PointLabel[] {
  const sorted = shown.toSorted((a, b) => a.rank - b.rank || b.at.y - a.at.y);
  return heaps(sorted).map(([first, ...others]) => ({
    lines: wrapAtMost([first, ...others].map(({ name }) => name).join(", "), HEAP_WIDTH, HEAP_LINES, pixels(TEXT_SIZE)),
    bold: first.undominated,
    ink: first.undominated ? INK : INK_SOFT,
    colour: INK_SOFT,
    line: [first.at],
    style: null,
  }));
}

type Heap = [ScatterPoint, ...ScatterPoint[]];

/** Points so near to one another that they all but cover each other, alike in whether they are beaten. */
function heaps(sorted: readonly ScatterPoint[]): Heap[] {
  const span = (of: (point: ScatterPoint) => number): number => Math.max(1e-9, ...sorted.map(of));
  const [acrossX, acrossY] = [span(({ at }) => at.x), span(({ at }) => at.y)];
  const found: Heap[] = [];
  for (const point of sorted) {
    const heap = found.find(
      ([first]) =>
        first.undominated === point.undominated &&
        Math.abs(first.at.x - point.at.x) < NEAR * acrossX &&
        Math.abs(first.at.y - point.at.y) < NEAR * acrossY,
    );
    if (heap === undefined) found.push([point]);
    else heap.push(point);
  }
  return found;
}

/** Steps down from the best that costs nothing, as more cost buys more. */
function frontOf(shown: readonly ScatterPoint[], end: number): Point[] {
  const front: Point[] = [];
  let best = Infinity;
  for (const { x, y } of shown.map(({ at }) => at).toSorted((a, b) => a.x - b.x || a.y - b.y)) {
    if (y >= best) continue;
    if (front.length > 0) front.push({ x, y: best });
    best = y;
    front.push({ x, y });
  }
  if (front.length > 0) front.push({ x: end, y: best });
  return front;
}
