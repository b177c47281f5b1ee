/**
 * Where elements stand in the diagram, in columns and rows: a belt with what hangs on it runs from left to right and goes on
 * below like a line of text; where it parts into belts that part again, they stand below one another.
 */
import type { DrawnNode, Plan } from "./worker-messages.ts";

export interface Placed {
  readonly columns: number;
  readonly rows: number;
  readonly at: ReadonlyMap<string, { readonly x: number; readonly y: number }>;
}

/** @param most columns that there is room for */
export function placesOf({ nodes, links }: Plan, most: number): Placed {
  const known = new Map(nodes.map((node) => [node.id, node]));
  const next = new Map<string, DrawnNode[]>();
  for (const { from, to } of links) {
    const node = known.get(to);
    if (node !== undefined) next.set(from, [...(next.get(from) ?? []), node]);
  }
  const at = new Map<string, { x: number; y: number }>();
  let columns = 1;
  const put = (id: string, x: number, y: number): void => {
    at.set(id, { x, y });
    columns = Math.max(columns, x + 1);
  };
  const open = (id: string): DrawnNode[] => (next.get(id) ?? []).filter((node) => !at.has(node.id));

  /** @returns rows taken, from y on */
  const lay = (first: DrawnNode, x: number, y: number, folds: boolean): number => {
    const left = x;
    const top = y;
    let height = 1;
    let node: DrawnNode | undefined = first;
    while (node !== undefined) {
      if (folds && x >= most) [x, y, height] = [left, y + height, 1];
      put(node.id, x, y);
      const ends = open(node.id).filter(({ kind }) => kind === "machine");
      const others: DrawnNode[] = node.kind === "machine" ? [] : open(node.id).filter(({ kind }) => kind !== "machine");
      const isChainEnd = node !== first && others.length === 0 && ends.length === 2;
      if (isChainEnd && x + 1 < most) {
        for (const [i, machine] of ends.entries()) hang(machine, x + i, y + 1);
        return y - top + 2;
      }
      if (others.length > 1 || (others.length === 0 && ends.length > 1)) {
        let below = 0;
        for (const child of [...others, ...ends]) {
          if (!at.has(child.id))
            below += child.kind === "machine" ? hang(child, x + 1, y + below) : lay(child, x + 1, y + below, false);
        }
        return Math.max(y - top + Math.max(height, below), 1);
      }
      // A belt with nothing between feed and machine.
      const beside: boolean = node.kind === "feed" && others.length === 0;
      for (const [i, machine] of ends.entries()) hang(machine, beside ? x + 1 : x, beside ? y + i : y + 1 + i);
      height = Math.max(height, (beside ? 0 : 1) + ends.length);
      node = others[0];
      x++;
    }
    return y - top + height;
  };
  const hang = (machine: DrawnNode, x: number, y: number): number => {
    put(machine.id, x, y);
    return 1;
  };

  let rows = 0;
  // Feeds first, then what only machines lead to, in the order of the flow.
  const starts = [...nodes.filter(({ kind }) => kind === "feed"), ...fromMachines(nodes, next), ...nodes];
  for (const start of starts) if (!at.has(start.id)) rows += lay(start, 0, rows, true);
  return { columns, rows, at };
}

function fromMachines(nodes: readonly DrawnNode[], next: ReadonlyMap<string, readonly DrawnNode[]>): DrawnNode[] {
  return nodes.filter(({ kind }) => kind === "machine").flatMap(({ id }) => next.get(id) ?? []);
}
