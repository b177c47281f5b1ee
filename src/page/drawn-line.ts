/** A line as the page draws it, by the indices of its program. */
import type { Staged } from "../core.ts";
import type { DrawnBuffer, DrawnNode, Plan } from "./worker-messages.ts";

export function planOf({ network, program, horizonTicks, startsAfterMin }: Staged, finals: ReadonlySet<string>): Plan {
  const { machine, buffer, connection, tickS } = program;
  const buffersOf = (from: number, to: number): DrawnBuffer[] =>
    Array.from({ length: to - from }, (_, i) => ({
      item: network.items[buffer.item[from + i] ?? 0] ?? "",
      room: buffer.capacity[from + i] ?? 0,
      at: from + i,
    }));
  const nodes = (kind: DrawnNode["kind"], list: readonly { readonly id: string; readonly line?: string | null }[]) =>
    list.map(({ id, line = null }, index): DrawnNode => ({ id, kind, line, index }));
  return {
    ticksPerMin: 60 / tickS.valueOf(),
    horizonTicks,
    startsAfterMin,
    items: network.items,
    nodes: [
      ...nodes("feed", network.feeds),
      ...nodes("divider", network.dividers),
      ...nodes("merge", network.merges),
      ...nodes("machine", network.machines),
      // Products that no line collects leave by themselves.
      ...nodes("outlet", network.outlets).filter(({ id }) => network.connections.some(({ to }) => to === id)),
    ],
    machines: network.machines.map(({ id, makes }, m) => {
      const [from, middle, to] = [machine.infeed[m] ?? 0, machine.outfeed[m] ?? 0, machine.infeed[m + 1] ?? 0];
      return {
        id,
        infeed: buffersOf(from, middle),
        outfeed: buffersOf(middle, to),
        perCycle: makes.reduce((sum, { count }) => sum + count, 0),
        isFinal: finals.has(id),
      };
    }),
    links: network.connections.map(({ id, from, to }, c) => ({ id, from, to, belt: connection.belt[c] ?? -1 })),
  };
}
