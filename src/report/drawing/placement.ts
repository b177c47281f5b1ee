/**
 * Where everything of a drawing stands: forks as `fork-placement.ts` has them; else ELK's layered method places it (K. Sugiyama,
 * S. Tagawa, M. Toda, "Methods for visual understanding of hierarchical system structures", IEEE Trans. SMC 11, 1981). Of
 * several ways the one without faults that suits a page best is taken.
 */
import type { ElkNode, ElkShape } from "elkjs/lib/elk-api.js";
import type { PlantDrawing } from "../../analysis/plant-drawing.ts";
import { crossingsOf, faultsOf, isTooLong, largeness, unfitness } from "./fitness.ts";
import { forkPlacements } from "./fork-placement.ts";
import { graphFor, type Way } from "./graph.ts";
import { half, type PlacedBelt, type Placement } from "./placed.ts";
import type { Box, Point } from "./primitives.ts";

type Layout = (graph: ElkNode) => Promise<ElkNode>;

const MANY_ELEMENTS = 150;

/** @throws Error if it can't be placed in any way */
export async function place(drawing: PlantDrawing): Promise<Placement> {
  const forked = placedForks(drawing);
  if (forked !== null) return forked;
  const { default: elk } = await import("elkjs/lib/elk.bundled.js");
  const engine = new elk.default();
  const layout: Layout = (graph) => engine.layout(graph);
  const tried = await tryAll(drawing, layout);
  const [best] = tried.sort((a, b) => a.faults - b.faults || a.unfitness - b.unfitness);
  if (best === undefined) throw new Error(`the plant "${drawing.title}" could not be drawn`);
  return best.placement;
}

/** `null` where belts join, or would cross. */
function placedForks(drawing: PlantDrawing): Placement | null {
  let best: { readonly placement: Placement; readonly unfitness: number } | null = null;
  for (const { least, placed } of forkPlacements(drawing).sort((a, b) => largeness(a.least) - largeness(b.least))) {
    if (best !== null && largeness(least) >= best.unfitness) break;
    const placement = placed();
    const one = { placement, unfitness: unfitness(placement) };
    if (best !== null && one.unfitness >= best.unfitness) continue;
    if (crossingsOf(placement) === 0 && faultsOf(placement).length === 0) best = one;
  }
  return best?.placement ?? null;
}

async function tryAll(drawing: PlantDrawing, layout: Layout): Promise<Tried[]> {
  // Of a large plant, each way takes seconds.
  const isLarge = drawing.elements.length > MANY_ELEMENTS;
  const tried: Tried[] = [];
  for (const direction of ["right", "down"] as const) {
    for (const isFolded of [false, true]) {
      // What fits need not be folded, and where no belts cross in the order of the flow, no other is better.
      if (isFolded && tried.some(({ way, isTooLong }) => way.direction === direction && !isTooLong)) break;
      for (const keepsOrder of isLarge ? [true] : [true, false]) {
        const one = await tryWay(drawing, { direction, isFolded, keepsOrder }, layout);
        if (one === null) continue;
        tried.push(one);
        if (one.faults > 0) continue;
        if (isLarge && !one.isTooLong) return tried;
        if (one.crossings === 0) break;
      }
    }
  }
  return tried;
}

interface Tried {
  readonly way: Way;
  readonly placement: Placement;
  readonly faults: number;
  readonly crossings: number;
  readonly unfitness: number;
  /** In the direction of the flow, for a page. */
  readonly isTooLong: boolean;
}

async function tryWay(drawing: PlantDrawing, way: Way, layout: Layout): Promise<Tried | null> {
  const placement = await placed(drawing, way, layout);
  return (
    placement && {
      way,
      placement,
      faults: faultsOf(placement).length,
      crossings: crossingsOf(placement),
      unfitness: unfitness(placement),
      isTooLong: isTooLong(placement, way.direction),
    }
  );
}

async function placed(drawing: PlantDrawing, way: Way, layout: Layout): Promise<Placement | null> {
  const found = await attempt(() => layout(graphFor(drawing, way)));
  if (found === null) return null;
  const elements = new Map((found.children ?? []).map((node) => [node.id, boxOf(node)] as const));
  const belts = new Map<string, PlacedBelt>();
  const edges = new Map((found.edges ?? []).map((edge) => [edge.id, edge]));
  for (const { id, from, to } of drawing.belts) {
    const edge = edges.get(id);
    const [section, ...others] = edge?.sections ?? [];
    if (section === undefined || others.length > 0) return null;
    const points = [section.startPoint, ...(section.bendPoints ?? []), section.endPoint];
    const label = edge?.labels?.[0];
    belts.set(id, {
      from,
      to,
      points: withoutKinks(
        points.map(({ x, y }) => ({ x: half(x), y: half(y) })),
        elements.get(from),
        elements.get(to),
      ),
      label: label === undefined ? null : boxOf(label),
    });
  }
  return { width: found.width ?? 0, height: found.height ?? 0, direction: way.direction, elements, belts };
}

/** Folding a layout fails for some networks. */
async function attempt<T>(work: () => Promise<T>): Promise<T | null> {
  try {
    return await work();
  } catch {
    return null;
  }
}

function boxOf({ x = 0, y = 0, width = 0, height = 0 }: ElkShape): Box {
  return { x: half(x), y: half(y), width, height };
}

/** Pixels. */
const SMALL = 9;
/** From where a belt meets an element to its corner, at least. */
const CORNER = 8;

function withoutKinks(points: readonly Point[], from: Box | undefined, to: Box | undefined): Point[] {
  const straightAtStart = withoutFirstKink(points, from);
  return withoutFirstKink(straightAtStart.toReversed(), to).reverse();
}

function withoutFirstKink(points: readonly Point[], box: Box | undefined): Point[] {
  const [start, turn, next, after] = points;
  if (box === undefined || start === undefined || turn === undefined || next === undefined || after === undefined) {
    return [...points];
  }
  const step = { x: next.x - turn.x, y: next.y - turn.y };
  if (Math.abs(step.x) + Math.abs(step.y) > SMALL) return [...points];
  const moved = { x: start.x + step.x, y: start.y + step.y };
  const isOnSide =
    step.x === 0
      ? moved.y >= box.y + CORNER && moved.y <= box.y + box.height - CORNER
      : moved.x >= box.x + CORNER && moved.x <= box.x + box.width - CORNER;
  return isOnSide ? [moved, ...points.slice(3)] : [...points];
}
