/** What is wrong with a scenario's trees, loops and lanes: shares that dividers cannot make, belts that cannot carry their part. */
import { withoutFactors } from "../quantity/counts.ts";
import { formatApproximate } from "../quantity/units.ts";
import type { Path } from "../scenario/finding.ts";
import { MAX_BELT_ITEMS_IN_ALL } from "../scenario/limits.ts";
import type { ArgsOf } from "../scenario/messages.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { type Plant, plantOf } from "./collect.ts";
import { beltLoads, inputOf, lackOf, nearestEqual, splitOff, worstByKey } from "./headroom.ts";
import { inspectLanes, type Report, reportNotDrawn } from "./inspect-lanes.ts";
import type { Network } from "./network.ts";
import { type SharedLine, type Sharing, sharingOf } from "./shared-line.ts";
import type { Shares } from "./shares.ts";

/** @param report is told of what is found, with the place in the file */
export function inspectShared(
  scenario: Scenario,
  network: Network,
  keyOf: (connection: string) => string,
  report: Report,
): void {
  const lines = scenario.lines.filter((line) => line.layout !== "chain" && line.layout !== "custom");
  if (lines.length === 0) return;
  const plant = plantOf(scenario);
  for (const line of lines) {
    if (line.layout === "lanes") {
      inspectLanes(line, plant, keyOf, report);
      continue;
    }
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

function reportRefusal(
  line: SharedLine,
  sharing: Extract<Sharing, { ok: false }>,
  at: (key: string) => Path,
  report: Report,
): void {
  if (sharing.why === "odd") report("tree-odd", oddArgs(line, sharing.shares), at("layout"));
  else reportNotDrawn(sharing, at, report);
}

function oddArgs(line: SharedLine, { counts, total, odd, parts }: Shares): ArgsOf<"tree-odd"> {
  const isEqual = counts.every((count) => count === 1);
  const [below, above] = isEqual ? nearestEqual(counts.length, line.ways) : [0, 0];
  return {
    total: String(total),
    odd: String(odd),
    ways: String(line.ways),
    parts: String(parts),
    back: String(parts - total),
    below: below === 0 ? "" : String(below),
    above: above === 0 ? "" : String(above),
    three: line.ways === 2 && withoutFactors(total, 3) === 1 ? "yes" : "",
    weighed: "yes",
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
  const worst = worstByKey(beltLoads(line, sharing, plant), (connection) => pathOf(connection).join(" "));
  const input = inputOf(line, sharing.needs, plant);
  for (const load of worst) {
    const { connection, flowPerMin, ratePerMin, greatestInputPerMin } = load;
    const name = connection.slice(line.id.length + 1);
    const alone = name === "through-1" ? splitOff(line, sharing.shares, input, ratePerMin) : null;
    const args = {
      found: name,
      flow: formatApproximate(flowPerMin),
      rate: formatApproximate(ratePerMin),
      lack: formatApproximate(lackOf(load)),
      input: formatApproximate(greatestInputPerMin),
      over: formatApproximate(input.sub(greatestInputPerMin)),
      alone: alone === null ? "" : (sharing.consumers[alone] ?? ""),
    };
    report("belt-short", args, pathOf(connection));
  }
}
