import type { MachineGroup, Scenario } from "../scenario/scenario.ts";

/** Every group of machines by its own name and by those of its members. */
export function groupsByName({ machines }: Scenario): ReadonlyMap<string, MachineGroup> {
  return new Map(machines.flatMap((group) => [group.id, ...group.members].map((name) => [name, group])));
}
