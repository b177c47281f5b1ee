/** A plant as a graph for ELK: boxes with the places where belts meet them, belts with room for their texts. */
import type { ElkExtendedEdge, ElkNode, ElkPort, LayoutOptions } from "elkjs/lib/elk-api.js";
import type { DrawnBelt, DrawnElement, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { groupBy } from "../../quantity/counts.ts";
import { type Direction, labelSize, type Size, sizesOf } from "./element-sizes.ts";
import { beltText, commonRateOf } from "./words.ts";

/** One way of placing a plant. */
export interface Way {
  readonly direction: Direction;
  /** A long row goes on below, a long column beside. */
  readonly isFolded: boolean;
  /** Elements stay in the order in which the flow comes to them, even if more belts cross. */
  readonly keepsOrder: boolean;
}

const SPACING: LayoutOptions = {
  "elk.spacing.nodeNode": "22",
  "elk.layered.spacing.nodeNodeBetweenLayers": "26",
  "elk.spacing.edgeNode": "20",
  "elk.spacing.edgeEdge": "20",
  "elk.layered.spacing.edgeNodeBetweenLayers": "20",
  "elk.layered.spacing.edgeEdgeBetweenLayers": "18",
  "elk.spacing.componentComponent": "50",
};

export function graphFor(drawing: PlantDrawing, way: Way): ElkNode {
  const sizes = sizesOf(drawing, way.direction);
  const commonRate = commonRateOf(drawing);
  const known = new Map(drawing.elements.map((element) => [element.id, element]));
  const isChain = isChainOnly(drawing, known);
  const out = groupBy(drawing.belts, ({ from }) => from);
  const into = groupBy(drawing.belts, ({ to }) => to);
  return {
    id: "plant",
    children: inFlowOrder(drawing, out).map((element) =>
      nodeFor(element, sizes.get(element.id) ?? { width: 0, height: 0 }, {
        direction: way.direction,
        into: into.get(element.id) ?? [],
        out: out.get(element.id) ?? [],
        isChain,
      }),
    ),
    edges: drawing.belts.map((belt) => edgeFor(belt, beltText(belt, commonRate), isOnward(belt, known))),
    layoutOptions: {
      ...SPACING,
      "elk.algorithm": "layered",
      "elk.direction": way.direction.toUpperCase(),
      "elk.edgeRouting": "ORTHOGONAL",
      "elk.randomSeed": "1",
      "elk.aspectRatio": "1.5",
      "elk.layered.considerModelOrder.strategy": "NODES_AND_EDGES",
      "elk.layered.crossingMinimization.forceNodeModelOrder": String(way.keepsOrder),
      ...(way.isFolded ? { "elk.layered.wrapping.strategy": "MULTI_EDGE" } : {}),
    },
  };
}

/** Depth first, along the belts in the order of each divider's outlets. */
function inFlowOrder({ elements }: PlantDrawing, out: ReadonlyMap<string, readonly DrawnBelt[]>): DrawnElement[] {
  const known = new Map(elements.map((element) => [element.id, element]));
  const ordered = new Set<DrawnElement>();
  for (const root of elements) {
    const open = [root];
    for (let element = open.pop(); element !== undefined; element = open.pop()) {
      if (ordered.has(element)) continue;
      ordered.add(element);
      for (const { to } of (out.get(element.id) ?? []).toReversed()) {
        const next = known.get(to);
        if (next !== undefined) open.push(next);
      }
    }
  }
  return [...ordered];
}

/** Whether the plant is a single row of dividers, each with its branches to one side. */
function isChainOnly({ belts }: PlantDrawing, known: ReadonlyMap<string, DrawnElement>): boolean {
  const kindOf = (id: string): string | undefined => known.get(id)?.kind;
  const onward = new Map<string, number>();
  for (const { from, to } of belts) {
    if (kindOf(from) === "machine") return false;
    if (kindOf(from) === "divider" && (kindOf(to) === "divider" || kindOf(to) === "merge")) {
      onward.set(from, (onward.get(from) ?? 0) + 1);
    }
  }
  return [...onward.values()].every((count) => count === 1);
}

interface Surroundings {
  readonly direction: Direction;
  readonly into: readonly DrawnBelt[];
  readonly out: readonly DrawnBelt[];
  readonly isChain: boolean;
}

const inletOf = (belt: string): string => `${belt} in`;
const outletOf = (belt: string): string => `${belt} out`;

function nodeFor(element: DrawnElement, size: Size, { direction, into, out, isChain }: Surroundings): ElkNode {
  const isRight = direction === "right";
  const isFixed = isChain && element.kind === "divider";
  const port = (id: string, isInlet: boolean, across: number): ElkPort => {
    const side = isInlet ? (isRight ? "WEST" : "NORTH") : isRight ? "EAST" : "SOUTH";
    const far = isInlet ? 0 : isRight ? size.width : size.height;
    const at = isRight ? { x: far, y: across } : { x: across, y: far };
    return { id, ...(isFixed ? at : {}), layoutOptions: { "elk.port.side": side } };
  };
  const extent = isRight ? size.height : size.width;
  const step = extent / (out.length + 1);
  return {
    id: element.id,
    ...size,
    ports: [
      ...into.map(({ id }) => port(inletOf(id), true, extent / 2)),
      // The last outlet leads straight on.
      ...out.map(({ id }, i) =>
        port(outletOf(id), false, extent / 2 - (out.length - 1 - i) * (out.length > 2 ? step / 2 : step)),
      ),
    ],
    layoutOptions: { "elk.portConstraints": isFixed ? "FIXED_POS" : "FIXED_SIDE" },
  };
}

/** Between dividers and merges. */
function isOnward({ from, to }: DrawnBelt, known: ReadonlyMap<string, DrawnElement>): boolean {
  return [from, to].every((id) => ["divider", "merge"].includes(known.get(id)?.kind ?? ""));
}

function edgeFor(belt: DrawnBelt, text: string | null, isOnward: boolean): ElkExtendedEdge {
  return {
    id: belt.id,
    sources: [outletOf(belt.id)],
    targets: [inletOf(belt.id)],
    labels: text === null ? [] : [{ text, ...labelSize(text), layoutOptions: { "elk.edgeLabels.inline": "true" } }],
    layoutOptions: {
      "elk.layered.priority.direction": belt.returns ? "0" : "10",
      "elk.layered.priority.straightness": isOnward && !belt.returns ? "10" : "1",
    },
  };
}
