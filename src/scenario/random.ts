/** What the file leaves to chance: for which machines and feeds, and how. */

import { readShares, readTimes } from "./distribution-form.ts";
import type { Path } from "./file-finding.ts";
import type { Breakdowns, FeedRandom, MachineRandom, MicroStops, Outages, Random } from "./random-elements.ts";
import type { RawFeedRandom, RawMachineRandom } from "./random-shapes.ts";
import { inFileOrder, isStated, type Reading } from "./reading.ts";
import { createReferences } from "./references.ts";
import type { RawScenario } from "./shapes.ts";

export function readRandom({ random = {} }: RawScenario, reading: Reading): Random {
  const { root } = reading;
  const references = createReferences(reading);
  return {
    machines: inFileOrder(root, ["random", "machines"], random.machines).map(([id, machine]) => {
      const path = ["random", "machines", id];
      references.machines(id, path, "key");
      return readMachine(id, machine, path, reading);
    }),
    feeds: inFileOrder(root, ["random", "feeds"], random.feeds).map(([id, feed]) => {
      const path = ["random", "feeds", id];
      checkFeed(id, path, reading);
      return readFeed(id, feed, path, reading);
    }),
  };
}

function readMachine(id: string, machine: RawMachineRandom, path: Path, reading: Reading): MachineRandom {
  return {
    id,
    breakdowns: readBreakdowns(machine.breakdowns, [...path, "breakdowns"], reading),
    microStops: readMicroStops(machine["micro-stops"], [...path, "micro-stops"], reading),
    cycle: readShares(machine.cycle, [...path, "cycle"], reading),
  };
}

function readBreakdowns(raw: RawMachineRandom["breakdowns"], path: Path, reading: Reading): Breakdowns | null {
  const betweenMin = readTimes(raw?.between, [...path, "between"], reading);
  const repairMin = readTimes(raw?.repair, [...path, "repair"], reading);
  return betweenMin && repairMin ? { betweenMin, counted: raw?.counted ?? "running", repairMin } : null;
}

function readMicroStops(raw: RawMachineRandom["micro-stops"], path: Path, reading: Reading): MicroStops | null {
  const lastingMin = readTimes(raw?.lasting, [...path, "lasting"], reading);
  return raw && lastingMin ? { chance: raw.chance, lastingMin } : null;
}

function readFeed(id: string, feed: RawFeedRandom, path: Path, reading: Reading): FeedRandom {
  const { batch } = feed;
  const atBatch = [...path, "batch"];
  checkTiming("interval", path, reading);
  checkTiming("every", atBatch, reading);
  return {
    id,
    interval: readShares(feed.interval, [...path, "interval"], reading),
    jitterMin: readTimes(feed.jitter, [...path, "jitter"], reading),
    outages: readOutages(feed.outages, [...path, "outages"], reading),
    batch: batch
      ? {
          every: readShares(batch.every, [...atBatch, "every"], reading),
          jitterMin: readTimes(batch.jitter, [...atBatch, "jitter"], reading),
          items: readShares(batch.items, [...atBatch, "items"], reading),
        }
      : null,
  };
}

function readOutages(raw: RawFeedRandom["outages"], path: Path, reading: Reading): Outages | null {
  const betweenMin = readTimes(raw?.between, [...path, "between"], reading);
  const lastingMin = readTimes(raw?.lasting, [...path, "lasting"], reading);
  return betweenMin && lastingMin ? { betweenMin, lastingMin } : null;
}

/** A time is counted from the one before or from the schedule. */
function checkTiming(found: "interval" | "every", path: Path, { root, findings }: Reading): void {
  if (isStated(root, path, found) && isStated(root, path, "jitter"))
    findings.report("two-timings", { found }, [...path, "jitter"], "key");
}

function checkFeed(id: string, path: Path, { names, findings, root }: Reading): void {
  const known = names.get(id);
  if (known === undefined) {
    const nearest = findings.full() ? "" : names.nearestTo(id, ["feed"]);
    findings.report("unknown-reference", { found: id, expected: "feed", nearest }, path, "key");
  } else if (known.kind !== "feed") {
    findings.report("wrong-reference", { found: id, is: known.kind, expected: "a feed" }, path, "key");
  } else if (isStated(root, path, "batch") && !isStated(root, known.path, "batch") && !findings.damaged(known.path)) {
    findings.report("no-batch", { found: id }, [...path, "batch"], "key");
  }
}
