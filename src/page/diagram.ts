/** The line in motion: what stands still is painted once, what moves at every frame. */
import type { Frame } from "../core.ts";
import { colours, context } from "./dom.ts";
import { type Fills, STATE_LOOKS, stateFills } from "./paint-state.ts";
import { type Placed, placesOf } from "./places.ts";
import type { DrawnMachine, Plan } from "./worker-messages.ts";

interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Diagram {
  readonly show: (frame: Frame) => void;
  /** Which machine stands there; `null` for none. */
  readonly machineAt: (x: number, y: number) => string | null;
  readonly mark: (machine: string | null) => void;
  /** Anew after the page's width or colours have changed. */
  readonly refit: () => void;
}

const ROW = 84;
const NARROWEST = 46;
const WIDEST = 104;
const TOP = 4;
const FOOT = 16;
const GAUGE = 38;

interface Fit {
  readonly placed: Placed;
  readonly cell: number;
  readonly width: number;
  readonly height: number;
  readonly still: HTMLCanvasElement;
  readonly ways: readonly (readonly Point[])[];
  readonly colour: (name: string) => string;
  readonly fills: Fills;
}

export function diagram(canvas: HTMLCanvasElement, plan: Plan): Diagram {
  const ctx = context(canvas);
  const boxes = new Map<string, Point>();
  let fit = fitted();
  let last: Frame | null = null;
  let marked: string | null = null;

  function fitted(): Fit {
    const room = Math.max(280, canvas.parentElement?.clientWidth ?? 800);
    const placed = placesOf(plan, Math.max(4, Math.floor(room / NARROWEST)));
    const cell = Math.max(NARROWEST, Math.min(WIDEST, Math.floor(room / placed.columns)));
    const width = Math.max(room, cell * placed.columns);
    const height = TOP + placed.rows * ROW + FOOT;
    const scale = Math.min(2, devicePixelRatio);
    [canvas.width, canvas.height] = [width * scale, height * scale];
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    const still = document.createElement("canvas");
    [still.width, still.height] = [canvas.width, canvas.height];
    const pen = context(still);
    for (const one of [ctx, pen]) one.setTransform(scale, 0, 0, scale, 0, 0);
    const colour = colours();
    boxes.clear();
    for (const [id, { x, y }] of placed.at) boxes.set(id, { x: (x + 0.5) * cell, y: TOP + (y + 0.5) * ROW });
    const ways = plan.links.map(({ from, to }) => wayBetween(boxes.get(from), boxes.get(to), cell));
    const made = { placed, cell, width, height, still, ways, colour, fills: stateFills(ctx, colour) };
    paintStill(pen, made);
    return made;
  }

  function paintStill(pen: CanvasRenderingContext2D, { width, height, ways, colour, cell }: Omit<Fit, "still">): void {
    pen.fillStyle = colour("paper");
    pen.fillRect(0, 0, width, height);
    pen.lineJoin = "round";
    for (const [c, way] of ways.entries()) {
      pen.strokeStyle = colour("belt");
      pen.lineWidth = (plan.links[c]?.belt ?? -1) < 0 ? 1 : 5;
      trace(pen, way);
      pen.stroke();
    }
    pen.textAlign = "center";
    for (const node of plan.nodes) {
      const at = boxes.get(node.id);
      if (at === undefined) continue;
      pen.fillStyle = colour("ink");
      if (node.kind === "divider" || node.kind === "merge") junction(pen, at, node.kind, colour);
      else if (node.kind === "machine") label(pen, node.id, { x: at.x, y: at.y + GAUGE / 2 + 22 }, cell, colour);
      else {
        pen.fillStyle = colour("end");
        pen.beginPath();
        pen.roundRect(at.x - 15, at.y - 11, 30, 22, 11);
        pen.fill();
        label(pen, node.id, { x: at.x, y: at.y + 25 }, cell, colour);
      }
    }
  }

  function paint(): void {
    if (last === null) return;
    const { still, width, height, ways, colour, fills } = fit;
    ctx.drawImage(still, 0, 0, width, height);
    paintItems(ctx, last, ways, colour);
    for (const [m, machine] of plan.machines.entries()) {
      const at = boxes.get(machine.id);
      if (at !== undefined) paintMachine(ctx, { machine, m, at, frame: last, cell: fit.cell, colour, fills });
    }
    const at = marked === null ? undefined : boxes.get(marked);
    if (at === undefined) return;
    ctx.strokeStyle = colour("mark");
    ctx.lineWidth = 3;
    ctx.strokeRect(at.x - 23, at.y - GAUGE / 2 - 8, 46, GAUGE + 34);
  }

  function paintItems(
    pen: CanvasRenderingContext2D,
    { beltStart, at, kind }: Frame,
    ways: Fit["ways"],
    colour: Fit["colour"],
  ): void {
    for (let item = 0; item < plan.items.length; item++) {
      pen.fillStyle = colour(`item-${item % 4}`);
      pen.beginPath();
      for (const [c, { belt }] of plan.links.entries()) {
        const way = ways[c];
        if (belt < 0 || way === undefined) continue;
        for (let i = beltStart[belt] ?? 0; i < (beltStart[belt + 1] ?? 0); i++) {
          if (kind[i] !== item) continue;
          const { x, y } = along(way, at[i] ?? 0);
          pen.rect(x - 1.8, y - 1.8, 3.6, 3.6);
        }
      }
      pen.fill();
    }
  }

  return {
    show: (frame) => {
      last = frame;
      paint();
    },
    machineAt: (x, y) => {
      for (const { id } of plan.machines) {
        const at = boxes.get(id);
        if (at !== undefined && Math.abs(x - at.x) < fit.cell / 2 && Math.abs(y - at.y) < ROW / 2) return id;
      }
      return null;
    },
    mark: (machine) => {
      marked = machine;
      paint();
    },
    refit: () => {
      fit = fitted();
      paint();
    },
  };
}

