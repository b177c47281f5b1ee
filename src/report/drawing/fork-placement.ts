/** Where everything stands of a plant whose belts fork and never join: level by level along the flow, in several ways. */
import type { DrawnBelt, PlantDrawing } from "../../analysis/plant-drawing.ts";
import type { Size } from "./element-sizes.ts";
import { fitsPage, isTooLong, stretchesOf } from "./fitness.ts";
import { ARROW, BEND, type Extent, endOf, type Paper, paperOf, type Row, rowOf, TRACK, tracksOf } from "./fork-rows.ts";
import { GAP } from "./fork-shapes.ts";
import { type Fork, forksOf, inRows, trunkOf } from "./forks.ts";
import { half, type PlacedBelt, type Placement } from "./placed.ts";
import { type Box, overlap, type Point } from "./primitives.ts";

const MOST_ROWS = 8;

/** Between trees. */
const APART = 50;
/** What has no belts stands in rows so long at least. */
const LEAST_WIDTH = 952;

/** One of several ways, of which only those that could be the best are worth drawing up. */
interface ForkPlacement {
  /** As large as this at least. */
  readonly least: Size;
  readonly placed: () => Placement;
}

/** None where belts join. */
export function forkPlacements(drawing: PlantDrawing): ForkPlacement[] {
  const roots = forksOf(drawing);
  if (roots === null) return [];
  const trees = roots.filter(({ outlets }) => outlets.length > 0);
  const single = roots.filter(({ outlets }) => outlets.length === 0);
  const leadsBack = drawing.belts.some(({ returns }) => returns);
  const longest = Math.max(0, ...trees.map((root) => trunkOf(root).length));
  const mostRows = leadsBack ? 1 : Math.min(MOST_ROWS, Math.ceil(longest / 2));
  const inSoMany = (paper: Paper, rows: number): ForkPlacement =>
    forkPlacement(rowsOf(trees, paper, rows), paper, single);
  const papers = (["right", "down"] as const).map((direction) => paperOf(drawing, direction));
  const inOne = papers.map((paper) => inSoMany(paper, 1));
  // What fits need not go on beside.
  if (inOne.some(({ least }) => fitsPage(least))) return inOne;
  return papers.flatMap((paper, i) => {
    const one = inOne[i];
    if (one === undefined || !isTooLong(one.least, paper.direction)) return one ?? [];
    return [one, ...Array.from({ length: mostRows - 1 }, (_, more) => inSoMany(paper, more + 2))];
  });
}

function forkPlacement(rows: readonly Row[][], paper: Paper, single: readonly Fork[]): ForkPlacement {
  const along = Math.max(0, ...rows.flat().map(endOf));
  return {
    least: paper.boxOf({ along, across: rows.at(-1)?.at(-1)?.high ?? 0 }),
    placed: () => {
      const pen = new Pen(paper);
      for (const tree of rows) for (const [i, row] of tree.entries()) pen.row(row, tree[i + 1]);
      return pen.placement(single);
    },
  };
}

function rowsOf(trees: readonly Fork[], paper: Paper, most: number): Row[][] {
  let high = 0;
  return trees.map((tree) => {
    const rows: Row[] = [];
    for (const head of inRows(tree, most)) {
      const row = rowOf(head, paper, high + (rows.length > 0 ? GAP : high > 0 ? APART : 0));
      rows.push(row);
      high = row.high;
    }
    return rows;
  });
}

class Pen {
  readonly #paper: Paper;
  readonly #elements = new Map<string, Box>();
  readonly #belts = new Map<string, PlacedBelt>();

  constructor(paper: Paper) {
    this.#paper = paper;
  }

  row(row: Row, next: Row | undefined): void {
    for (const { fork, shape, across, depth } of row.standing) {
      const level = row.levels[depth];
      if (level === undefined || fork.isElsewhere) continue;
      const size = this.#paper.elementOf(fork);
      this.#elements.set(fork.element, this.#box(level.element, across + shape.edge, size));
      const start = level.element + size.along;
      const tracks = tracksOf(shape);
      for (const [i, { isElsewhere, inlet }] of fork.outlets.entries()) {
        const port = across + (shape.ports[i] ?? 0);
        const to = isElsewhere ? next?.levels[0] : row.levels[depth + 1];
        if (inlet === null || to === undefined) continue;
        const end = isElsewhere ? (next?.standing[0]?.across ?? 0) : across + (shape.ends[i] ?? 0);
        const bends = isElsewhere ? [endOf(row) + BEND, row.beside, to.bend] : [to.bend + (tracks[i] ?? 0) * TRACK];
        this.#belt(inlet, [start, port, ...bends, end, to.element], [to.text, end]);
      }
      if (fork.back !== null) this.#back(fork.back, row, depth, [start, across + shape.edge + 0.85 * size.across]);
    }
  }

