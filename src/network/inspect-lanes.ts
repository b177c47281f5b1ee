/** What is wrong with lanes: kinds that would part, belts that cannot carry what is to pass them. */
import { formatApproximate } from "../quantity/units.ts";
import type { Path } from "../scenario/finding.ts";
import type { ArgsOf, Code } from "../scenario/messages.ts";
import type { LanesLine } from "../scenario/scenario.ts";
import type { Plant } from "./collect.ts";
import { lackOf, worstByKey } from "./headroom.ts";
import { laneLoads, moreLanes } from "./lane-loads.ts";
import { lanesOf } from "./lanes.ts";
import type { Sharing } from "./shared-line.ts";

export type Report = <C extends Code>(code: C, args: ArgsOf<C>, path: Path) => void;

/** @param keyOf the key of the line that states a connection's belt */
export function inspectLanes(
  line: LanesLine,
  plant: Plant,
  keyOf: (connection: string) => string,
  report: Report,
): void {
  const at = (key: string): Path => ["lines", line.id, key];
  const lanes = lanesOf(line, plant);
  if (!lanes.ok) {
    if (lanes.why === "too-many") {
      const args = { found: String(lanes.parts), limit: String(lanes.limit), what: "parts of one lane" };
      report("too-many", args, at("to"));
    } else reportNotDrawn(lanes, at, report);
    return;
  }
  for (const load of worstByKey(laneLoads(line, lanes, plant), keyOf)) {
    const { connection, flowPerMin, ratePerMin, inputPerMin, greatestInputPerMin } = load;
    const more = moreLanes(line, lanes, plant);
    const args = {
      found: connection.slice(line.id.length + 1),
      flow: formatApproximate(flowPerMin),
      rate: formatApproximate(ratePerMin),
      lack: formatApproximate(lackOf(load)),
      source: load.source ?? "",
      input: formatApproximate(greatestInputPerMin),
      over: formatApproximate(inputPerMin.sub(greatestInputPerMin)),
      lanes: more === null ? "" : String(more),
    };
    report("lane-short", args, at(keyOf(connection)));
  }
}

/** What trees, loops and lanes are refused for alike. */
export function reportNotDrawn(
  refusal: Exclude<Extract<Sharing, { ok: false }>, { why: "odd" }>,
  at: (key: string) => Path,
  report: Report,
): void {
  switch (refusal.why) {
    case "kinds":
      report("shared-kinds", { found: refusal.kinds.join(", ") }, at("from"));
      return;
    case "no-need":
      report("shared-no-need", { found: refusal.consumer, kinds: refusal.kinds.join(", ") }, at("to"));
      return;
    case "outlet":
      report("shared-outlet", { found: refusal.outlet }, at("to"));
      return;
    case "too-fine":
      report("shares-too-fine", { limit: String(refusal.limit) }, at("to"));
  }
}
