/** The layouts that are drawn up for a line: as it stands, chain, tree, loop, and mixtures of chain and tree. */
import { asCustom } from "../../network/as-custom.ts";
import { beltWays, isToScale, withWays } from "../../network/belt-ways.ts";
import { chainFlows, flowsByName } from "../../network/chain-flows.ts";
import { kindsCarried, membersOf, type Plant, plantOf } from "../../network/collect.ts";
import { assemble, expand, expandLine } from "../../network/expand.ts";
import { type FloorPlan, floorPlan } from "../../network/floor-plan.ts";
import { beltLoads, inputOf, takenAtMost } from "../../network/headroom.ts";
import { type MixedLine, mixtureElements } from "../../network/mixture-elements.ts";
import { chainsOfTrees, type Mixture, treesOfChains, withMore } from "../../network/mixtures.ts";
import { leadsToOutlets, needsFor } from "../../network/needs.ts";
import type { LineElements, Network } from "../../network/network.ts";
import { shapeOf } from "../../network/same-shape.ts";
import { type SharedLine, sharedElements, sharingOf } from "../../network/shared-line.ts";
import type { Ways } from "../../network/shares.ts";
import { type Rational, sum, ZERO } from "../../quantity/rational.ts";
import { sentence } from "../../scenario/messages.ts";
import type { ChainLine, Lengths, Line, LoopLine, Scenario } from "../../scenario/scenario.ts";
import { type Assumption, type Does, type End, type LayoutKind, type Reason, TODAY } from "./layout-results.ts";
import type { DrawnLine } from "./line.ts";
import { type Grown, grownChain, grownMixture, grownTree, withMachinesLike } from "./one-more.ts";
import { machineTaking, type ShortBelts, sharedReason, shortBeltReason, shortBelts } from "./reasons.ts";

export interface Candidate {
  readonly id: string;
  readonly layout: LayoutKind;
  readonly does: Does;
  /** What is otherwise than in the layouts that are weighed: `null` of those. */
  readonly assuming: Assumption | null;
  /** Why it cannot be built, and what would do; `null` where it can, as far as arithmetic tells. */
  readonly reason: Reason | null;
  /** Belts too slow for their part. */
  readonly short: ShortBelts;
  /** The same for other belts, or another number of machines; `null` where nothing else can be assumed. */
  readonly again: ((given: Given) => Candidate) | null;
  /** The plant with it; `null` where it cannot be drawn. */
  readonly drawn: {
    readonly scenario: Scenario;
    readonly network: Network;
    /** What the line adds to the network. */
    readonly elements: LineElements;
    readonly floor: FloorPlan;
    /** Whether all its belts are as long as their way, or longer. */
    readonly toScale: boolean;
    /** With so many machines more. */
    readonly grown: (more: number) => Grown | null;
  } | null;
}

export interface Given {
  readonly scenario: Scenario;
  readonly plant: Plant;
  readonly chain: ChainLine;
  readonly ways: Ways;
  /** Of a loop; `null` where no belt is stated. */
  readonly back: LoopLine["return"] | null;
  readonly consumers: readonly string[];
  /** Of what the line carries, by consumer; of outlets all that comes in. */
  readonly needs: ReadonlyMap<string, Rational>;
  /** What comes in for long at most. */
  readonly input: Rational;
  readonly lengths: Lengths;
  /** As the file has it. */
  readonly line: DrawnLine;
}

export function givenFor(scenario: Scenario, line: DrawnLine, ways: Ways | null, lengths?: Lengths): Given {
  const plant = plantOf(scenario);
  const { id, from, to, belt, branch, collect, merges } = line;
  const isChain = line.layout === "chain";
  const consumers = membersOf(to, plant);
  const kinds = [...kindsCarried({ from, to, end: { kind: "stop" } }, plant)];
  const needs = takenAtMost(line, needsFor(consumers, kinds, plant), plant);
  return {
    scenario,
    plant,
    chain: {
      ...{ id, layout: "chain", from, to, belt, branch, collect, merges, end: { kind: "stop" } },
      dividers: isChain ? line.dividers : "even",
    },
    ways: ways ?? (isChain ? 3 : line.ways),
    back: line.layout === "loop" ? line.return : (belt ?? branch),
    consumers,
    needs: new Map(consumers.map((consumer, index) => [consumer, needs[index] ?? ZERO])),
    input: inputOf(line, needs, plant),
    lengths: lengths ?? scenario.floor.lengths,
    line,
  };
}

