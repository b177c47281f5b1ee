/** Keys that stand for others: misspelt ones, and decimals written with a comma in a map. */
import type * as z from "zod/mini";
import { type Node, nodeAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { MAX_FINDINGS } from "./file-limits.ts";
import { nearest } from "./nearest.ts";

type Issue = z.core.$ZodIssue;

/** Keys that are missing only because they are misspelt, as paths in JSON: the unknown key says it all. */
export function mistypedKeys(issues: readonly Issue[]): Set<string> {
  const mistyped = new Set<string>();
  for (const issue of issues.slice(0, MAX_FINDINGS)) {
    if (issue.code !== "unrecognized_keys") continue;
    for (const key of issue.keys.slice(0, MAX_FINDINGS)) {
      const meant = nearest(key, issue.message.split(", "));
      if (meant !== "") mistyped.add(JSON.stringify([...issue.path, meant]));
    }
  }
  return mistyped;
}

/** "2.5 s" where a map holds `cycle: 2,5 s`, which is a value 2 and a key "5 s"; else `null`. */
export function decimalInTwo(map: Node, key: string): string | null {
  if (map.kind !== "map" || !/^[0-9]/.test(key)) return null;
  const keys = [...map.entries.keys()];
  const before = map.entries.get(keys[keys.indexOf(key) - 1] ?? "")?.node;
  return before?.kind === "scalar" && /^[0-9]+$/.test(before.text) ? `${before.text}.${key}` : null;
}

/** Values that are the first half of such a decimal, as paths in JSON: the key after them says it all. */
export function halvedDecimals(issues: readonly Issue[], root: Node): Set<string> {
  const halves = new Set<string>();
  for (const issue of issues.slice(0, MAX_FINDINGS)) {
    if (issue.code !== "unrecognized_keys") continue;
    const path = plainPath(issue.path);
    const map = nodeAt(root, path);
    if (map?.kind !== "map") continue;
    const keys = [...map.entries.keys()];
    for (const key of issue.keys.slice(0, MAX_FINDINGS)) {
      const before = keys[keys.indexOf(key) - 1];
      if (before !== undefined && decimalInTwo(map, key) !== null) halves.add(JSON.stringify([...path, before]));
    }
  }
  return halves;
}

export function plainPath(path: readonly PropertyKey[]): Path {
  return path.map((step) => (typeof step === "symbol" ? String(step) : step));
}