  #back(belt: DrawnBelt, row: Row, depth: number, [start, port]: Spot): void {
    const target = row.standing.find(({ fork }) => fork.returned !== null);
    const to = row.levels[target?.depth ?? 0];
    if (target === undefined || to === undefined) return;
    const bend = row.levels[depth + 1]?.bend ?? start + BEND;
    const end = target.across + target.shape.edge + (2 * this.#paper.elementOf(target.fork).across) / 3;
    const turn = to.element - ARROW;
    this.#belt(belt, [start, port, bend, row.beside, turn, end, to.element], [(bend + turn) / 2, row.beside]);
  }

  /** @param way from its start along the flow and across it by turns, so that each stretch is level or upright */
  #belt(belt: DrawnBelt, [start = 0, port = 0, ...turns]: readonly number[], text: Spot): void {
    const points = [this.#point(start, port)];
    let [along, across] = [start, port];
    for (const [i, turn] of turns.entries()) {
      if (i % 2 === 0) along = turn;
      else across = turn;
      points.push(this.#point(along, across));
    }
    const size = this.#paper.textOf(belt);
    const label = this.#box(text[0] - size.along / 2, text[1] - size.across / 2, size);
    this.#belts.set(belt.id, {
      from: belt.from,
      to: belt.to,
      // What goes straight on does not turn.
      points: points.filter(({ x, y }, i) => !isBetween(points[i - 1], points[i + 1], { x, y })),
      label: size.along === 0 ? null : label,
    });
  }

  /** @param single what no belt leaves or reaches, in rows on top, beside all else where there is room */
  placement(single: readonly Fork[]): Placement {
    const plant = [
      ...this.#elements.values(),
      ...[...this.#belts.values()].flatMap(({ points, label }) => [...stretchesOf(points), ...(label ? [label] : [])]),
    ];
    const singles = this.#inRows(single, Math.max(LEAST_WIDTH, farthest(plant).width));
    const isFree = [...singles.values()].every((one) => plant.every((other) => !overlap(one, other, GAP)));
    const top = isFree ? 0 : farthest([...singles.values()]).height + APART;
    const lower = <Spot extends Point>(spot: Spot): Spot => ({ ...spot, y: spot.y + top });
    return {
      ...farthest([...singles.values(), ...plant.map(lower)]),
      direction: this.#paper.direction,
      elements: new Map([...singles, ...[...this.#elements].map(([id, box]) => [id, lower(box)] as const)]),
      belts: new Map(
        [...this.#belts].map(([id, belt]) => [
          id,
          { ...belt, points: belt.points.map(lower), label: belt.label && lower(belt.label) },
        ]),
      ),
    };
  }

  #inRows(forks: readonly Fork[], most: number): Map<string, Box> {
    const boxes = new Map<string, Box>();
    let [x, y, height] = [0, 0, 0];
    for (const fork of forks) {
      const box = this.#box(0, 0, this.#paper.elementOf(fork));
      if (x > 0 && x + box.width > most) [x, y, height] = [0, y + height + 2 * GAP, 0];
      boxes.set(fork.element, { ...box, x, y });
      x += box.width + 2 * GAP;
      height = Math.max(height, box.height);
    }
    return boxes;
  }

  #point(along: number, across: number): Point {
    const { width, height } = this.#paper.boxOf({ along, across });
    return { x: half(width), y: half(height) };
  }

  #box(along: number, across: number, size: Extent): Box {
    return { ...this.#point(along, across), ...this.#paper.boxOf(size) };
  }
}

/** Along the flow and across it. */
type Spot = readonly [number, number];

function farthest(boxes: readonly Box[]): Size {
  let [right, bottom] = [0, 0];
  for (const { x, y, width, height } of boxes) {
    right = Math.max(right, x + width);
    bottom = Math.max(bottom, y + height);
  }
  return { width: right, height: bottom };
}

function isBetween(before: Point | undefined, after: Point | undefined, { x, y }: Point): boolean {
  if (before === undefined || after === undefined) return false;
  return (before.x === x && x === after.x) || (before.y === y && y === after.y);
}
