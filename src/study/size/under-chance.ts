/** Machines added until a plant under chance makes what is wanted, as surely as an interval of 95 % says. */
import { meanInterval } from "../../analysis/statistics/interval.ts";
import { simulate } from "../../engine/simulate.ts";
import { prepare } from "../../network/prepare.ts";
import { total } from "../../quantity/counts.ts";
import { approximate, ONE, type Rational, whole, ZERO } from "../../quantity/rational.ts";
import { meanOf } from "../../scenario/distribution.ts";
import type { MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { replicationSeed } from "../replications/replication.ts";
import type { SizedByChance } from "./size-results.ts";

/** Of a group's machines, the share of the time for which they do not stop by chance, on average. */
export function availabilityIn({ random }: Scenario): (group: MachineGroup) => Rational {
  return ({ id, members, cycleMin }) => {
    const own = random.machines.find((one) => one.id === id || members.includes(one.id));
    if (own === undefined) return ONE;
    const { breakdowns, microStops } = own;
    const stopped = microStops === null ? ZERO : microStops.chance.mul(meanOf(microStops.lastingMin));
    const repaired =
      breakdowns === null ? ZERO : cycleMin.div(meanOf(breakdowns.betweenMin)).mul(meanOf(breakdowns.repairMin));
    return cycleMin.div(cycleMin.add(stopped).add(repaired));
  };
}

export function isByChance({ random }: Scenario): boolean {
  return random.machines.length + random.feeds.length > 0;
}

/** What is made of each wanted kind over the later half of each replication: means and intervals. */
export function measured(scenario: Scenario, replications: number): SizedByChance["settled"] {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error("a sized plant is refused");
  const { program, horizonTicks } = prepared;
  const half = Math.max(1, Math.floor(horizonTicks / 2));
  const laterMin = approximate(program.tickS.mul(whole(horizonTicks - half)).div(60n));
  const { machines } = program.network;
  const made = Array.from({ length: replications }, (_, i) => {
    const seed = replicationSeed(scenario.seed, i + 1);
    const cycles = (ticks: number) =>
      simulate(program, { horizonTicks: ticks, seed, stepAll: true }).totals.cycles.slice();
    const [early, all] = [cycles(half), cycles(horizonTicks)];
    return machines.map((_, m) => ((all[m] ?? 0) - (early[m] ?? 0)) / laterMin);
  });
  return scenario.wanted.map(({ item }) => {
    const net = machines.map(({ takes, makes }) => countOf(makes, item) - countOf(takes, item));
    const figures = made.map((cycles) => total(cycles.map((perMin, m) => perMin * (net[m] ?? 0))));
    const { mean, low, high } = meanInterval(figures);
    return { item, mean, ci95: low === null || high === null ? null : [low, high] };
  });
}

function countOf(counts: readonly { readonly item: string; readonly count: number }[], item: string): number {
  return counts.find((one) => one.item === item)?.count ?? 0;
}

/** Whether the interval of each kind lies at what is wanted or above. */
export function isReached({ wanted }: Scenario, settled: SizedByChance["settled"]): boolean {
  return wanted.every(({ item, perMin }) => {
    const found = settled.find((one) => one.item === item);
    return found !== undefined && (found.ci95?.[0] ?? found.mean) >= approximate(perMin);
  });
}
