/** From where on a line those that take a kind can be reached. */

import type { Connection } from "../network/network.ts";
import { groupBy } from "../quantity/counts.ts";
import type { Ways } from "./ways.ts";

/** Elements from which a goal can be reached by some connections, and the goals themselves. */
export function reaching(own: readonly Connection[], isGoal: (node: string) => boolean): Set<string> {
  const into = groupBy(own, ({ to }) => to);
  const good = new Set<string>();
  const open = [...into.keys()].filter(isGoal);
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (good.has(node)) continue;
    good.add(node);
    for (const { from } of into.get(node) ?? []) open.push(from);
  }
  return good;
}

export function takesKind({ machine, outlet }: Ways, node: string, item: string): boolean {
  const end = outlet(node);
  if (end !== undefined) return end.item === null || end.item === item;
  return machine(node)?.machine.takes.some((taken) => taken.item === item) ?? false;
}
