/** Lanes evened out: an even share of every incoming lane for every outgoing one. */
import * as z from "zod/mini";
import { withoutFactors } from "../quantity/counts.ts";
import { belt, beltBody, readBelt, returnBelt } from "./belts.ts";
import {
  checkCollected,
  type LineForm,
  type LineGiven,
  readNames,
  readReturn,
  sharedKeys,
  ways,
} from "./line-parts.ts";
import { isStated } from "./reading.ts";
import type { LanesLine } from "./scenario.ts";
import { keys, names, withMeta } from "./shape-parts.ts";

const lanesShape = withMeta(
  keys({
    layout: withMeta(z.literal("lanes"), {
      description: "Incoming lanes evened out: each is parted evenly, and each outgoing lane gathers its part of all.",
    }),
    from: names("Feeds, machine groups and single machines; each feed and each machine is an incoming lane."),
    to: names("Machine groups, single machines and outlets; each machine and each outlet ends an outgoing lane."),
    belt: belt("The belts of incoming lanes, between their dividers, and of outgoing lanes."),
    branch: z.optional(
      belt("The belts across, from a lane's dividers to an outgoing lane's merge; as belt if not stated."),
    ),
    ways,
    return: withMeta(z.optional(returnBelt), {
      description:
        "Where dividers cannot make as many parts as there are outgoing lanes: each lane's belt back before its first divider; as belt if not stated.",
    }),
  }),
  { description: "Lanes: an even share of every incoming lane for every outgoing one." },
);

/** @returns `null` if a belt has a fault */
function readLanes(
  id: string,
  line: z.output<typeof lanesShape>,
  { raw, references, reading }: LineGiven,
): LanesLine | null {
  const path = ["lines", id];
  const { findings, root } = reading;
  readNames(line.from, [...path, "from"], references.chainSource, reading);
  const outgoing = readNames(line.to, [...path, "to"], references.chainConsumers, reading).size;
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  checkCollected(line, { kind: "stop" }, raw, path, reading);
  const { from, to, ways = 3 } = line;
  const drawn = { id, layout: "lanes" as const, from, to, ways };
  if (withoutFactors(outgoing, ways) !== 1) {
    const back = readReturn(line, belt, path, reading);
    if (belt === undefined || branch === undefined || back === null) return null;
    return { ...drawn, belt, branch, return: back };
  }
  // With a consumer unknown, how many there are is unknown too.
  if (isStated(root, path, "return") && !findings.damaged([...path, "to"]) && !findings.damaged([...path, "ways"])) {
    findings.report("lanes-return", { count: String(outgoing) }, [...path, "return"], "key");
  }
  return belt === undefined || branch === undefined ? null : { ...drawn, belt, branch, return: null };
}

export const LANES: LineForm<"lanes", typeof lanesShape> = {
  shape: lanesShape,
  read: readLanes,
  body: (line, { unit }) => ({
    ...sharedKeys(line, unit),
    ways: line.ways,
    ...(line.return ? { return: beltBody(line.return, unit) } : {}),
  }),
};
