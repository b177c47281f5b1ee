/** What every part of the reader is handed: the document, where findings go, and the file's order. */
import { childOf, keysAt, type Node, nodeAt } from "./document.ts";
import type { FileFindings, Locate, Path } from "./file-finding.ts";
import type { Names } from "./names.ts";

export interface Reading {
  readonly root: Node;
  readonly locate: Locate;
  readonly findings: FileFindings;
  readonly names: Names;
}

/** A record's entries in the order of the file, which JavaScript's objects don't keep for keys that are numbers. */
export function inFileOrder<V>(root: Node, path: Path, record: Readonly<Record<string, V>> | undefined): [string, V][] {
  const entries: [string, V][] = [];
  for (const key of keysAt(root, path)) {
    const value = ownValue(record, key);
    if (value !== undefined) entries.push([key, value]);
  }
  return entries;
}

/** A record's value by a key that the record itself has; names that objects have by nature are names like any other. */
export function ownValue<V>(record: Readonly<Record<string, V>> | undefined, key: string): V | undefined {
  return record !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
}

/** The text of a scalar as written; `undefined` where there is none. */
export function textAt(root: Node, path: Path): string | undefined {
  const node = nodeAt(root, path);
  return node?.kind === "scalar" && node.value !== null ? node.text : undefined;
}

/** Reports a map that must have an entry and has none. */
export function requireEntries(reading: Pick<Reading, "root" | "findings">, path: Path, expected: string): void {
  const node = nodeAt(reading.root, path);
  if (node?.kind === "map" && node.entries.size === 0 && !reading.findings.damaged(path))
    reading.findings.report("empty", { expected }, path);
}

export function isStated(root: Node, path: Path, key: string): boolean {
  return childOf(nodeAt(root, path), key) !== undefined;
}
