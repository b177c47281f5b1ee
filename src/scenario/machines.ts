/** Groups of machines: how many, what they take and make, how fast each is and what it takes up. */
import { ONE, type Rational } from "../quantity/rational.ts";
import type { Path } from "./file-finding.ts";
import { footprintOf } from "./floor.ts";
import { nearest } from "./nearest.ts";
import { inFileOrder, type Reading, requireEntries } from "./reading.ts";
import type { Floor, ItemCount, MachineGroup } from "./scenario.ts";
import type { RawMachine, RawScenario } from "./shapes.ts";

export function readMachines(raw: RawScenario, floor: Floor, reading: Reading): MachineGroup[] {
  return inFileOrder(reading.root, ["machines"], raw.machines).map(([id, machine]) =>
    readGroup(id, machine, floor, reading),
  );
}

function readGroup(id: string, machine: RawMachine, floor: Floor, reading: Reading): MachineGroup {
  const path = ["machines", id];
  const members = reading.names.get(id)?.ids ?? [];
  const takes = readItems("takes", machine.takes, path, reading);
  const makes = readItems("makes", machine.makes, path, reading);
  const twoCycles = makes.map(({ item, count }) => ({ item, count: 2 * count }));
  return {
    id,
    members,
    cycleMin: machine.cycle,
    takes,
    makes,
    infeed: readBuffer("infeed", machine.infeed, takes, path, reading),
    outfeed: machine.outfeed === undefined ? twoCycles : readBuffer("outfeed", machine.outfeed, makes, path, reading),
    speeds: readSpeeds(machine.speed, members.length, [...path, "speed"], reading),
    footprint: footprintOf(machine.footprint, floor.machine),
  };
}

function readItems(
  key: string,
  counts: Readonly<Record<string, number>>,
  machine: Path,
  reading: Reading,
): ItemCount[] {
  const path = [...machine, key];
  requireEntries(reading, path, "items");
  return inFileOrder(reading.root, path, counts).map(([item, count]) => ({ item, count }));
}

/** @param cycle what one cycle takes from or makes into the buffer */
function readBuffer(
  buffer: "infeed" | "outfeed",
  stated: number | Readonly<Record<string, number>>,
  cycle: readonly ItemCount[],
  machine: Path,
  { root, findings }: Reading,
): ItemCount[] {
  const path = [...machine, buffer];
  if (findings.damaged(path) || findings.damaged([...machine, buffer === "infeed" ? "takes" : "makes"])) return [];
  if (typeof stated !== "number") {
    for (const [item] of inFileOrder(root, path, stated)) {
      const kinds = cycle.map((entry) => entry.item);
      if (kinds.includes(item)) continue;
      findings.report("buffer-item", { found: item, nearest: nearest(item, kinds), buffer }, [...path, item], "key");
    }
  }
  return cycle.map(({ item, count: needed }) => {
    const own = typeof stated !== "number" && Object.hasOwn(stated, item) ? stated[item] : undefined;
    const count = typeof stated === "number" ? stated : own;
    if (count === undefined) findings.report("buffer-missing", { item, buffer }, path);
    else if (count < needed) {
      const args = { found: String(count), needed: String(needed), item, buffer };
      findings.report("buffer-small", args, own === undefined ? path : [...path, item]);
    }
    return { item, count: count ?? needed };
  });
}

function readSpeeds(stated: RawMachine["speed"], count: number, path: Path, { findings }: Reading): Rational[] {
  if (!Array.isArray(stated)) return Array.from({ length: count }, () => stated ?? ONE);
  if (stated.length !== count) {
    findings.report("speed-count", { found: String(stated.length), needed: String(count) }, path);
  }
  return stated;
}