/** In the order in which they are told. A mixture that comes to the same as one before it is left out. */
export function candidatesFor(given: Given): Candidate[] {
  const { consumers, ways } = given;
  const needs = [...given.needs.values()];
  const shares = needs.every((need) => need.compare(ZERO) > 0);
  const mixtures = shares ? [...treesOfChains(consumers, needs, ways), ...chainsOfTrees(consumers, needs, ways)] : [];
  const [chain, tree] = [chainCandidate(given), sharedCandidate(given, "tree")];
  const known = new Set([chain, tree].map(shapeOfCandidate));
  const mixed = mixtures
    .map(([size, mixture]) => mixedCandidate(given, mixture, size))
    .filter((candidate) => {
      const shape = shapeOfCandidate(candidate);
      const isNew = !known.has(shape);
      known.add(shape);
      return isNew;
    });
  const all = [chain, tree, sharedCandidate(given, "loop"), ...mixed];
  return [...all, ...todayCandidate(given, all)];
}

/** With its stated lengths, unless it is on the grid as it is drawn up. */
function todayCandidate(given: Given, drawnUp: readonly Candidate[]): Candidate[] {
  const { scenario, line, plant, chain } = given;
  const elements = expandLine(line, plant);
  const like = drawnUp.find(({ id }) => id === line.layout);
  if (elements.connections.length === 0 || like === undefined) return [];
  const network = expand(scenario);
  // With dividers of other ways than the line has, it is drawn up in another way.
  const isDrawnUp = line.layout === "chain" || line.ways === given.ways;
  if (like.drawn && isDrawnUp && isAsLong(like.drawn.elements, elements)) return [];
  return [
    {
      id: TODAY,
      layout: line.layout,
      does: like.does,
      assuming: { what: "stated-lengths" },
      reason: line.layout === "chain" ? null : sharedReason(scenario, network, line.id),
      short: new Map(),
      again: null,
      drawn: {
        ...{ scenario, network, elements, toScale: false, grown: (more: number) => like.drawn?.grown(more) ?? null },
        floor: floorPlan(scenario, network, chain.id),
      },
    },
  ];
}

function isAsLong(one: LineElements, other: LineElements): boolean {
  const total = ({ connections }: LineElements) => sum(connections.map(({ belt }) => belt?.metres?.lengthM ?? ZERO));
  return total(one).equals(total(other));
}

function shapeOfCandidate({ drawn }: Candidate): string {
  return drawn === null ? "" : shapeOf(drawn.elements);
}

function chainCandidate(given: Given): Candidate {
  const { chain, input, needs } = given;
  const elements = expandLine(chain, given.plant);
  const flows = flowsByName(chainFlows(input, [...needs.values()], chain.dividers), `${chain.id}.`);
  const loads = {
    ...{ connections: elements.connections, flows, input },
    isShare: (connection: string) => connection === `${chain.id}.through-1`,
    machineOf: (lack: Rational) => machineTaking(lack, input, needs),
  };
  const drawn = drawnFrom(given, elements, (count) => grownChain(more(given, count), chain));
  const scenario = withLine(given.scenario, chain);
  return {
    id: "chain",
    layout: "chain",
    does: { as: "chain", dividers: chain.dividers },
    assuming: null,
    reason: shortBeltReason(loads, chain.id),
    short: shortBelts(loads),
    again: chainCandidate,
    // A chain with all its belts as stated is written as one.
    drawn: isAsLong(drawn.elements, elements) ? { ...drawn, scenario, network: expand(scenario) } : drawn,
  };
}

export function sharedCandidate(given: Given, layout: "tree" | "loop"): Candidate {
  const { chain, ways, back, plant } = given;
  const { id, from, to, belt, branch, collect, merges } = chain;
  const own = { id, from, to, belt, branch, collect, merges, ways };
  if (layout === "loop" && back === null) {
    const reason = { why: "drawn-so", findings: [sentence("return-missing", {})] } as const;
    const does = { as: "loop", ways: null, returned: null } as const;
    return { ...unassumed, ...{ id: layout, layout, does, reason, again: null, drawn: null } };
  }
  const line: SharedLine =
    layout === "loop" && back !== null ? { ...own, layout, return: back } : { ...own, layout: "tree" };
  const scenario = withLine(given.scenario, line);
  const sharing = sharingOf(line, plant);
  const again = (other: Given): Candidate => sharedCandidate(other, layout);
  if (!sharing.ok) {
    const reason = sharedReason(scenario, expand(scenario), id);
    return { ...unassumed, id: layout, layout, does: sharedDoes(layout, ways, null), reason, again, drawn: null };
  }
  const { shares: _, ...elements } = sharedElements(line, sharing, plant);
  const network = withElements(given, elements);
  return {
    id: layout,
    layout,
    does: sharedDoes(layout, ways, sharing.shares),
    assuming: null,
    reason: sharedReason(scenario, network, id),
    short: shortBelts({
      connections: elements.connections,
      flows: new Map(
        beltLoads(line, sharing, plant, given.input).map(({ connection, flowPerMin }) => [connection, flowPerMin]),
      ),
    }),
    again,
    drawn: drawnFrom(given, elements, (count) => grownTree(more(given, count), line, back)),
  };
}

