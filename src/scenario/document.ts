/**
 * Text to a tree of maps, lists and scalars that know their places. YAML 1.2 with its core types; aliases are resolved
 * here, within limits, and every key is text and occurs once.
 */
import {
  Composer,
  type CST,
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  Parser,
  type Scalar,
  type YAMLMap,
  type YAMLSeq,
  type Node as YamlNode,
} from "yaml";
import { createFinding, type FileFinding, type Locate, type Path, type Position } from "./file-finding.ts";
import { composed, MAX_DEPTH, MAX_FILE_BYTES, MAX_FINDINGS, MAX_VALUES } from "./file-limits.ts";
import type { ArgsOf, Code } from "./messages.ts";

export type Node = MapNode | ListNode | ScalarNode;

interface Placed {
  /** Where it begins in the text. */
  readonly offset: number;
  /** Scalars, maps and lists it amounts to, itself included, aliases counted as what they repeat. */
  readonly size: number;
  /** Levels of maps and lists; a scalar has none. */
  readonly depth: number;
}

export interface MapNode extends Placed {
  readonly kind: "map";
  /** In file order. */
  readonly entries: ReadonlyMap<string, MapEntry>;
}

export interface MapEntry {
  readonly keyOffset: number;
  readonly node: Node;
}

export interface ListNode extends Placed {
  readonly kind: "list";
  readonly items: readonly Node[];
}

export interface ScalarNode extends Placed {
  readonly kind: "scalar";
  /** As written, quotes and escapes resolved. */
  readonly text: string;
  readonly value: string | number | boolean | null;
}

export interface TextDocument {
  readonly root: Node;
  readonly locate: Locate;
  readonly positionOf: (offset: number) => Position;
  /** Duplicate keys and the like: the tree stands without them. */
  readonly findings: readonly FileFinding[];
}

export type DocumentOutcome =
  | { readonly ok: true; readonly document: TextDocument }
  | { readonly ok: false; readonly findings: readonly FileFinding[] };

export function readDocument(text: string): DocumentOutcome {
  const refuse = (finding: FileFinding): DocumentOutcome => ({ ok: false, findings: [finding] });
  const bytes = new TextEncoder().encode(text).length;
  if (bytes > MAX_FILE_BYTES) {
    return refuse(createFinding("file-too-big", { found: String(bytes), limit: String(MAX_FILE_BYTES) }, [], null));
  }
  const lines = new LineCounter();
  const tokens = tokenize(text, lines);
  if (!tokens.ok) {
    return refuse(createFinding("too-deep", { limit: String(MAX_DEPTH) }, [], positionOf(lines, tokens.offset)));
  }
  const parsed = compose(tokens.tokens, text.length);
  if (parsed.syntax.length > 0) {
    return { ok: false, findings: syntaxFindings(parsed.syntax, lines) };
  }
  if (parsed.second !== null) {
    return refuse(createFinding("several-documents", {}, [], positionOf(lines, parsed.second)));
  }
  const contents = parsed.contents;
  if (contents === null || (isScalar(contents) && contents.value === null)) {
    return refuse(createFinding("no-content", {}, [], null));
  }
  return buildTree(contents, lines);
}

/** One for each line: further ones on the same line are mostly its consequences. */
function syntaxFindings(problems: Composed["syntax"], lines: LineCounter): FileFinding[] {
  const findings = problems.map(({ problem, offset }) =>
    createFinding("bad-yaml", { problem }, [], positionOf(lines, offset)),
  );
  return findings.filter((finding, index) => finding.line !== findings[index - 1]?.line);
}

type Tokens = { readonly ok: true; readonly tokens: CST.Token[] } | { readonly ok: false; readonly offset: number };

/** The parser keeps its own stack, so depth can be checked before anything recurses. */
function tokenize(text: string, lines: LineCounter): Tokens {
  const parser = new Parser(lines.addNewLine);
  lines.addNewLine(0);
  const tokens: CST.Token[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    // Beside the collections the stack holds the document and the scalar being read.
    if (parser.stack.length > MAX_DEPTH + 2) return { ok: false, offset: parser.offset };
  }
  for (const token of parser.end()) tokens.push(token);
  return { ok: true, tokens };
}

