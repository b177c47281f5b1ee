/** What is wrong with a network as a whole, beyond what its single keys show. */
import { createFinding, type FileFinding, type Locate, type Path } from "../scenario/file-finding.ts";
import { MAX_BUFFER_ITEMS_IN_ALL, MAX_DIRECT_DEPTH } from "../scenario/file-limits.ts";
import type { ArgsOf, Code } from "../scenario/messages.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { circleOf } from "./circle.ts";
import { isFedBy } from "./feeds.ts";
import { type Graph, graphOf, leavesByItself, reachOf, sweepOf } from "./graph.ts";
import { groupsByName } from "./groups.ts";
import { inspectShared } from "./inspect-shared.ts";
import type { Connection, Network } from "./network.ts";

export function inspect(scenario: Scenario, network: Network, locate: Locate): FileFinding[] {
  const graph = graphOf(network);
  const found: FileFinding[] = [];
  const report = <C extends Code>(code: C, args: ArgsOf<C>, path: Path): void => {
    found.push(createFinding(code, args, path, locate(path, "key")));
  };

  inspectShared(scenario, network, (connection) => beltKey(ownName(connection)), report);
  // Of a line that cannot be drawn up there is nothing to look at further.
  if (found.some(({ severity }) => severity === "error")) return found;

  const roomInAll = network.machines.reduce(
    (total, { infeed, outfeed }) => [...infeed, ...outfeed].reduce((sum, { count }) => sum + count, total),
    0,
  );
  if (roomInAll > MAX_BUFFER_ITEMS_IN_ALL) {
    const args = { found: String(roomInAll), limit: String(MAX_BUFFER_ITEMS_IN_ALL), what: "places in all buffers" };
    report("too-many", args, ["machines"]);
  }

  const merges = new Set(network.merges.map(({ id }) => id));
  const feeds = new Set(network.feeds.map(({ id }) => id));
  const direct = new Map<string, Connection>();
  for (const connection of network.connections) {
    if (connection.belt !== null || !merges.has(connection.to) || feeds.has(connection.from)) continue;
    // A chain states one belt for many merges.
    const path = pathOf(scenario, connection).join(" ");
    if (!direct.has(path)) direct.set(path, connection);
  }
  for (const connection of direct.values()) {
    const args = { found: ownName(connection.to), belt: ownName(connection.id) };
    report("merge-direct", args, pathOf(scenario, connection));
  }

  const deep = tooDeep(network, graph);
  if (deep) {
    const args = { found: ownName(deep.id), limit: String(MAX_DIRECT_DEPTH) };
    report("direct-too-deep", args, pathOf(scenario, deep));
  }

  const groups = groupsByName(scenario);
  const circle = circleOf(network);
  const [first] = circle;
  if (first !== undefined) {
    report("plant-loop", { circle: [...circle, first].join(" → ") }, ["machines", groups.get(first)?.id ?? first]);
  }
  const reach = reachOfItems(network, graph);
  for (const { machine, item } of unreachable(network, reach)) {
    report("unreachable-machine", { found: machine, item }, ["machines", groups.get(machine)?.id ?? machine]);
  }
  for (const { id, item } of network.outlets) {
    // Products that no line collects leave by an outlet on no line at all.
    if (item === null || reach.get(item)?.has(id)) continue;
    if (graph.into(id).length === 0 && network.machines.some((one) => leavesByItself(graph, one, item))) continue;
    report("unreachable-outlet", { found: id, item }, ["outlets", id]);
  }
  return found;
}

/** Where a connection is stated in the file. */
function pathOf(scenario: Scenario, { line, id }: Connection): Path {
  const isCustom = scenario.lines.find((one) => one.id === line)?.layout === "custom";
  if (isCustom) return ["lines", line, "belts", ownName(id)];
  return ["lines", line, beltKey(ownName(id))];
}

/** The key of a line that states the belt of a connection. */
export function beltKey(given: string): string {
  if (given.startsWith("cross-")) return "branch";
  // An incoming lane is named as a loop is, but has no other key for what comes in.
  const name = given.replace(/^lane-\d+-/, "");
  if (name !== given && name === "entry") return "belt";
  if (name === "return") return "return";
  if (["branch", "join", "share", "spare"].some((own) => name.startsWith(own))) return "branch";
  return name.startsWith("collect") || name === "entry" ? "collect" : "belt";
}

export function ownName(id: string): string {
  return id.slice(id.indexOf(".") + 1);
}

/** A connection at which direct hand-overs follow one another more often than the engine's calls may nest. */
function tooDeep(network: Network, graph: Graph): Connection | null {
  const dividers = new Set(network.dividers.map(({ id }) => id));
  const depthFrom = new Map<string, number>();
  for (const node of sweepOf(graph).order) {
    let deepest = 0;
    for (const connection of graph.outOf(node)) {
      if (connection.belt !== null || !dividers.has(connection.to)) continue;
      const depth = 1 + (depthFrom.get(connection.to) ?? 0);
      if (depth > MAX_DIRECT_DEPTH) return connection;
      deepest = Math.max(deepest, depth);
    }
    depthFrom.set(node, deepest);
  }
  return null;
}

/** By kind, every element that it can come to. */
type Reach = ReadonlyMap<string, ReadonlySet<string>>;

function reachOfItems(network: Network, graph: Graph): Reach {
  return new Map(network.items.map((item) => [item, reachOf(graph, item, sourcesOf(item, network), "onward")]));
}

/** Machines that wait for ever, with the first item that never comes. */
function unreachable(network: Network, reach: Reach): { machine: string; item: string }[] {
  return network.machines.flatMap(({ id, takes }) => {
    const missing = takes.find(({ item }) => !reach.get(item)?.has(id));
    return missing ? [{ machine: id, item: missing.item }] : [];
  });
}

/** Where an item is fed or made. */
function sourcesOf(item: string, { feeds, machines }: Network): string[] {
  return [
    ...feeds.filter((feed) => isFedBy(feed, item)),
    ...machines.filter(({ makes }) => makes.some((made) => made.item === item)),
  ].map(({ id }) => id);
}
