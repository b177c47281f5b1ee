/** Who takes its full need of a kind at a divider before the rest of it goes on. */
import type { Connection } from "../network/network.ts";
import type { SettledView } from "./settled-view.ts";

const MOST_MACHINES = 20;
const MOST_ELEMENTS = 200;

/**
 * Machines behind the other outlets of the divider that a connection leaves, if they never lack the kind. Where the
 * connection leads to a machine straight on, those behind outlets named later come no sooner: they do not count.
 * @returns at most 20
 */
export function servedBefore(view: SettledView, connection: Connection, item: string): string[] {
  const { ways } = view;
  const outlets = ways.outOf(connection.from, item);
  if (outlets.length < 2) return [];
  const own = outlets.indexOf(connection);
  const isLast = ways.machine(connection.to) !== undefined;
  const first = outlets.filter((_, i) => (isLast ? i < own : i !== own));
  return satisfied(view, first, item);
}

/** Whether items pass by a connection that an ordered junction asks before this one. */
export function isOutrun({ passedBy }: SettledView, inOrder: readonly Connection[], connection: Connection): boolean {
  return inOrder.slice(0, inOrder.indexOf(connection)).some((one) => passedBy(one) > 0);
}

function satisfied({ ways, waits }: SettledView, starts: readonly Connection[], item: string): string[] {
  const found: string[] = [];
  const seen = new Set<string>();
  const open = [...starts];
  for (let next = open.shift(); next !== undefined && seen.size < MOST_ELEMENTS; next = open.shift()) {
    if (seen.has(next.to)) continue;
    seen.add(next.to);
    const taker = ways.machine(next.to);
    if (taker === undefined) open.push(...ways.outOf(next.to, item));
    else if (takesEnough(waits[taker.index] ?? [], item)) found.push(next.to);
    if (found.length === MOST_MACHINES) break;
  }
  return found;
}

function takesEnough(waits: SettledView["waits"][number], item: string): boolean {
  return !waits.some((wait) => wait.state === "starved" && wait.item === item);
}
