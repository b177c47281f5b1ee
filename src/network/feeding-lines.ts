/** The lines whose belts lead to a machine, in the order of the plant's lines. */
import type { Network } from "./network.ts";

export function feedingLines({ connections, lines }: Pick<Network, "connections" | "lines">): (id: string) => string[] {
  const fed = new Map<string, Set<string>>();
  for (const { to, line } of connections) fed.set(to, (fed.get(to) ?? new Set()).add(line));
  return (id) => lines.filter((line) => fed.get(id)?.has(line));
}
