/** Who gets how much of what it needs, and how evenly the shortage is shared. */
import type { Outline } from "../../analysis/analyse.ts";
import type { MachineOutline } from "../../analysis/machines.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { graphOf } from "../../network/graph.ts";
import type { Network } from "../../network/network.ts";
import { approximate, exact, type Rational, rational, sum, whole, ZERO } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { LevelResult, LineShares, MachineShare } from "./shortage-results.ts";

/** Below this share of its need a machine is said to starve. */
const ENOUGH = 0.999;

/** A line and those of its machines that a lowered feed can reach, in feeding order; two at least. */
export interface SharedLine {
  readonly id: string;
  readonly machines: readonly string[];
}

export function sharedLines(scenario: Scenario, network: Network, feeds: readonly string[]): SharedLine[] {
  const reached = reachedFrom(network, feeds);
  return feedingOrder(scenario, network).flatMap((order, index) => {
    const machines = order.filter((id) => reached.has(id));
    const id = network.lines[index] ?? "";
    return machines.length < 2 ? [] : [{ id, machines }];
  });
}

/** Everything that anything can come to from these elements, through machines too. */
function reachedFrom(network: Network, starts: readonly string[]): Set<string> {
  const graph = graphOf(network);
  const reached = new Set(starts);
  // A Set's members are visited in order of insertion, those added on the way included.
  for (const node of reached) for (const { to } of graph.outOf(node)) reached.add(to);
  return reached;
}

type Shares = Pick<LevelResult, "jain" | "measured_jain" | "jain_line" | "lines" | "machines" | "starving">;

export function sharesOf(result: Outline, lines: readonly SharedLine[]): Shares {
  const byId = new Map(result.machines.map((machine) => [machine.id, machine]));
  const shares = lines.map(({ id, machines }) => lineShares(id, machines, byId));
  const least = shares.reduce<LineShares | null>((one, other) => {
    return jainOf(other) !== null && (one === null || (jainOf(other) ?? 0) < (jainOf(one) ?? 0)) ? other : one;
  }, null);
  return {
    jain: least?.jain ?? null,
    ...(least?.measured_jain === undefined ? {} : { measured_jain: least.measured_jain }),
    jain_line: least?.id ?? null,
    lines: shares,
    machines: result.machines.map(machineShare),
    starving: result.machines.filter(starves).map(({ id }) => id),
  };
}

function jainOf({ jain, measured_jain: measured }: LineShares): number | null {
  return jain === null ? (measured ?? null) : approximate(rational(jain));
}

function lineShares(id: string, machines: readonly string[], byId: ReadonlyMap<string, MachineOutline>): LineShares {
  const own = machines.flatMap((machine) => byId.get(machine) ?? []);
  const proved = own.flatMap((machine) => exactShare(machine) ?? []);
  if (proved.length === own.length) {
    const jain = jainIndex(proved);
    return { id, machines, jain: jain && exact(jain) };
  }
  const measured = own.map((machine) => rational(approximateShare(machine).toFixed(12)));
  const jain = jainIndex(measured);
  return { id, machines, jain: null, ...(jain ? { measured_jain: approximate(jain) } : {}) };
}

/**
 * (Σx)² / (n Σx²), from 1/n where one has all to 1 where all have the same (R. Jain, D. Chiu, W. Hawe, "A quantitative
 * measure of fairness and discrimination for resource allocation in shared computer systems", DEC-TR-301, 1984).
 * @returns `null` where nobody has anything
 */
export function jainIndex(shares: readonly Rational[]): Rational | null {
  const total = sum(shares);
  if (total.compare(ZERO) === 0) return null;
  return total.mul(total).div(sum(shares.map((x) => x.mul(x))).mul(whole(shares.length)));
}

function exactShare({ settled_per_min: settled, needs_per_min: needs }: MachineOutline): Rational | null {
  return settled === null ? null : rational(settled).div(rational(needs));
}

function approximateShare(machine: MachineOutline): number {
  const share = exactShare(machine);
  if (share !== null) return approximate(share);
  return (machine.measured_per_min ?? 0) / approximate(rational(machine.needs_per_min));
}

function machineShare(machine: MachineOutline): MachineShare {
  const share = exactShare(machine);
  return {
    id: machine.id,
    line: machine.line,
    needs_per_min: machine.needs_per_min,
    full_products_per_min: exact(sum(machine.products.map(({ full_per_min: perMin }) => rational(perMin)))),
    share: share && exact(share),
    ...(share ? {} : { measured_share: approximateShare(machine) }),
  };
}

/** For want of items, not of room for its products. */
function starves(machine: MachineOutline): boolean {
  const { starved, blocked } = machine.minutes;
  return approximateShare(machine) < ENOUGH && starved > blocked;
}
