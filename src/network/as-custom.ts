/** The same plant with every line written out as a custom one: what a layout expands into, as a scenario. */
import type { CustomBelt, Junction, Scenario } from "../scenario/scenario.ts";
import type { Network } from "./network.ts";

export function asCustom(scenario: Scenario, network: Network): Scenario {
  return {
    ...scenario,
    lines: network.lines.map((line) => {
      const prefix = `${line}.`;
      const own = (id: string): string => (id.startsWith(prefix) ? id.slice(prefix.length) : id);
      const junctions = (elements: readonly (Junction & { readonly line: string })[]): Junction[] =>
        elements.filter((element) => element.line === line).map(({ id, rule }) => ({ id: own(id), rule }));
      const belts = network.connections
        .filter((connection) => connection.line === line)
        .map(({ id, from, to, only, belt }): CustomBelt => ({ id: own(id), from: own(from), to: own(to), only, belt }));
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
