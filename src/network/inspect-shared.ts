/** What is wrong with a scenario's trees, loops and lanes: shares that dividers cannot make, belts that cannot carry their part. */
import { primeFactors, type Ways, waysIn, waysText } from "../quantity/counts.ts";
import { type Rational, sum, ZERO } from "../quantity/rational.ts";
import { formatApproximate, formatRate } from "../quantity/units.ts";
import type { Path } from "../scenario/file-finding.ts";
import { MAX_BELT_ITEMS_IN_ALL, MOST_TURNS, MOST_WAYS } from "../scenario/file-limits.ts";
import type { ArgsOf, Code } from "../scenario/messages.ts";
import type { ChainLine, LanesLine, Scenario } from "../scenario/scenario.ts";
import { needsOf } from "./chain.ts";
import { membersOf, type Plant, plantOf } from "./collect.ts";
import { beltLoads, inputOf, lackOf, nearestEqual, splitOff, worstByKey } from "./headroom.ts";
import { laneLoads, moreLanes } from "./lane-loads.ts";
import { lanesOf } from "./lanes.ts";
import { leadsToOutlets } from "./needs.ts";
import type { Network } from "./network.ts";
import { type SharedLine, type Sharing, sharingOf } from "./shared-line.ts";
import type { Shares } from "./shares.ts";
import { wholeWeights } from "./turns.ts";

/** @param report is told of what is found, with the place in the file */
export function inspectShared(
  scenario: Scenario,
  network: Network,
  keyOf: (connection: string) => string,
  report: Report,
): void {
  const plant = plantOf(scenario);
  for (const line of scenario.lines) if (line.layout === "chain") inspectWeights(line, plant, report);
  const lines = scenario.lines.filter((line) => line.layout !== "chain" && line.layout !== "custom");
  if (lines.length === 0) return;
  for (const line of lines) {
    if (line.layout === "lanes") {
      inspectLanes(line, plant, keyOf, report);
      continue;
    }
    const sharing = sharingOf(line, plant);
    const at = (key: string): Path => ["lines", line.id, key];
    if (!sharing.ok) {
      reportRefusal(line, sharing, plant, at, report);
      continue;
    }
    const { total, parts } = sharing.shares;
    if (line.layout === "loop" && parts === total)
      report("nothing-returns", { total: String(total), weighed: "yes" }, at("layout"));
    reportLoads(line, sharing, plant, (connection) => at(keyOf(connection)), report);
  }
  const items = network.connections.reduce((sum, { belt }) => sum + (belt?.capacity ?? 0), 0);
  if (items <= MAX_BELT_ITEMS_IN_ALL) return;
  const limit = String(MAX_BELT_ITEMS_IN_ALL);
  report("too-many", { found: String(items), limit, what: "items on all belts together" }, ["lines"]);
}

/** Whether weighted dividers have needs to share by, and not too fine ones. */
function inspectWeights(line: ChainLine, plant: Plant, report: Report): void {
  if (line.dividers !== "weighted") return;
  const consumers = membersOf(line.to, plant);
  const needs = needsOf(line, consumers, plant);
  const without = consumers.find((_, index) => needs[index]?.equals(ZERO));
  if (without !== undefined) report("weights-outlet", { found: without }, ["lines", line.id, "to"]);
  else if (needs.slice(1).some((_, i) => wholeWeights([needs[i] ?? ZERO, sum(needs.slice(i + 1))]) === null))
    report("weights-too-fine", { limit: String(MOST_TURNS) }, ["lines", line.id, "dividers"]);
}

function reportRefusal(
  line: SharedLine,
  sharing: Extract<Sharing, { ok: false }>,
  plant: Plant,
  at: (key: string) => Path,
  report: Report,
): void {
  if (sharing.why === "odd") report("tree-odd", oddArgs(line, sharing.shares, plant), at("layout"));
  else reportNotDrawn(sharing, at, report);
}

function oddArgs(line: SharedLine, { counts, total, odd, parts }: Shares, plant: Plant): ArgsOf<"tree-odd"> {
  const isEqual = counts.every((count) => count === 1);
  const [below, above] = isEqual ? nearestEqual(counts.length, line.ways) : [0, 0];
  return {
    total: String(total),
    odd: factorsText(odd),
    ways: waysText(line.ways),
    parts: String(parts),
    back: String(parts - total),
    below: below === 0 ? "" : String(below),
    above: above === 0 ? "" : String(above),
    more: moreWays(line.ways, odd),
    weighed: "yes",
    what: leadsToOutlets(membersOf(line.to, plant), plant) ? "outlets" : "machines",
  };
}

/** What is missing: "5", "5 and 7". */
function factorsText(odd: number): string {
  return [...new Set(primeFactors(odd))].join(" and ");
}

/** What the file would state with the missing ways; "" where no divider has so many. */
function moreWays(ways: Ways, odd: number): string {
  const missing = primeFactors(odd);
  if (missing.some((factor) => factor > MOST_WAYS)) return "";
  const all = waysIn([...waysIn(ways), ...missing]);
  return all.length === (all.at(-1) ?? 0) - 1 ? String(all.at(-1)) : `[${all.join(", ")}]`;
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
    const cut = {
      input: greatestInputPerMin,
      over: input.sub(greatestInputPerMin),
      alone: alone === null ? null : (sharing.consumers[alone] ?? null),
    };
    const short = { flow: flowPerMin, rate: ratePerMin, lack: lackOf(load), cut };
    report("belt-short", shortArgs(name, short, "approximate"), pathOf(connection));
  }
}

/** A belt that cannot carry what is to pass it. */
interface Short {
  readonly flow: Rational;
  readonly rate: Rational;
  readonly lack: Rational;
  /** What could come in, and a machine that takes what is over; `null` where less would not help. */
  readonly cut: { readonly input: Rational; readonly over: Rational; readonly alone: string | null } | null;
}

export function shortArgs(
  found: string,
  { flow, rate, lack, cut }: Short,
  digits: "exact" | "approximate",
): ArgsOf<"belt-short"> {
  const text = digits === "exact" ? formatRate : formatApproximate;
  return {
    ...{ found, flow: text(flow), rate: text(rate), lack: text(lack) },
    input: cut === null ? "" : text(cut.input),
    over: cut === null ? "" : text(cut.over),
    alone: cut?.alone ?? "",
  };
}

/** What is wrong with lanes: kinds that would part, belts that cannot carry what is to pass them. */
export type Report = <C extends Code>(code: C, args: ArgsOf<C>, path: Path) => void;

/** @param keyOf the key of the line that states a connection's belt */
function inspectLanes(line: LanesLine, plant: Plant, keyOf: (connection: string) => string, report: Report): void {
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
function reportNotDrawn(
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
