/** A chain: what it collects, whom it passes, its belts, and what its far end does. */
import * as z from "zod/mini";
import type { LengthUnit } from "../quantity/units.ts";
import { belt, beltBody, readBelt, returnBelt } from "./belts.ts";
import type { Path } from "./file-finding.ts";
import { CHAIN_ENDS } from "./layout.ts";
import {
  checkCollected,
  checkCollecting,
  collectingKeys,
  collectingShapes,
  type LineForm,
  type LineGiven,
  readNames,
  sharedKeys,
  type WrittenPlant,
} from "./line-parts.ts";
import { isStated, type Reading } from "./reading.ts";
import type { References } from "./references.ts";
import type { BeltOrNone, ChainEnd, ChainLine } from "./scenario.ts";
import { keys, name, names, withMeta, words } from "./shape-parts.ts";

export const chainShape = withMeta(
  keys({
    layout: withMeta(z.literal("chain"), { description: "A belt passes machine after machine; at each, a divider." }),
    from: names(
      "Feeds, machine groups and single machines whose products it collects, in the order in which they join.",
    ),
    to: names("Machine groups, single machines or outlets, in feeding order."),
    belt: belt("The through belts, from divider to divider."),
    branch: z.optional(belt("The belts from a divider to its machine; as belt if not stated.")),
    collect: collectingShapes.collect,
    dividers: z.optional(
      words(
        ["even", "through-first", "branch-first", "weighted"],
        "How each divider shares: by turns, one side first, or by turns weighted by what the machines on either side need; even if not stated.",
        "even",
      ),
    ),
    merges: collectingShapes.merges,
    end: withMeta(z.optional(z.union([z.enum(CHAIN_ENDS), name("An outlet.")], { error: "end" })), {
      default: "stop",
      description:
        "What the chain's far end does with what nobody took: items stop there, return to the head, or leave by an outlet; stop if not stated.",
    }),
    return: z.optional(
      withMeta(returnBelt, {
        description: "The belt from the far end back to the head, with end: return; as belt if not stated.",
      }),
    ),
  }),
  { description: "A chain." },
);

type RawChain = z.output<typeof chainShape>;

/** @returns `null` if a belt or the end has a fault */
function readChain(id: string, line: RawChain, { raw, references, reading }: LineGiven): ChainLine | null {
  const path = ["lines", id];
  const sources = readNames(line.from, [...path, "from"], references.chainSource, reading);
  const consumers = readNames(line.to, [...path, "to"], references.chainConsumers, reading);
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  const collect = line.collect === undefined ? belt : readBelt(line.collect, [...path, "collect"], reading);
  const end = readEnd(line, belt, consumers, path, references, reading);
  checkCollecting(line, sources, line.end === "return", path, reading);
  checkCollected(line, end, raw, path, reading);
  if (belt === undefined || branch === undefined || collect === undefined || end === null) return null;
  return {
    id,
    layout: "chain",
    from: line.from,
    to: line.to,
    belt,
    branch,
    collect,
    dividers: line.dividers ?? "even",
    merges: line.merges ?? "even",
    end,
  };
}

function readEnd(
  line: RawChain,
  belt: BeltOrNone | undefined,
  consumers: ReadonlySet<string>,
  path: Path,
  references: References,
  reading: Reading,
): ChainEnd | null {
  const { findings, names, root } = reading;
  const at = [...path, "end"];
  if (findings.damaged(at) || findings.damaged([...path, "return"])) return null;
  const { end = "stop" } = line;
  if (line.end !== undefined && CHAIN_ENDS.some((one) => one === end) && names.get(end)?.kind === "outlet") {
    findings.report("end-ambiguous", { found: end }, at);
    return null;
  }
  if (end === "return") {
    const own = line.return === undefined ? belt : readBelt(line.return, [...path, "return"], reading, "");
    if (own === null) findings.report("return-missing", {}, at);
    return own ? { kind: "return", belt: own } : null;
  }
  const outlet = end === "stop" ? end : references.chainEnd(end, at);
  if (outlet === null) return null;
  if (isStated(root, path, "return")) {
    findings.report("needs-key", { found: "return", needed: "end: return" }, [...path, "return"], "key");
  }
  if (end === "stop") return { kind: end };
  if (consumers.has(outlet)) findings.report("end-listed", { found: outlet }, at);
  return { kind: "outlet", outlet };
}

function chainBody(line: ChainLine, plant: WrittenPlant) {
  const { unit } = plant;
  return {
    ...sharedKeys(line, unit),
    ...collectingKeys(line, line.end.kind === "return", plant),
    dividers: line.dividers,
    ...endKeys(line.end, unit),
  };
}

function endKeys(end: ChainEnd, unit: LengthUnit) {
  switch (end.kind) {
    case "stop":
      return { end: end.kind };
    case "outlet":
      return { end: end.outlet };
    case "return":
      return { end: end.kind, return: beltBody(end.belt, unit) };
  }
}

export const CHAIN: LineForm<"chain", typeof chainShape> = { shape: chainShape, read: readChain, body: chainBody };
