/** Tactics that leave more of the flow to machines further down: metered branches, lower levels. */
import { smaller, ZERO } from "../../quantity/rational.ts";
import type { LowLevel, Metered } from "../../scenario/tactic-parts.ts";
import { needPerMin } from "../needs.ts";
import type { MachineElement, Network } from "../network.ts";
import type { Action } from "../priming.ts";
import { chosenFrom, type Order, type Part, type TacticNote } from "./contribution.ts";

export function meteredBranches(network: Network, order: Order, { factor }: Metered): Part {
  const dividers = new Set(network.dividers.map(({ id }) => id));
  const last = new Set(order.map((machines) => machines.at(-1)));
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  const notes: TacticNote[] = [];
  const connections = network.connections.map((connection) => {
    const machine = machines.get(connection.to);
    if (machine === undefined || !dividers.has(connection.from) || last.has(machine.id)) return connection;
    if (connection.belt === null) {
      notes.push({ note: "not-metered", branch: connection.id });
      return connection;
    }
    const ratePerMin = smaller(connection.belt.ratePerMin, needPerMin(machine).mul(factor));
    return { ...connection, belt: { ...connection.belt, ratePerMin } };
  });
  return { network: { ...network, connections }, notes };
}

/** Never below what a cycle takes. */
export function lowered(network: Network, order: Order, { level, among, forMin }: LowLevel): Part {
  const chosen = new Set(chosenFrom(order, among));
  if (forMin === null) {
    const machines = network.machines.map((machine) =>
      chosen.has(machine.id)
        ? { ...machine, infeed: machine.infeed.map((room, i) => ({ ...room, count: levelFor(machine, i, level) })) }
        : machine,
    );
    return { network: { ...network, machines } };
  }
  const limits = network.machines
    .filter(({ id }) => chosen.has(id))
    .flatMap((machine) =>
      machine.infeed.map(({ item }, i): Action => {
        return { do: "limit", places: [{ machine: machine.id, item }], level: levelFor(machine, i, level) };
      }),
    );
  const lift = limits.map((limit): Action => (limit.do === "limit" ? { ...limit, level: null } : limit));
  return {
    interventions: [
      { whenFull: null, afterMin: ZERO, actions: limits },
      { whenFull: null, afterMin: forMin, actions: lift },
    ],
  };
}

function levelFor({ takes, infeed }: MachineElement, i: number, level: number): number {
  return Math.min(infeed[i]?.count ?? level, Math.max(level, takes[i]?.count ?? 1));
}
