/** From a scenario to its network: every layout expands into the same elements. */
import type { Layout } from "../scenario/layout.ts";
import type { CustomLine, Line, LineOf, Scenario } from "../scenario/scenario.ts";
import { expandChain } from "./chain.ts";
import { type Plant, plantOf } from "./collect.ts";
import { inFlowOrder } from "./flow-order.ts";
import { groupsByName } from "./groups.ts";
import { expandLanes } from "./lanes.ts";
import type { LineElements, MachineElement, Network, PlaceLimit } from "./network.ts";
import { expandShared } from "./shared-line.ts";
import { withSurges } from "./surges.ts";

export function expand(scenario: Scenario): Network {
  const plant = plantOf(scenario);
  return assemble(
    scenario,
    scenario.lines.map((line) => expandLine(line, plant)),
  );
}

/** @param lines what each line of the scenario adds, in its order */
export function assemble(scenario: Scenario, lines: readonly LineElements[]): Network {
  const connections = lines.flatMap((line) => line.connections);
  const feedingLine = new Map<string, string>();
  for (const connection of connections) {
    if (!feedingLine.has(connection.to)) feedingLine.set(connection.to, connection.line);
  }
  const network = {
    items: itemKinds(scenario),
    feeds: scenario.feeds.map(({ surge: _, ...feed }) => feed),
    dividers: lines.flatMap((line) => line.dividers),
    merges: lines.flatMap((line) => line.merges),
    machines: expandMachines(scenario, feedingLine),
    outlets: scenario.outlets,
    connections,
    lines: scenario.lines.map((line) => line.id),
    surges: [],
    holdUpLimits: [],
    dwellLimits: scenario.limits.dwell,
  };
  const complete = withSurges(network, scenario.feeds);
  return {
    ...complete,
    machines: inFlowOrder(scenario, complete),
    holdUpLimits: placeLimits(scenario, complete),
  };
}

const EXPANDING: { readonly [L in Layout]: (line: LineOf<L>, plant: Plant) => LineElements } = {
  chain: expandChain,
  tree: expandShared,
  loop: expandShared,
  lanes: expandLanes,
  custom: expandCustom,
};

export function expandLine(line: Line, plant: Plant): LineElements {
  const as = <L extends Layout>(layout: L, one: LineOf<L>) => EXPANDING[layout](one, plant);
  return as(line.layout, line);
}

function expandMachines(scenario: Scenario, feedingLine: ReadonlyMap<string, string>): MachineElement[] {
  return scenario.machines.flatMap((group) =>
    group.members.map((id, index) => {
      const speed = group.speeds[index];
      if (speed === undefined) throw new Error(`machine group ${group.id} has no speed for ${id}`);
      return {
        id,
        group: group.id,
        line: feedingLine.get(id) ?? null,
        cycleMin: group.cycleMin.div(speed),
        takes: group.takes,
        makes: group.makes,
        infeed: group.infeed,
        outfeed: group.outfeed,
      };
    }),
  );
}

function itemKinds(scenario: Scenario): string[] {
  const kinds = new Set(scenario.feeds.flatMap((feed) => feed.items.map(({ item }) => item)));
  for (const group of scenario.machines) {
    for (const { item } of [...group.takes, ...group.makes]) kinds.add(item);
  }
  for (const outlet of scenario.outlets) kinds.add(outlet.item);
  return [...kinds];
}

/** A custom line names its dividers, merges and belts one by one; expanding it only qualifies their names. */
function expandCustom(line: CustomLine): LineElements {
  const own = new Set([...line.dividers, ...line.merges].map(({ id }) => id));
  const qualified = (id: string): string => (own.has(id) ? `${line.id}.${id}` : id);
  return {
    dividers: line.dividers.map((one) => ({ ...one, id: qualified(one.id), line: line.id })),
    merges: line.merges.map(({ id, rule }) => ({ id: qualified(id), line: line.id, rule })),
    connections: line.belts.map(({ id, from, to, only, belt }) => ({
      id: `${line.id}.${id}`,
      line: line.id,
      from: qualified(from),
      to: qualified(to),
      only,
      belt,
    })),
  };
}

/** Limits on hold-up, with the belts and buffers that count towards each. */
function placeLimits(scenario: Scenario, { connections, machines, surges }: Network): PlaceLimit[] {
  const groups = groupsByName(scenario);
  const queues = new Map(surges.map(({ feed, connection }) => [feed, connection]));
  const isQueue = new Set(queues.values());
  return scenario.limits.holdUp.map(({ place, item, most }) => {
    if (place === null) {
      return {
        place,
        item,
        most,
        connections: connections.map(({ id }) => id),
        machines: machines.map(({ id }) => id),
      };
    }
    const queue = queues.get(place);
    const group = groups.get(place);
    const onLine = connections.filter(({ id, line }) => line === place && !isQueue.has(id)).map(({ id }) => id);
    return {
      place,
      item,
      most,
      connections: queue === undefined ? onLine : [queue],
      machines: group === undefined ? [] : group.id === place ? group.members : [place],
    };
  });
}
