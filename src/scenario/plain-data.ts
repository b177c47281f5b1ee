import type { Node } from "./document.ts";

/**
 * The plain data that a YAML or JSON reader would give, for checking against a schema. Maps have no prototype, so that
 * no key is special; their keys come in JavaScript's order (whole numbers first), the file's order is in the tree.
 */
export function plainData(node: Node): unknown {
  if (node.kind === "scalar") return node.value;
  if (node.kind === "list") return node.items.map(plainData);
  const data: Record<string, unknown> = { __proto__: null };
  for (const [key, entry] of node.entries) data[key] = plainData(entry.node);
  return data;
}