interface Shown {
  readonly machine: DrawnMachine;
  readonly m: number;
  readonly at: Point;
  readonly frame: Frame;
  readonly cell: number;
  readonly colour: (name: string) => string;
  readonly fills: Fills;
}

/** A gauge for each kind that it takes, the state beside it, how much of a cycle is done below. */
function paintMachine(pen: CanvasRenderingContext2D, { machine, m, at, frame, cell, colour, fills }: Shown): void {
  const half = Math.min(38, cell - 8) / 2;
  const [left, top] = [at.x - half, at.y - GAUGE / 2];
  const state = frame.states[m] ?? 0;
  const gauges = Math.max(1, machine.infeed.length);
  const each = half / gauges;
  pen.fillStyle = colour("paper");
  pen.fillRect(left, top, 2 * half, GAUGE);
  for (const [i, { at: buffer, room }] of machine.infeed.entries()) {
    const share = room > 0 ? (frame.levels[buffer] ?? 0) / room : 0;
    pen.fillStyle = colour(share >= 1 ? "full" : "level");
    pen.fillRect(left + i * each, top + GAUGE * (1 - share), each - (gauges > 1 ? 1 : 0), GAUGE * share);
  }
  pen.fillStyle = fills(state);
  pen.fillRect(at.x, top, half, GAUGE);
  pen.strokeStyle = colour("ink");
  pen.lineWidth = 1;
  pen.strokeRect(left, top, 2 * half, GAUGE);
  pen.strokeRect(at.x, top, half, GAUGE);
  pen.fillStyle = colour("ink");
  pen.fillRect(left, top + GAUGE + 2, 2 * half * (frame.done[m] ?? 0), 2);
  pen.textAlign = "center";
  pen.font = "11px system-ui, sans-serif";
  const word = STATE_LOOKS.get(state)?.word ?? "";
  pen.fillText(word, at.x, at.y + GAUGE / 2 + 34);
}

function junction(
  pen: CanvasRenderingContext2D,
  { x, y }: Point,
  kind: "divider" | "merge",
  colour: (name: string) => string,
): void {
  const tip = kind === "divider" ? -8 : 8;
  pen.fillStyle = colour("paper");
  pen.strokeStyle = colour("ink");
  pen.lineWidth = 1.5;
  pen.beginPath();
  pen.moveTo(x + tip, y);
  pen.lineTo(x - tip, y - 9);
  pen.lineTo(x - tip, y + 9);
  pen.closePath();
  pen.fill();
  pen.stroke();
}

/** A name as it is written, shortened to its column. */
function label(
  pen: CanvasRenderingContext2D,
  text: string,
  { x, y }: Point,
  cell: number,
  colour: (name: string) => string,
): void {
  pen.font = "11px system-ui, sans-serif";
  pen.fillStyle = colour("ink");
  const number = /-(\d+)$/.exec(text)?.[1];
  const fits = (words: string): boolean => pen.measureText(words).width <= cell - 4;
  let words = fits(text) || number === undefined ? text : number;
  while (words.length > 2 && !fits(words)) words = `${words.slice(0, -2)}…`;
  pen.fillText(words, x, y);
}

/** Level first, then upright, into the element's side. */
function wayBetween(from: Point | undefined, to: Point | undefined, cell: number): Point[] {
  if (from === undefined || to === undefined) return [];
  if (from.y === to.y || from.x === to.x) return [from, to];
  const turn = to.x > from.x ? to.x - cell / 2 : to.x;
  if (to.x > from.x) return [from, { x: turn, y: from.y }, { x: turn, y: to.y }, to];
  // Back, or on to the next row: below the row where it begins.
  const below = to.y > from.y ? to.y - ROW / 2 : from.y - ROW / 2;
  const beside = from.x + cell / 2 - 4;
  const before = Math.max(4, to.x - cell / 2 + 4);
  return [from, { x: beside, y: from.y }, { x: beside, y: below }, { x: before, y: below }, { x: before, y: to.y }, to];
}

function trace(pen: CanvasRenderingContext2D, way: readonly Point[]): void {
  pen.beginPath();
  for (const [i, { x, y }] of way.entries()) {
    if (i === 0) pen.moveTo(x, y);
    else pen.lineTo(x, y);
  }
}

function along(way: readonly Point[], share: number): Point {
  let rest = share * lengthOf(way);
  for (let i = 1; i < way.length; i++) {
    const [a, b] = [way[i - 1], way[i]];
    if (a === undefined || b === undefined) break;
    const length = Math.abs(b.x - a.x) + Math.abs(b.y - a.y);
    if (rest <= length && length > 0)
      return { x: a.x + ((b.x - a.x) * rest) / length, y: a.y + ((b.y - a.y) * rest) / length };
    rest -= length;
  }
  return way.at(-1) ?? { x: 0, y: 0 };
}

/** Its stretches are level or upright. */
function lengthOf(way: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < way.length; i++)
    sum += Math.abs((way[i]?.x ?? 0) - (way[i - 1]?.x ?? 0)) + Math.abs((way[i]?.y ?? 0) - (way[i - 1]?.y ?? 0));
  return sum;
}