const unassumed = { assuming: null, short: new Map() } as const;

/** On the grid, its belts as long as their way, unless all are to be as stated. */
function drawnFrom(
  given: Given,
  stated: LineElements,
  grown: (more: number) => Grown | null,
): NonNullable<Candidate["drawn"]> {
  const floor = floorPlan(given.scenario, withElements(given, stated), given.chain.id);
  const isOnGrid = given.lengths === "from-grid";
  const elements = isOnGrid ? withWays(stated, beltWays(floor, stated.connections)) : stated;
  const toScale = isOnGrid && isToScale(stated);
  return { ...writtenOut(given, withElements(given, elements)), elements, floor, toScale, grown };
}

/** The plant with the line drawn up so. */
function withElements({ scenario, chain, plant }: Given, elements: LineElements): Network {
  return assemble(
    scenario,
    scenario.lines.map((one) => (one.id === chain.id ? elements : expandLine(one, plant))),
  );
}

/** As a custom plant, so that no run draws it up anew. Elements may have other names, where machines are called like them. */
function writtenOut({ scenario }: Given, network: Network): { readonly scenario: Scenario; readonly network: Network } {
  const custom = asCustom(scenario, network);
  return { scenario: custom, network: expand(custom) };
}

function sharedDoes(
  layout: "tree" | "loop",
  ways: Ways,
  shares: { readonly parts: number; readonly total: number } | null,
): Does {
  if (layout === "tree") return { as: layout, ways };
  const back = shares === null ? 0 : shares.parts - shares.total;
  return { as: layout, ways, returned: shares === null || back === 0 ? null : { parts: back, of: shares.parts } };
}

export function mixedCandidate(given: Given, mixture: Mixture, size: number): Candidate {
  const { plant, input, needs, chain, consumers } = given;
  const line: MixedLine = chain;
  const { flows, ...elements } = mixtureElements(line, mixture, plant, input, (machine) => needs.get(machine) ?? ZERO);
  const isTree = mixture.kind === "tree-of-chains";
  const isInChain = (connection: string): boolean => {
    const name = connection.slice(line.id.length + 1);
    return name.startsWith("chain-") && !name.endsWith("-through-1");
  };
  const loads = {
    ...{ connections: elements.connections, flows, input },
    isShare: (connection: string) => (isTree ? !isInChain(connection) : connection === `${line.id}.through-1`),
    machineOf: () => null,
  };
  return {
    id: isTree ? `tree-of-${size}-chains` : `chain-of-trees-of-${size}`,
    layout: mixture.kind,
    does: mixtureDoes(mixture, leadsToOutlets(consumers, plant) ? "outlet" : "machine"),
    assuming: null,
    reason: shortBeltReason(loads, line.id),
    short: shortBelts(loads),
    again: (other) => mixedCandidate(other, withMore(mixture, other.consumers.slice(consumers.length)), size),
    drawn: drawnFrom(given, elements, (count) => grownMixture(more(given, count), line, mixture)),
  };
}

function mixtureDoes(mixture: Mixture, of: End): Does {
  const groups = mixture.kind === "tree-of-chains" ? mixture.chains : mixture.stations.map(({ machines }) => machines);
  const [size = 0, otherSize = null] = new Set(groups.map(({ length }) => length));
  return { as: mixture.kind, groups: groups.length, size, otherSize, of };
}

function withLine(scenario: Scenario, line: Line): Scenario {
  return { ...scenario, lines: scenario.lines.map((one) => (one.id === line.id ? line : one)) };
}

function more({ scenario, consumers }: Given, count: number) {
  return withMachinesLike(scenario, consumers.at(-1) ?? "", count);
}
