/** Whether two drawings of a line come to the same network, whatever its elements are called and in whichever turn they are served. */
import { groupBy } from "../quantity/counts.ts";
import type { LineElements } from "./network.ts";

/** What a drawing without returns comes to: what its first element leads to, and so on to the machines. */
export function shapeOf({ dividers, merges, connections }: LineElements): string {
  const outOf = groupBy(connections, ({ from }) => from);
  const rules = new Map<string, string>([
    ...dividers.map(({ id, rule, weights }) => [id, `${rule}${weights?.join(",") ?? ""}`] as const),
    ...merges.map(({ id, rule }) => [id, rule] as const),
  ]);
  const shapes = new Map<string, string>();
  const starts = [...outOf.keys()].filter((id) => !rules.has(id));
  // An own stack: chains are long.
  const open = [...starts];
  for (let top = open.at(-1); top !== undefined; top = open.at(-1)) {
    const next = (outOf.get(top) ?? []).map(({ to }) => to);
    const unknown = rules.has(top) || starts.includes(top) ? next.filter((id) => !shapes.has(id)) : [];
    if (unknown.length > 0) {
      open.push(...unknown);
      continue;
    }
    open.pop();
    const rule = rules.get(top);
    const served = next.map((id) => shapes.get(id) ?? "");
    const below = rule === "even" ? served.toSorted() : served;
    shapes.set(top, rule === undefined && !starts.includes(top) ? top : `${rule ?? top}(${below.join(" ")})`);
  }
  return starts.map((id) => shapes.get(id) ?? "").join(" ");
}
