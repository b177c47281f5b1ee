/** Limits on hold-up, with the belts and buffers that count towards each. */
import type { Scenario } from "../scenario/scenario.ts";
import { groupsByName } from "./groups.ts";
import type { Network, PlaceLimit } from "./network.ts";

export function placeLimits(scenario: Scenario, { connections, machines, surges }: Network): PlaceLimit[] {
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