interface Composed {
  readonly contents: YamlNode | null;
  readonly syntax: readonly { readonly problem: string; readonly offset: number }[];
  /** Where a second document begins. */
  readonly second: number | null;
}

function compose(tokens: readonly CST.Token[], length: number): Composed {
  // Keys are compared one with all by the library; the tree does it faster.
  const composer = new Composer({
    uniqueKeys: false,
    schema: "core",
    merge: false,
    prettyErrors: false,
    logLevel: "silent",
  });
  let first: Document.Parsed | null = null;
  let second: number | null = null;
  // The library makes an Error of every fault, a million in a bad file; without stack traces that takes a second or two.
  const { stackTraceLimit } = Error;
  Error.stackTraceLimit = 0;
  try {
    for (const document of composer.compose(tokens, true, length)) {
      if (first !== null) {
        second = document.range[0];
        break;
      }
      first = document;
    }
  } finally {
    Error.stackTraceLimit = stackTraceLimit;
  }
  // Tags that the library doesn't know are only warnings there; the tree refuses every tag.
  const warnings = first?.warnings.filter((problem) => problem.code !== "TAG_RESOLVE_FAILED") ?? [];
  const problems = [...(first?.errors ?? []), ...warnings].slice(0, MAX_FINDINGS);
  return {
    contents: first?.contents ?? null,
    syntax: problems.map((problem) => ({ problem: problem.message, offset: problem.pos[0] })),
    second,
  };
}

function buildTree(contents: YamlNode, lines: LineCounter): DocumentOutcome {
  const findings: FileFinding[] = [];
  /** "open" while the anchor's own node is being built. */
  const anchors = new Map<string, Node | "open">();
  let overLimit: FileFinding | null = null;

  function report<C extends Code>(code: C, args: ArgsOf<C>, path: Path, offset: number): void {
    if (findings.length < MAX_FINDINGS) findings.push(createFinding(code, args, path, positionOf(lines, offset)));
  }

  /** Aliases repeat nodes without copying them, so that passing a limit costs nothing until someone walks the tree. */
  function measure(children: Iterable<Node>, path: Path, offset: number): { size: number; depth: number } {
    let size = 1;
    let depth = 0;
    for (const child of children) {
      size += child.size;
      depth = Math.max(depth, child.depth);
    }
    const position = positionOf(lines, offset);
    if (size > MAX_VALUES) {
      overLimit ??= createFinding("too-many-values", { limit: String(MAX_VALUES) }, path, position);
    } else if (depth >= MAX_DEPTH) {
      overLimit ??= createFinding("too-deep", { limit: String(MAX_DEPTH) }, path, position);
    }
    return { size, depth: depth + 1 };
  }

  function build(node: YamlNode | null, path: Path, parentOffset: number): Node {
    if (node === null) return emptyScalar(parentOffset);
    const offset = node.range?.[0] ?? parentOffset;
    if (isAlias(node)) return resolve(node.source, path, offset);
    if (node.tag !== undefined) report("bad-tag", { found: node.tag }, path, offset);
    if (node.anchor !== undefined) anchors.set(node.anchor, "open");
    const built = buildOwn(node, path, offset);
    if (node.anchor !== undefined) anchors.set(node.anchor, built);
    return built;
  }

  function buildOwn(node: YamlNode, path: Path, offset: number): Node {
    if (isMap(node)) return buildMap(node, path, offset);
    if (isSeq(node)) return buildList(node, path, offset);
    return isScalar(node) ? buildScalar(node, offset) : emptyScalar(offset);
  }

  function resolve(name: string, path: Path, offset: number): Node {
    const target = anchors.get(name);
    if (target !== undefined && target !== "open") return { ...target, offset };
    report(target === "open" ? "alias-in-itself" : "unknown-alias", { found: name }, path, offset);
    return emptyScalar(offset);
  }

  function buildMap(node: YAMLMap, path: Path, offset: number): MapNode {
    const entries = new Map<string, MapEntry>();
    for (const { key, value } of node.items) {
      const keyOffset = isNode(key) ? (key.range?.[0] ?? offset) : offset;
      const name = isScalar(key) ? keyText(key) : null;
      if (name === null) {
        report("bad-key", {}, path, keyOffset);
        continue;
      }
      const at = [...path, name];
      const before = entries.get(name);
      if (before !== undefined) {
        report("duplicate-key", { found: name, line: String(positionOf(lines, before.keyOffset).line) }, at, keyOffset);
      } else if (name === "<<") {
        report("merge-key", {}, at, keyOffset);
      } else if (name === "__proto__") {
        // Libraries pass over this key for safety, so it would go unnoticed.
        report("bad-name", { found: name }, at, keyOffset);
      } else {
        entries.set(name, { keyOffset, node: build(isNode(value) ? value : null, at, keyOffset) });
      }
    }
    const children = Array.from(entries.values(), (entry) => entry.node);
    return { kind: "map", offset, ...measure(children, path, offset), entries };
  }

  function buildList(node: YAMLSeq, path: Path, offset: number): ListNode {
    const items = node.items.map((item, index) => build(isNode(item) ? item : null, [...path, index], offset));
    return { kind: "list", offset, ...measure(items, path, offset), items };
  }

  const root = build(contents, [], 0);
  if (overLimit !== null) return { ok: false, findings: [overLimit] };
  const place = (offset: number): Position => positionOf(lines, offset);
  return { ok: true, document: { root, locate: locateIn(root, place), positionOf: place, findings } };
}

