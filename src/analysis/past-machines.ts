/** What a divider sends past a machine that wants it: on to an outlet, or beside a belt at its limit. */
import type { Connection } from "../network/network.ts";
import type { SettledView } from "./settled-view.ts";

const MOST_ELEMENTS = 1000;

/**
 * What leaves by an outlet, of a kind that comes to it by other ways out of the divider that a connection leaves.
 * @returns the outlet by which most of it leaves; `null` where nothing does
 */
export function takenOff(
  { ways, leaving }: SettledView,
  connection: Connection,
  item: string,
): { readonly outlet: string; readonly perMin: number } | null {
  if (ways.divider(connection.from) === undefined) return null;
  let most: { readonly outlet: string; readonly perMin: number } | null = null;
  const seen = new Set([connection.from]);
  const open = ways.outOf(connection.from, item).filter(({ id }) => id !== connection.id);
  for (let next = open.pop(); next !== undefined && seen.size < MOST_ELEMENTS; next = open.pop()) {
    const { to } = next;
    if (seen.has(to) || ways.machine(to) !== undefined) continue;
    seen.add(to);
    const perMin = ways.outlet(to) === undefined ? 0 : leaving(to, item);
    if (perMin > (most?.perMin ?? 0)) most = { outlet: to, perMin };
    open.push(...ways.outOf(to, item));
  }
  return most;
}

/**
 * Items per minute that a divider sends by other ways since a belt that leaves it can carry no more: by any that it asks
 * later, or, where it takes turns, more by one of them than by the belt.
 */
export function passedBeside({ ways, passedBy }: SettledView, connection: Connection, item: string): number {
  const divider = ways.divider(connection.from);
  if (divider === undefined) return 0;
  const outlets = ways.outOf(divider.id, item);
  const own = outlets.findIndex(({ id }) => id === connection.id);
  const others = outlets.filter((_, i) => (divider.rule === "even" ? i !== own : i > own)).map(passedBy);
  const most = Math.max(0, ...others);
  if (divider.rule === "even" && most <= passedBy(connection)) return 0;
  return most;
}
