/** Parts of a file that it does not hold itself: read and checked as if it did, and placed where what stands for them is. */
import { childOf, type MapEntry, type MapNode, type Node } from "./document.ts";
import { composed } from "./file-limits.ts";

export type Plain = string | number | readonly Plain[] | { readonly [key: string]: Plain };

export function nodeOf(value: Plain, offset: number): Node {
  if (typeof value === "string" || typeof value === "number") {
    const own = typeof value === "string" ? composed(value) : value;
    return { kind: "scalar", offset, size: 1, depth: 0, text: String(own), value: own };
  }
  if (isList(value)) {
    const items = value.map((one) => nodeOf(one, offset));
    return { kind: "list", offset, ...measureOf(items), items };
  }
  const entries = Object.entries(value).map(
    ([key, one]) => [composed(key), entryOf(nodeOf(one, offset), offset)] as const,
  );
  return mapOf(new Map(entries), offset);
}

function isList(value: Exclude<Plain, string | number>): value is readonly Plain[] {
  return Array.isArray(value);
}

export function mapOf(entries: ReadonlyMap<string, MapEntry>, offset: number): MapNode {
  const children = Array.from(entries.values(), ({ node }) => node);
  return { kind: "map", offset, ...measureOf(children), entries };
}

export function entryOf(node: Node, keyOffset: number): MapEntry {
  return { keyOffset, node };
}

/** The map with a key added, or another value for one that it has. */
export function withKey(map: MapNode, key: string, node: Node): MapNode {
  const keyOffset = map.entries.get(key)?.keyOffset ?? map.offset;
  return mapOf(new Map(map.entries).set(key, entryOf(node, keyOffset)), map.offset);
}

/** Each map among the entries of a section changed; what is no map is left for the reader to complain of. */
export function mapEntries(
  section: Node | undefined,
  change: (map: MapNode, key: string) => MapNode,
): MapNode | undefined {
  if (section?.kind !== "map") return undefined;
  const entries = Array.from(section.entries, ([key, { keyOffset, node }]): [string, MapEntry] => {
    return [key, { keyOffset, node: node.kind === "map" ? change(node, key) : node }];
  });
  return mapOf(new Map(entries), section.offset);
}

export function textOf(node: Node | undefined, key: string): string | undefined {
  const child = childOf(node, key);
  return child?.kind === "scalar" && child.value !== null ? child.text : undefined;
}

function measureOf(children: readonly Node[]): { readonly size: number; readonly depth: number } {
  return {
    size: children.reduce((sum, { size }) => sum + size, 1),
    depth: 1 + children.reduce((most, { depth }) => Math.max(most, depth), 0),
  };
}
