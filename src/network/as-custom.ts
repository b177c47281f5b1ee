/** The same plant with every line written out as a custom one: what a layout expands into, as a scenario. */
import type { CustomBelt, Junction, Scenario } from "../scenario/scenario.ts";
import type { Network } from "./network.ts";
import { withoutSurges } from "./surges.ts";

export function asCustom(scenario: Scenario, given: Network): Scenario {
  const network = withoutSurges(given);
  const taken = new Set(
    [network.feeds, network.machines, network.outlets, scenario.machines].flatMap((list) => list.map(({ id }) => id)),
  );
  // A machine may be called "divider-1"; the divider of that name then needs another.
  const free = (id: string): string => (taken.has(id) ? free(`${id}_`) : id);
  return {
    ...scenario,
    lines: network.lines.map((line) => {
      const prefix = `${line}.`;
      const own = (id: string): string => (id.startsWith(prefix) ? free(id.slice(prefix.length)) : id);
      const junctions = (elements: readonly (Junction & { readonly line: string })[]): Junction[] =>
        elements.filter((element) => element.line === line).map(({ line: _, ...one }) => ({ ...one, id: own(one.id) }));
      const belts = network.connections
        .filter((connection) => connection.line === line)
        .map(({ id, from, to, only, belt }): CustomBelt => {
          return { id: id.slice(prefix.length), from: own(from), to: own(to), only, belt };
        });
      return {
        id: line,
        layout: "custom",
        dividers: junctions(network.dividers),
        merges: junctions(network.merges),
        belts,
      };
    }),
  };
}