function buildScalar(node: Scalar, offset: number): ScalarNode {
  const { value } = node;
  const text = composed(node.source ?? String(value ?? ""));
  return { kind: "scalar", offset, size: 1, depth: 0, text, value: coreValue(value, text) };
}

/** A whole number written in an unusual way (007, 0x10) stays text: as a name or a title it means what is written. */
function coreValue(value: unknown, text: string): ScalarNode["value"] {
  if (typeof value === "number") return Number.isSafeInteger(value) && String(value) !== text ? text : value;
  return typeof value === "boolean" || value === null ? value : text;
}

/** `null` for YAML's null, which is no name. A number that is not whole is what other readers make of it. */
function keyText({ value, source }: Scalar): string | null {
  if (value === null) return null;
  return composed(
    source === undefined || (typeof value === "number" && !Number.isSafeInteger(value)) ? String(value) : source,
  );
}

function emptyScalar(offset: number): ScalarNode {
  return { kind: "scalar", offset, size: 1, depth: 0, text: "", value: null };
}

function positionOf(lines: LineCounter, offset: number): Position {
  const { line, col } = lines.linePos(offset);
  return { line, column: col };
}

export function childOf(node: Node | undefined, step: string | number): Node | undefined {
  if (node?.kind === "map") return node.entries.get(String(step))?.node;
  return node?.kind === "list" && typeof step === "number" ? node.items[step] : undefined;
}

export function nodeAt(root: Node, path: Path): Node | undefined {
  let node: Node | undefined = root;
  for (const step of path) node = childOf(node, step);
  return node;
}

/** The keys of a map, faulty entries included. */
export function keysAt(root: Node, path: Path): string[] {
  const node = nodeAt(root, path);
  return node?.kind === "map" ? [...node.entries.keys()] : [];
}

export function locateIn(root: Node, place: (offset: number) => Position): Locate {
  return (path, at = "value") => {
    let node = root;
    let offset = root.offset;
    for (const [index, step] of path.entries()) {
      const child = childOf(node, step);
      if (child === undefined) break;
      const keyOffset = node.kind === "map" ? node.entries.get(String(step))?.keyOffset : undefined;
      const isValue = at === "value" && index === path.length - 1 && child.kind === "scalar" && child.text !== "";
      offset = isValue || keyOffset === undefined ? child.offset : keyOffset;
      node = child;
    }
    return place(offset);
  };
}
