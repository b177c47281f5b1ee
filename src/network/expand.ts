/** From a scenario to its network: every layout expands into the same elements. */
import type { Feed, Line, MachineGroup, Scenario } from "../scenario/scenario.ts";
import { expandChain } from "./chain.ts";
import { expandCustom } from "./custom.ts";
import { groupsByName } from "./groups.ts";
import type { LineElements, MachineElement, Network } from "./network.ts";

export function expand(scenario: Scenario): Network {
  const groups = groupsByName(scenario);
  const lines = scenario.lines.map((line) => expandLine(line, scenario.feeds, groups));
  const connections = lines.flatMap((line) => line.connections);
  const feedingLine = new Map<string, string>();
  for (const connection of connections) {
    if (!feedingLine.has(connection.to)) feedingLine.set(connection.to, connection.line);
  }
  return {
    items: itemKinds(scenario),
    feeds: scenario.feeds,
    dividers: lines.flatMap((line) => line.dividers),
    merges: lines.flatMap((line) => line.merges),
    machines: expandMachines(scenario, feedingLine),
    outlets: scenario.outlets,
    connections,
    lines: scenario.lines.map((line) => line.id),
  };
}

function expandLine(line: Line, feeds: readonly Feed[], groups: ReadonlyMap<string, MachineGroup>): LineElements {
  switch (line.layout) {
    case "chain":
      return expandChain(line, feeds, groups);
    case "custom":
      return expandCustom(line);
  }
}

function expandMachines(scenario: Scenario, feedingLine: ReadonlyMap<string, string>): MachineElement[] {
  return scenario.machines.flatMap((group) =>
    group.members.map((id, index) => {
      const speed = group.speeds[index];
      if (speed === undefined) throw new Error(`machine group ${group.id} has no speed for ${id}`);
      return {
        id,
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
  const kinds = new Set(scenario.feeds.map((feed) => feed.item));
  for (const group of scenario.machines) {
    for (const { item } of [...group.takes, ...group.makes]) kinds.add(item);
  }
  for (const outlet of scenario.outlets) kinds.add(outlet.item);
  return [...kinds];
}
