/** What holds the plant below its full output: where the waits of its final machines begin. */
import { finalMachines } from "../network/graph.ts";
import type { Network } from "../network/network.ts";
import type { Causes } from "./causes.ts";
import { productsPerCycle } from "./makers.ts";
import type { Bottleneck } from "./plant-results.ts";
import type { SettledView } from "./settled-view.ts";
import { MOST_LISTED } from "./traced.ts";

/** What a final machine loses is put down to the cause of its longest wait. */
export function bottlenecksOf(network: Network, { waits, missingCycles }: SettledView, causes: Causes): Bottleneck[] {
  const isFinal = finalMachines(network);
  const kindOf = equalMachines(network);
  const found = new Map<string, Bottleneck & { lost_per_min: number; machines: string[]; alike: string[] }>();
  for (const [m, machine] of network.machines.entries()) {
    const [first, ...others] = waits[m] ?? [];
    if (first === undefined || !isFinal.has(machine.id)) continue;
    const longest = others.reduce((most, wait) => (wait.share > most.share ? wait : most), first);
    const cause = causes.of(machine.id, longest.state, longest.item);
    if (cause === null) continue;
    const { code, element, item, outlet, alike } = cause;
    const isSlow = code === "slow-machine" || code === "at-times";
    const key = JSON.stringify([code, isSlow ? kindOf.get(element) : element, item]);
    const one = found.get(key) ?? {
      code,
      element,
      alike: [],
      item,
      ...(outlet === undefined ? {} : { outlet }),
      machines: [],
      lost_per_min: 0,
    };
    const all = new Set([one.element, ...one.alike, element, ...alike]);
    one.alike = [...all].slice(1, 1 + MOST_LISTED);
    one.machines.push(machine.id);
    one.lost_per_min += (missingCycles[m] ?? 0) * productsPerCycle(machine);
    found.set(key, one);
  }
  return [...found.values()].sort((a, b) => b.lost_per_min - a.lost_per_min);
}

/** By machine: the same for those that do the same at the same speed. */
function equalMachines({ machines }: Network): ReadonlyMap<string, string> {
  return new Map(
    machines.map(({ id, cycleMin, takes, makes }) => [id, JSON.stringify([cycleMin.toFraction(), takes, makes])]),
  );
}
