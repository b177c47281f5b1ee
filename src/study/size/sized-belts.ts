/** What every stretch of a sized plant must carry, and belts that do. */
import { solveFlow } from "../../analysis/flow/flow.ts";
import { freeFlow } from "../../analysis/free-flow.ts";
import { kindsCarried, membersOf, plantOf } from "../../network/collect.ts";
import { expand } from "../../network/expand.ts";
import { beltLoads, carriedAtMost } from "../../network/headroom.ts";
import { beltKey, ownName } from "../../network/inspect.ts";
import { needOf } from "../../network/needs.ts";
import type { Network } from "../../network/network.ts";
import { sharingOf } from "../../network/shared-line.ts";
import { larger, type Rational, ratio, sum, ZERO } from "../../quantity/rational.ts";
import { type LengthUnit, parseQuantity } from "../../quantity/units.ts";
import { measuredBelt } from "../../scenario/belts.ts";
import { MAX_RATE_PER_MIN } from "../../scenario/file-limits.ts";
import type { BeltOrNone, BeltSpec, ChainLine, Line, Scenario } from "../../scenario/scenario.ts";
import { faster } from "../layouts/possible-if.ts";

/** Items/min by connection, as far as they are known. */
export type Flows = ReadonlyMap<string, Rational>;

const BOUNDLESS: BeltSpec = { ratePerMin: MAX_RATE_PER_MIN, capacity: 1000, transitMin: ZERO, metres: null };

/** A draft's stand-in for a belt that it leaves open. */
export function isStandIn(belt: BeltSpec): boolean {
  return belt.metres === null && belt.ratePerMin.equals(MAX_RATE_PER_MIN) && belt.transitMin.n === 0n;
}

/** Whatever belts can carry. */
export function flowsIn(scenario: Scenario): Flows {
  const plant = plantOf(scenario);
  // In trees and loops the parts follow from needs; those may be too fine to draw where machines are slowed.
  const shared = scenario.lines.map((line): Line => {
    if (line.layout !== "tree" && line.layout !== "loop") return line;
    const { id, from, to, belt, branch, collect, merges } = line;
    const end = { kind: "stop" } as const;
    return { id, layout: "chain", from, to, belt, branch, collect, merges, dividers: "even", end } satisfies ChainLine;
  });
  const network = boundless(expand({ ...scenario, lines: shared }));
  const flow = solveFlow(network);
  const all = flow.applies ? flow.settled().connections : freeFlow(network);
  const flows = new Map<string, Rational>();
  for (const line of scenario.lines) {
    if (line.layout !== "tree" && line.layout !== "loop") continue;
    const sharing = sharingOf(line, plant);
    if (sharing.ok)
      for (const { connection, flowPerMin } of beltLoads(line, sharing, plant)) flows.set(connection, flowPerMin);
  }
  const parted = new Set(shared.filter((line, l) => line !== scenario.lines[l]).map(({ id }) => id));
  for (const { id, line } of network.connections) {
    const carried = all?.get(id);
    if (carried !== undefined && !parted.has(line)) flows.set(id, carried);
  }
  return flows;
}

function boundless(network: Network): Network {
  const connections = network.connections.map((one) => (one.belt === null ? one : { ...one, belt: BOUNDLESS }));
  return { ...network, connections };
}

/**
 * Belts that the draft leaves open get what they need and a tenth more; stated ones that carry too little are made faster.
 * @param flows at full speed, and at the wanted output
 * @param keepsStated whatever they carry
 */
export function withBelts(scenario: Scenario, flows: readonly Flows[], keepsStated = false): Scenario {
  const { connections } = expand(scenario);
  const most = new Map<string, Rational>();
  for (const { id, line } of connections) {
    const isCustom = scenario.lines.find((one) => one.id === line)?.layout === "custom";
    const key = `${line} ${isCustom ? ownName(id) : beltKey(ownName(id))}`;
    for (const known of flows) most.set(key, larger(most.get(key) ?? ZERO, known.get(id) ?? ZERO));
  }
  const lines = scenario.lines.map((line): Line => {
    const busiest = mostOn(line, scenario);
    const of = <B extends BeltOrNone>(belt: B, key: string): B | BeltSpec => {
      if (belt === null) return belt;
      const perMin = most.get(`${line.id} ${key}`) ?? ZERO;
      // Where flows are unknown, as much as all that the line's machines take.
      if (isStandIn(belt)) return newBelt(perMin.n === 0n ? busiest : perMin, key, scenario.lengthUnit);
      return !keepsStated && carriedAtMost(belt).compare(perMin) < 0 ? faster(belt, perMin) : belt;
    };
    return withOwn(line, of);
  });
  return { ...scenario, lines };
}

type BeltOf = <B extends BeltOrNone>(belt: B, key: string) => B | BeltSpec;

function withOwn(line: Line, of: BeltOf): Line {
  switch (line.layout) {
    case "custom":
      return { ...line, belts: line.belts.map((one) => ({ ...one, belt: of(one.belt, one.id) })) };
    case "lanes":
      return {
        ...line,
        belt: of(line.belt, "belt"),
        branch: of(line.branch, "branch"),
        return: line.return && of(line.return, "return"),
      };
    case "loop":
      return { ...line, ...sidesOf(line, of), return: of(line.return, "return") };
    case "tree":
      return { ...line, ...sidesOf(line, of) };
    case "chain": {
      const end = line.end.kind === "return" ? { ...line.end, belt: of(line.end.belt, "return") } : line.end;
      return { ...line, ...sidesOf(line, of), end };
    }
  }
}

function sidesOf({ belt, branch, collect }: Pick<ChainLine, "belt" | "branch" | "collect">, of: BeltOf) {
  return { belt: of(belt, "belt"), branch: of(branch, "branch"), collect: of(collect, "collect") };
}

function mostOn(line: Line, scenario: Scenario): Rational {
  if (line.layout === "custom") return ZERO;
  const plant = plantOf(scenario);
  const kinds = [...kindsCarried({ ...line, end: { kind: "stop" } }, plant)];
  return sum(membersOf(line.to, plant).map((consumer) => needOf(consumer, kinds, plant)));
}

/** Lengths and pitch are common sense, not measured. */
function newBelt(perMin: Rational, key: string, unit: LengthUnit): BeltSpec {
  const isBranch = key === "branch";
  const metric = unit === "m";
  const lengthM = lengthOf(metric ? (isBranch ? "1 m" : "3 m") : isBranch ? "3 ft" : "10 ft");
  const pitchM = lengthOf(metric ? "100 mm" : "4 in");
  const one = metric ? lengthOf("1 m") : lengthOf("1 ft");
  const speedMPerMin = larger(perMin.mul(ratio(11n, 10n)).mul(pitchM).div(one).ceil(), ratio(6n, 1n)).mul(one);
  return measuredBelt({ lengthM, speedMPerMin, pitchM }, speedMPerMin.div(pitchM));
}

function lengthOf(text: string): Rational {
  const parsed = parseQuantity("length", text);
  if (!parsed.ok) throw new Error(`${text} is no length`);
  return parsed.value;
}
