/** Machines or outlets more, like the last one of the line, at the end of each layout. */
import { plantOf } from "../../network/collect.ts";
import { expandLine } from "../../network/expand.ts";
import { groupsByName } from "../../network/groups.ts";
import { type MixedLine, mixtureElements } from "../../network/mixture-elements.ts";
import { type Mixture, withMore } from "../../network/mixtures.ts";
import type { LineElements } from "../../network/network.ts";
import { type SharedLine, sharingOf } from "../../network/shared-line.ts";
import { ZERO } from "../../quantity/rational.ts";
import type { ChainLine, LoopLine, MachineGroup, Scenario } from "../../scenario/scenario.ts";
import type { LayoutKind } from "./layout-results.ts";

export interface Grown {
  readonly layout: LayoutKind;
  /** What the line adds to the network before and after, but for parts that stay as they are. */
  readonly before: LineElements;
  readonly after: LineElements;
}

export interface GrownPlant {
  readonly scenario: Scenario;
  readonly machines: readonly string[];
}

/** @param last the machine or outlet that the new ones are like */
export function withMachinesLike(scenario: Scenario, last: string, count: number): GrownPlant {
  const groups = groupsByName(scenario);
  const group = groups.get(last);
  const outlet = scenario.outlets.find(({ id }) => id === last);
  const taken = new Set([
    ...groups.keys(),
    ...[scenario.feeds, scenario.outlets, scenario.lines].flat().map(({ id }) => id),
  ]);
  const free = (id: string): string => (taken.has(id) ? free(`${id}-more`) : id);
  const id = free(`${group?.id ?? last}-more`);
  const machines = count === 1 ? [id] : Array.from({ length: count }, (_, i) => free(`${id}-${i + 1}`));
  if (outlet !== undefined) {
    const outlets = [...scenario.outlets, ...machines.map((own) => ({ ...outlet, id: own }))];
    return { scenario: { ...scenario, outlets }, machines };
  }
  if (group === undefined) throw new Error(`${last} is no machine, and no outlet`);
  const speed = group.speeds[group.members.indexOf(last)];
  const speeds = speed ? machines.map(() => speed) : [];
  const added: MachineGroup = { ...group, id, members: machines, speeds };
  return { scenario: { ...scenario, machines: [...scenario.machines, added] }, machines };
}

export function grownChain({ scenario, machines }: GrownPlant, line: ChainLine): Grown {
  const plant = plantOf(scenario);
  const after = expandLine({ ...line, to: [...line.to, ...machines] }, plant);
  return { layout: "chain", before: expandLine(line, plant), after };
}

/**
 * A tree where dividers can make the shares, else a loop.
 * @returns `null` where neither can be drawn up
 */
export function grownTree(
  { scenario, machines }: GrownPlant,
  line: SharedLine,
  back: LoopLine["return"] | null,
): Grown | null {
  const plant = plantOf(scenario);
  const { id, from, to, belt, branch, collect, merges, ways } = line;
  const grown = { id, from, to: [...to, ...machines], belt, branch, collect, merges, ways };
  const before = expandLine(line, plant);
  const tree = { ...grown, layout: "tree" } as const;
  if (sharingOf(tree, plant).ok) return { layout: "tree", before, after: expandLine(tree, plant) };
  if (back === null) return null;
  const loop = { ...grown, layout: "loop", return: back } as const;
  return sharingOf(loop, plant).ok ? { layout: "loop", before, after: expandLine(loop, plant) } : null;
}

/** The shortest chains, or the chain of stations, get them. */
export function grownMixture({ scenario, machines }: GrownPlant, line: MixedLine, mixture: Mixture): Grown {
  const plant = plantOf(scenario);
  const drawn = (to: readonly string[], own: Mixture): LineElements => {
    const { dividers, merges, connections } = mixtureElements({ ...line, to }, own, plant, ZERO, () => ZERO);
    return { dividers, merges, connections };
  };
  const staying = withoutTrees(mixture, line.id);
  return {
    layout: mixture.kind,
    before: drawn(line.to, staying),
    after: drawn([...line.to, ...machines], withMore(staying, machines)),
  };
}

/** The chain with its stations in one piece each: that the last one is further along then does not tear it down. */
function withoutTrees(mixture: Mixture, line: string): Mixture {
  if (mixture.kind === "tree-of-chains") return mixture;
  const stations = mixture.stations.map(({ machines }, index) => ({
    machines: machines.length === 1 ? machines : [`${line}.tree-${index + 1}-divider-1`],
    plan: { target: 0 },
  }));
  return { ...mixture, stations };
}
