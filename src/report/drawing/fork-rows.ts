/** What forks have in a row, level by level along the flow. */
import type { DrawnBelt, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { type Direction, labelSize, type Size, sizesOf } from "./element-sizes.ts";
import { GAP, type Shape, shapesOf } from "./fork-shapes.ts";
import type { Fork } from "./forks.ts";
import { beltText, commonRateOf } from "./words.ts";

/** Pixels along the flow: from an element to where its belts turn, from one turn to another, to the text, from there to the next element. */
export const BEND = 18;
export const TRACK = 16;
const TEXT = 18;
export const ARROW = 26;

/** Pixels along the flow and across it. */
export interface Extent {
  readonly along: number;
  readonly across: number;
}

/** How large all is in a direction. */
export interface Paper {
  readonly direction: Direction;
  readonly boxOf: (extent: Extent) => Size;
  readonly elementOf: (fork: Fork) => Extent;
  readonly textOf: (belt: DrawnBelt | null) => Extent;
  readonly broadest: number;
}

export function paperOf(drawing: PlantDrawing, direction: Direction): Paper {
  const isRight = direction === "right";
  const extent = ({ width, height }: Size): Extent =>
    isRight ? { along: width, across: height } : { along: height, across: width };
  const none = { along: 0, across: 0 };
  const commonRate = commonRateOf(drawing);
  const elements = new Map([...sizesOf(drawing, direction)].map(([id, size]) => [id, extent(size)]));
  const texts = new Map(
    drawing.belts.flatMap((belt) => {
      const text = beltText(belt, commonRate);
      return text === null ? [] : [[belt.id, extent(labelSize(text))] as const];
    }),
  );
  return {
    direction,
    boxOf: ({ along, across }) => (isRight ? { width: along, height: across } : { width: across, height: along }),
    elementOf: ({ element }) => elements.get(element) ?? none,
    broadest: Math.max(0, ...[...texts.values()].map(({ across }) => across)),
    textOf: (belt) => (belt === null ? none : (texts.get(belt.id) ?? none)),
  };
}

interface Standing {
  readonly fork: Fork;
  readonly shape: Shape;
  /** Of its inlet. */
  readonly across: number;
  readonly depth: number;
}

/** Along the flow. */
interface Level {
  /** Where the first belts to it turn. */
  readonly bend: number;
  /** The middle of their texts. */
  readonly text: number;
  readonly element: number;
  readonly end: number;
}

export interface Row {
  readonly standing: readonly Standing[];
  readonly levels: readonly Level[];
  /** Across the flow: where a belt goes back or on beside it, and the end of all. */
  readonly beside: number;
  readonly high: number;
}

/** @param low where it may begin, across the flow */
export function rowOf(head: Fork, paper: Paper, low: number): Row {
  const { elementOf, textOf, broadest } = paper;
  const shapes = shapesOf(head, { element: (fork) => elementOf(fork).across, text: broadest });
  const standing: Standing[] = [];
  const stand = (fork: Fork, across: number, depth: number): void => {
    const shape = shapes.get(fork);
    if (shape === undefined) return;
    standing.push({ fork, shape, across, depth });
    for (const [i, outlet] of fork.outlets.entries()) stand(outlet, across + (shape.ends[i] ?? 0), depth + 1);
  };
  const { lows = [], highs = [] } = shapes.get(head) ?? {};
  const inlet = low - Math.min(...lows);
  stand(head, inlet, 0);
  const high = inlet + Math.max(...highs);
  const passing = standing.find(({ fork }) => fork.back !== null || fork.isElsewhere);
  const room = textOf(passing?.fork.back ?? null).across / 2;
  // What leads back passes by what stands before it.
  const passed = passing?.fork.back ? highs.slice(0, 2 * passing.depth + 3) : highs;
  const beside = inlet + Math.max(...passed) + GAP + room;
  return {
    standing,
    levels: levelsOf(standing, paper),
    beside,
    high: passing === undefined ? high : Math.max(high, beside + room),
  };
}

function levelsOf(standing: readonly Standing[], { elementOf, textOf }: Paper): Level[] {
  const levels: Level[] = [];
  const depth = Math.max(...standing.map((one) => one.depth));
  for (let i = 0; i <= depth; i++) {
    const here = standing.filter((one) => one.depth === i).map(({ fork }) => fork);
    const before = standing.filter((one) => one.depth === i - 1);
    const turns = Math.max(0, ...before.flatMap(({ shape }) => tracksOf(shape)));
    const last = levels.at(-1);
    const bend = last === undefined ? 0 : last.end + BEND;
    const text = bend + turns * TRACK + TEXT;
    const length = Math.max(0, ...here.map(({ isElsewhere, inlet }) => (isElsewhere ? 0 : textOf(inlet).along)));
    const arrow = here.some(({ returned }) => returned !== null) ? 2 * ARROW : ARROW;
    const element = here.every(({ inlet }) => inlet === null) ? 0 : text + length + arrow;
    levels.push({
      bend,
      text: text + length / 2,
      element,
      end: element + Math.max(...here.map((fork) => (fork.isElsewhere ? 0 : elementOf(fork).along))),
    });
  }
  return levels;
}

export function endOf({ levels }: Row): number {
  return levels.at(-1)?.end ?? 0;
}

/** How far each belt goes on before it turns, so that none crosses another's way. */
export function tracksOf({ ports, ends }: Shape): number[] {
  const isBefore = (i: number): boolean => (ends[i] ?? 0) < (ports[i] ?? 0);
  const before = ports.filter((_, i) => isBefore(i)).length;
  return ports.map((port, i) => (isBefore(i) ? i : ends[i] === port ? 0 : ports.length - 1 - Math.max(i, before)));
}
