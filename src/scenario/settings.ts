/** Values set in a file that has been parsed and not yet read, so that every check of the reader holds for them as well. */
import type { ListNode, MapNode, Node, ScalarNode } from "./document.ts";
import type { FileFindings, Path } from "./file-finding.ts";
import { FOUND } from "./messages.ts";
import { nearest } from "./nearest.ts";

/** A plain value for a place of the file: in place of what stands there, or added where nothing does. */
export interface Setting {
  /** Keys, and indices of lists counted from 0. */
  readonly path: readonly string[];
  readonly value: string;
}

/**
 * The file keeps its places: what is set stands where the old value did, or where what holds it begins.
 * @param findings told of places that cannot be: errors
 */
export function withSettings(root: Node, settings: readonly Setting[], findings: FileFindings): Node {
  return settings.reduce((node, { path, value }) => put(node, path, value, [], findings), root);
}

/** Copies what it changes: what an alias repeats stays as it is elsewhere. */
function put(node: Node, steps: readonly string[], value: string, at: Path, findings: FileFindings): Node {
  const [step, ...rest] = steps;
  if (step === undefined) return scalarOf(value, node.offset);
  if (node.kind === "list") return putInList(node, step, rest, value, at, findings);
  if (node.kind === "map") return putInMap(node, step, rest, value, at, findings);
  if (node.value === null) return newMap(steps, value, node.offset);
  findings.report("no-keys-here", { found: FOUND.text(node.text), key: step }, at);
  return node;
}

function putInList(
  node: ListNode,
  step: string,
  rest: readonly string[],
  value: string,
  at: Path,
  findings: FileFindings,
): Node {
  const index = /^(?:0|[1-9]\d*)$/.test(step) ? Number(step) : -1;
  const item = node.items[index];
  if (item === undefined) {
    findings.report("no-such-index", { found: step, last: String(node.items.length - 1) }, at);
    return node;
  }
  return { ...node, items: node.items.with(index, put(item, rest, value, [...at, index], findings)) };
}

function putInMap(
  node: MapNode,
  step: string,
  rest: readonly string[],
  value: string,
  at: Path,
  findings: FileFindings,
): Node {
  const entry = node.entries.get(step);
  // Whole sections may be missing from a file; what is named in one is not, or it is misspelt.
  if (entry === undefined && rest.length > 0 && at.length > 0) {
    const known = [...node.entries.keys()];
    findings.report("no-such-place", { found: step, nearest: nearest(step, known), known: known.join(", ") }, at);
    return node;
  }
  const made =
    entry === undefined ? newMap(rest, value, node.offset) : put(entry.node, rest, value, [...at, step], findings);
  const entries = new Map(node.entries).set(step, { keyOffset: entry?.keyOffset ?? node.offset, node: made });
  return { ...node, entries };
}

/** Maps within one another, and the value in the innermost. */
function newMap(steps: readonly string[], value: string, offset: number): Node {
  return steps.reduceRight<Node>(
    (node, step) => {
      const entries = new Map([[step, { keyOffset: offset, node }]]);
      return { kind: "map", offset, size: node.size + 1, depth: node.depth + 1, entries };
    },
    scalarOf(value, offset),
  );
}

/** As the parser takes plain text: whole numbers and truths are such, all else is text. */
function scalarOf(text: string, offset: number): ScalarNode {
  return { kind: "scalar", offset, size: 1, depth: 0, text, value: plainValue(text) };
}

function plainValue(text: string): string | number | boolean {
  if (text === "true" || text === "false") return text === "true";
  return /^-?(?:0|[1-9]\d{0,14})$/.test(text) ? Number(text) : text;
}
