/** Trees and loops, which share the flow out by what the machines need. */
import * as z from "zod/mini";
import { belt, beltBody, readBelt, returnBelt } from "./belts.ts";
import {
  checkCollected,
  checkCollecting,
  collectingKeys,
  collectingShapes,
  type LineForm,
  type LineGiven,
  readNames,
  readReturn,
  sharedKeys,
  type WrittenPlant,
  ways,
} from "./line-parts.ts";
import type { LoopLine, TreeLine } from "./scenario.ts";
import { keys, names, withMeta } from "./shape-parts.ts";

const stated = {
  from: names("Feeds, machine groups and single machines whose products it collects, in the order in which they join."),
  to: names(
    "Machine groups and single machines, or outlets alone, in the order in which the dividers' outlets lead to them.",
  ),
  belt: belt("The belts from divider to divider."),
  branch: z.optional(
    belt("The belts from a divider to its machine, or to a merge of several before it; as belt if not stated."),
  ),
  ...collectingShapes,
  ways,
};

const treeShape = withMeta(
  keys({
    layout: withMeta(z.literal("tree"), {
      description: "Even dividers one below the other: each machine has its share at once.",
    }),
    ...stated,
  }),
  { description: "A tree; each machine's share of the flow is its need." },
);

const loopShape = withMeta(
  keys({
    layout: withMeta(z.literal("loop"), {
      description: "A tree with more outlets than are wanted; the spare ones lead back before the first divider.",
    }),
    ...stated,
    return: withMeta(z.optional(returnBelt), {
      description: "The belt back to the merge before the first divider; as belt if not stated.",
    }),
  }),
  { description: "A return loop, for numbers that dividers of two and three ways do not part evenly." },
);

/** What both state alike; `null` if a belt has a fault. */
function readShared(
  id: string,
  line: z.output<typeof treeShape> | z.output<typeof loopShape>,
  { raw, references, reading }: LineGiven,
) {
  const path = ["lines", id];
  const sources = readNames(line.from, [...path, "from"], references.chainSource, reading);
  readNames(line.to, [...path, "to"], references.chainConsumers, reading);
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  const collect = line.collect === undefined ? belt : readBelt(line.collect, [...path, "collect"], reading);
  const back = line.layout === "loop" ? readReturn(line, belt, path, reading) : null;
  checkCollecting(line, sources, line.layout === "loop", path, reading);
  checkCollected(line, { kind: "stop" }, raw, path, reading);
  if (belt === undefined || branch === undefined || collect === undefined) return null;
  const { from, to, merges = "even", ways = 3 } = line;
  return { shared: { id, from, to, belt, branch, collect, merges, ways }, back };
}

function readTree(id: string, line: z.output<typeof treeShape>, given: LineGiven): TreeLine | null {
  const read = readShared(id, line, given);
  return read && { ...read.shared, layout: "tree" };
}

function readLoop(id: string, line: z.output<typeof loopShape>, given: LineGiven): LoopLine | null {
  const { shared, back = null } = readShared(id, line, given) ?? {};
  return shared === undefined || back === null ? null : { ...shared, layout: "loop", return: back };
}

function sharedBody(line: TreeLine | LoopLine, plant: WrittenPlant) {
  return {
    ...sharedKeys(line, plant.unit),
    ...collectingKeys(line, line.layout === "loop", plant),
    ways: line.ways,
  };
}

export const TREE: LineForm<"tree", typeof treeShape> = { shape: treeShape, read: readTree, body: sharedBody };
export const LOOP: LineForm<"loop", typeof loopShape> = {
  shape: loopShape,
  read: readLoop,
  body: (line, plant) => ({ ...sharedBody(line, plant), return: beltBody(line.return, plant.unit) }),
};
