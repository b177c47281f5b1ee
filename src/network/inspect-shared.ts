/** What is wrong with a scenario's trees and loops: shares that dividers cannot make, belts that cannot carry their part. */
import { exact, type Rational, ratio } from "../quantity/rational.ts";
import { formatRate } from "../quantity/units.ts";
import type { Path } from "../scenario/finding.ts";
import { MAX_BELT_ITEMS_IN_ALL } from "../scenario/limits.ts";
import type { ArgsOf, Code } from "../scenario/messages.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { type Plant, plantOf } from "./collect.ts";
import { type BeltLoad, beltLoads, inputOf, nearestEqual, splitOff } from "./headroom.ts";
import type { Network } from "./network.ts";
import { type SharedLine, type Sharing, sharingOf } from "./shared-line.ts";
import { type Shares, withoutFactors } from "./shares.ts";

/** @param report is told of what is found, with the place in the file */
export function inspectShared(
  scenario: Scenario,
  network: Network,
  keyOf: (connection: string) => string,
  report: <C extends Code>(code: C, args: ArgsOf<C>, path: Path) => void,
): void {
  const lines = scenario.lines.filter((line) => line.layout === "tree" || line.layout === "loop");
  if (lines.length === 0) return;
  const plant = plantOf(scenario);
  for (const line of lines) {
    const sharing = sharingOf(line, plant);
    const at = (key: string): Path => ["lines", line.id, key];
    if (!sharing.ok) {
      reportRefusal(line, sharing, at, report);
      continue;
    }
    const { total, parts } = sharing.shares;
    if (line.layout === "loop" && parts === total) report("nothing-returns", { total: String(total) }, at("layout"));
    reportLoads(line, sharing, plant, (connection) => at(keyOf(connection)), report);
  }
  const items = network.connections.reduce((sum, { belt }) => sum + (belt?.capacity ?? 0), 0);
  if (items <= MAX_BELT_ITEMS_IN_ALL) return;
  const limit = String(MAX_BELT_ITEMS_IN_ALL);
  report("too-many", { found: String(items), limit, what: "items on all belts together" }, ["lines"]);
}

type Report = <C extends Code>(code: C, args: ArgsOf<C>, path: Path) => void;

function reportRefusal(
  line: SharedLine,
  sharing: Extract<Sharing, { ok: false }>,
  at: (key: string) => Path,
  report: Report,
): void {
  switch (sharing.why) {
    case "kinds":
      report("shared-kinds", { found: sharing.kinds.join(", ") }, at("from"));
      return;
    case "no-need":
      report("shared-no-need", { found: sharing.consumer, kinds: sharing.kinds.join(", ") }, at("to"));
      return;
    case "too-fine":
      report("shares-too-fine", { limit: String(sharing.limit) }, at("to"));
      return;
    case "odd":
      report("tree-odd", oddArgs(line, sharing.shares), at("layout"));
  }
}

function oddArgs(line: SharedLine, { counts, total, odd, parts }: Shares): ArgsOf<"tree-odd"> {
  const isEqual = counts.every((count) => count === 1);
  const [below, above] = isEqual ? nearestEqual(counts.length, line.ways) : [0, 0];
  return {
    total: String(total),
    odd: String(odd),
    ways: String(line.ways),
    parts: String(parts),
    back: exact(ratio(BigInt(parts - total), BigInt(parts))),
    below: below === 0 ? "" : String(below),
    above: above === 0 ? "" : String(above),
    three: line.ways === 2 && withoutFactors(total, 3) === 1 ? "yes" : "",
  };
}

/** For each key of the line that states belts too slow, the one that lacks the most. */
function reportLoads(
  line: SharedLine,
  sharing: Extract<Sharing, { ok: true }>,
  plant: Plant,
  pathOf: (connection: string) => Path,
  report: Report,
): void {
  const lack = ({ flowPerMin, ratePerMin }: BeltLoad): Rational => flowPerMin.sub(ratePerMin);
  const worst = new Map<string, BeltLoad>();
  for (const load of beltLoads(line, sharing, plant)) {
    const key = pathOf(load.connection).join(" ");
    const before = worst.get(key);
    if (lack(load).s > 0n && lack(load).n > 0n && (!before || lack(load).compare(lack(before)) > 0))
      worst.set(key, load);
  }
  const input = inputOf(line, sharing.needs, plant);
  for (const load of worst.values()) {
    const { connection, flowPerMin, ratePerMin, greatestInputPerMin } = load;
    const name = connection.slice(line.id.length + 1);
    const alone = name === "through-1" ? splitOff(line, sharing.shares, input, ratePerMin) : null;
    const args = {
      found: name,
      flow: formatRate(flowPerMin),
      rate: formatRate(ratePerMin),
      lack: formatRate(lack(load)),
      input: formatRate(greatestInputPerMin),
      over: formatRate(input.sub(greatestInputPerMin)),
      alone: alone === null ? "" : (sharing.consumers[alone] ?? ""),
    };
    report("belt-short", args, pathOf(connection));
  }
}
