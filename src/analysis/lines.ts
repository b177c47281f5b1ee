/** What every line does: what it brings to its machines, and what they make. */
import { feedingLines } from "../network/feeding-lines.ts";
import type { MachineElement, Network } from "../network/network.ts";
import { total } from "../quantity/counts.ts";
import { exact, sum, whole, ZERO } from "../quantity/rational.ts";
import type { LongRun } from "./long-run.ts";
import { outputPerCycle, productsPerCycle } from "./makers.ts";
import type { LineItem, LineResult } from "./result.ts";
import { type GroupSettling, type Judged, settlingTogether } from "./settling.ts";
import type { Ways } from "./ways.ts";

/** @param plant of all together: a line that has them all is judged alike */
export function lineResults(
  judged: Judged,
  byMachine: readonly GroupSettling[],
  plant: GroupSettling,
  ways: Ways,
): LineResult[] {
  const { network } = judged.run.program;
  const ofPlant = outputPerCycle(network);
  const linesTo = feedingLines(network);
  const fedBy = network.machines.map(({ id }) => linesTo(id));
  return network.lines.flatMap((id) => {
    const own = network.machines.filter((_, m) => fedBy[m]?.includes(id));
    if (own.length === 0) return [];
    const perCycle = network.machines.map((machine, m) => (fedBy[m]?.includes(id) ? productsPerCycle(machine) : 0));
    const isAll = perCycle.every((count, m) => count === ofPlant[m]);
    const { settling, output } = isAll ? plant : settlingTogether(judged, perCycle, byMachine);
    const items = itemsOf(id, network, judged.longRun, ways);
    return { id, machines: own.map((machine) => machine.id), items, settling, output };
  });
}

function itemsOf(line: string, { items, machines }: Network, longRun: LongRun, ways: Ways): LineItem[] {
  return items.flatMap((item): LineItem[] => {
    const brought = machines.flatMap((machine, m) => {
      const count = machine.takes.find((taken) => taken.item === item)?.count ?? 0;
      const into = ways.into(machine.id, item);
      if (count === 0 || into.every((connection) => connection.line !== line)) return [];
      return {
        needs: whole(count).div(machine.cycleMin),
        rate: rateOf(line, { machine, m, item, count }, longRun, ways),
      };
    });
    if (brought.length === 0) return [];
    const needs = exact(sum(brought.map((one) => one.needs)));
    const known = brought.flatMap(({ rate }) => rate ?? []);
    if (known.length < brought.length) return [{ item, needs_per_min: needs, settled_per_min: null }];
    const proved = known.flatMap((rate) => rate.exactly ?? []);
    return proved.length === known.length
      ? [{ item, needs_per_min: needs, settled_per_min: exact(sum(proved)) }]
      : [
          {
            item,
            needs_per_min: needs,
            settled_per_min: null,
            measured_per_min: total(known.map((rate) => rate.measured)),
          },
        ];
  });
}

interface Taken {
  readonly machine: MachineElement;
  readonly m: number;
  readonly item: string;
  readonly count: number;
}

/** What a machine takes of a kind from a line: all that it takes, or what passes belts that bring it nothing else. */
function rateOf(line: string, { machine, m, item, count }: Taken, longRun: LongRun, ways: Ways) {
  const { exactCycles, measuredCycles, exactPassed, measuredPassed } = longRun;
  const own = ways.into(machine.id, item).filter((connection) => connection.line === line);
  if (own.length === ways.into(machine.id, item).length) {
    const cycles = exactCycles?.[m] ?? null;
    return { exactly: cycles?.mul(whole(count)) ?? null, measured: (measuredCycles[m] ?? 0) * count };
  }
  const others = machine.takes.filter((taken) => taken.item !== item);
  if (own.some((connection) => others.some((other) => ways.carries(connection, other.item)))) return null;
  const places = own.map(ways.indexOf);
  return {
    exactly: exactPassed && sum(places.map((place) => exactPassed[place] ?? ZERO)),
    measured: total(places.map((place) => measuredPassed[place] ?? 0)),
  };
}
