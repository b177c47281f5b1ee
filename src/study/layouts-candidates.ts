/** The layouts that are drawn up for a line: chain, tree, loop, and mixtures of chain and tree. */
import { asCustom } from "../network/as-custom.ts";
import { chainFlows, flowsByName } from "../network/chain-flows.ts";
import { kindsCarried, membersOf, type Plant, plantOf } from "../network/collect.ts";
import { assemble, expand, expandLine } from "../network/expand.ts";
import { inputOf } from "../network/headroom.ts";
import { chainsOfTrees, type Mixture, treesOfChains } from "../network/mixtures.ts";
import { drawMixture, type MixedLine } from "../network/mixtures-draw.ts";
import type { LineElements, Network } from "../network/network.ts";
import { shapeOf } from "../network/same-shape.ts";
import { drawShared, needOf, type SharedLine, sharingOf } from "../network/shared-line.ts";
import type { Ways } from "../network/shares.ts";
import { type Rational, ZERO } from "../quantity/rational.ts";
import { sentence } from "../scenario/messages.ts";
import type { ChainLine, Line, LoopLine, Scenario } from "../scenario/scenario.ts";
import type { LayoutKind } from "./layout-results.ts";
import type { DrawnLine } from "./layouts-line.ts";
import { type Grown, grownChain, grownMixture, grownTree, withMachineLike } from "./layouts-one-more.ts";
import { machineTaking, sharedReason, shortBeltReason } from "./layouts-reasons.ts";

export interface Candidate {
  readonly id: string;
  readonly layout: LayoutKind;
  /** In a phrase. */
  readonly does: string;
  /** Why it cannot be built, and what would do; `null` where it can, as far as arithmetic tells. */
  readonly reason: string | null;
  /** The plant with it; `null` where it cannot be drawn. */
  readonly drawn: {
    readonly scenario: Scenario;
    readonly network: Network;
    /** What the line adds to the network. */
    readonly elements: LineElements;
    readonly grown: () => Grown | null;
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
  /** Of what the line carries, by consumer. */
  readonly needs: ReadonlyMap<string, Rational>;
  /** What comes in for long at most. */
  readonly input: Rational;
}

export function givenFor(scenario: Scenario, line: DrawnLine, ways: Ways | null): Given {
  const plant = plantOf(scenario);
  const { id, from, to, belt, branch, collect, merges } = line;
  const isChain = line.layout === "chain";
  const consumers = membersOf(to, plant);
  const kinds = [...kindsCarried({ from, to, end: { kind: "stop" } }, plant)];
  const needs = new Map(consumers.map((consumer) => [consumer, needOf(consumer, kinds, plant)]));
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
    needs,
    input: inputOf(line, [...needs.values()], plant),
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
  return [chain, tree, sharedCandidate(given, "loop"), ...mixed];
}

function shapeOfCandidate({ drawn }: Candidate): string {
  return drawn === null ? "" : shapeOf(drawn.elements);
}

const SERVING: Readonly<Record<ChainLine["dividers"], string>> = {
  even: "a chain of even dividers",
  "branch-first": "a chain of dividers that serve the branch first",
  "through-first": "a chain of dividers that serve the through belt first",
};

function chainCandidate(given: Given): Candidate {
  const { chain, input, needs } = given;
  const scenario = withLine(given.scenario, chain);
  const elements = expandLine(chain, given.plant);
  const flows = flowsByName(chainFlows(input, [...needs.values()], chain.dividers), `${chain.id}.`);
  return {
    id: "chain",
    layout: "chain",
    does: SERVING[chain.dividers],
    reason: shortBeltReason(
      {
        ...{ connections: elements.connections, flows, input },
        isShare: (connection) => connection === `${chain.id}.through-1`,
        machineOf: (lack) => machineTaking(lack, input, needs),
      },
      chain.id,
    ),
    drawn: { scenario, network: expand(scenario), elements, grown: () => grownChain(more(given), chain) },
  };
}

function sharedCandidate(given: Given, layout: "tree" | "loop"): Candidate {
  const { chain, ways, back, plant } = given;
  const { id, from, to, belt, branch, collect, merges } = chain;
  const own = { id, from, to, belt, branch, collect, merges, ways };
  if (layout === "loop" && back === null) {
    return { id: layout, layout, does: "a loop", reason: sentence("return-missing", {}), drawn: null };
  }
  const line: SharedLine =
    layout === "loop" && back !== null ? { ...own, layout, return: back } : { ...own, layout: "tree" };
  const scenario = withLine(given.scenario, line);
  const sharing = sharingOf(line, plant);
  if (!sharing.ok) {
    const reason = sharedReason(scenario, expand(scenario), id);
    return { id: layout, layout, does: sharedDoes(layout, ways, null), reason, drawn: null };
  }
  const { shares: _, ...elements } = drawShared(line, sharing, plant);
  const network = withElements(given, elements);
  return {
    id: layout,
    layout,
    does: sharedDoes(layout, ways, sharing.shares),
    reason: sharedReason(scenario, network, id),
    drawn: { ...writtenOut(given, network), elements, grown: () => grownTree(more(given), line, back) },
  };
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
): string {
  const dividers = ways === 2 ? "dividers of two ways" : "dividers of two and three ways";
  if (layout === "tree") return `a tree of ${dividers}`;
  return shares === null || shares.parts === shares.total
    ? `a loop of ${dividers}`
    : `a loop of ${dividers}, with ${shares.parts - shares.total} of ${shares.parts} parts returned`;
}

function mixedCandidate(given: Given, mixture: Mixture, size: number): Candidate {
  const { plant, input, needs, chain } = given;
  const line: MixedLine = chain;
  const { flows, ...elements } = drawMixture(line, mixture, plant, input, (machine) => needs.get(machine) ?? ZERO);
  const isTree = mixture.kind === "tree-of-chains";
  const isInChain = (connection: string): boolean => {
    const name = connection.slice(line.id.length + 1);
    return name.startsWith("chain-") && !name.endsWith("-through-1");
  };
  return {
    id: isTree ? `tree-of-${size}-chains` : `chain-of-trees-of-${size}`,
    layout: mixture.kind,
    does: mixtureDoes(mixture),
    reason: shortBeltReason(
      {
        ...{ connections: elements.connections, flows, input },
        isShare: (connection) => (isTree ? !isInChain(connection) : connection === `${line.id}.through-1`),
        machineOf: () => null,
      },
      line.id,
    ),
    drawn: {
      ...writtenOut(given, withElements(given, elements)),
      elements,
      grown: () => grownMixture(more(given), line, mixture),
    },
  };
}

function mixtureDoes(mixture: Mixture): string {
  const groups = mixture.kind === "tree-of-chains" ? mixture.chains : mixture.stations.map(({ machines }) => machines);
  const sizes = [...new Set(groups.map(({ length }) => length))];
  const [first = 0, other] = sizes;
  if (mixture.kind === "tree-of-chains") {
    const each = other === undefined ? String(first) : `${other} or ${first}`;
    return `a tree of ${groups.length} chains of ${each} machines`;
  }
  const last =
    other === undefined ? "" : other === 1 ? ", the last one a single machine" : `, the last one of ${other}`;
  return `a chain of ${groups.length} trees of ${first} machines${last}`;
}

function withLine(scenario: Scenario, line: Line): Scenario {
  return { ...scenario, lines: scenario.lines.map((one) => (one.id === line.id ? line : one)) };
}

function more({ scenario, consumers }: Given) {
  return withMachineLike(scenario, consumers.at(-1) ?? "");
}
