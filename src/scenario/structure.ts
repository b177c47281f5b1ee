/**
 * Checks a document against the shapes and turns what they refuse into findings. What is wrong is then left out and the
 * rest handed on, so that one reading of a file shows every error.
 */
import type * as z from "zod/mini";
import { CURRENCIES } from "../quantity/currencies.ts";
import { isPer, type MoneyProblem, parseMoney } from "../quantity/money.ts";
import { parseQuantity, type QuantityKind } from "../quantity/units.ts";
import { type Node, nodeAt, type ScalarNode } from "./document.ts";
import type { FileFindings, Path } from "./file-finding.ts";
import { FOUND } from "./messages.ts";
import { decimalInTwo, halvedDecimals, mistypedKeys, plainPath } from "./mistyped.ts";
import { nearest } from "./nearest.ts";
import { plainData } from "./plain-data.ts";
import { type Issue, isRecord, shaped } from "./shape-issues.ts";
import type { RawScenario } from "./shapes.ts";

/** @returns the scenario less its faulty parts; `null` if nothing can be made of it */
export function checkStructure(root: Node, findings: FileFindings): RawScenario | null {
  const data = plainData(root);
  if (!isRecord(data)) {
    findings.report("wrong-type", { found: found(root), expected: "map" }, []);
    return null;
  }
  // A plant may do without machines where it has outlets.
  if (isRecord(data.outlets) && Object.keys(data.outlets).length > 0) data.machines ??= {};
  const first = shaped(data);
  if (first.raw !== null) return first.raw;
  const mistyped = mistypedKeys(first.issues);
  const halves = halvedDecimals(first.issues, root);
  for (const issue of first.issues) {
    const path = plainPath(issue.path);
    // What was left empty by an unknown alias, say, has been reported.
    const known = issue.code !== "unrecognized_keys" && findings.damaged(path);
    const echo = mistyped.has(JSON.stringify(path)) && nodeAt(root, path) === undefined;
    if (!known && !echo && !halves.has(JSON.stringify(path))) reportIssue(issue, [], root, findings);
  }
  // Never hand on less than the file says without a word.
  if (!findings.hasErrors()) findings.report("wrong-type", { found: found(root), expected: "map" }, []);

  if (!first.areAll) return null;
  // Leave out the faulty values; then, where one of them was needed, the entry; then the section's entry.
  let { issues } = first;
  for (const widen of [(path: Path) => path, entryOf, sectionEntryOf]) {
    for (const issue of issues) for (const path of faultyPaths(issue)) remove(data, widen(path));
    for (const issue of first.issues) standIn(issue, data);
    for (const section of ["feeds", "machines", "lines"]) data[section] ??= {};
    const again = shaped(data);
    if (again.raw !== null) return again.raw;
    issues = again.issues;
  }
  return null;
}

/** Where a line's belt is missing, the rest of the line can be checked all the same. */
function standIn({ path: [section, id, key, ...beneath] }: Issue, { lines }: Record<string, unknown>): void {
  if (section !== "lines" || key !== "belt" || beneath.length > 0 || !isRecord(lines)) return;
  const line = lines[String(id)];
  if (isRecord(line) && line.belt === undefined) line.belt = "none";
}

function faultyPaths(issue: Issue): Path[] {
  const path = plainPath(issue.path);
  if (issue.code === "unrecognized_keys") return issue.keys.map((key) => [...path, key]);
  // Leaving out one element of a list would renumber the others.
  const list = path.findIndex((step) => typeof step === "number");
  return [list < 0 ? path : path.slice(0, list)];
}

/** A custom line's belt, divider or merge; else the feed, machine, line or outlet. */
function entryOf(path: Path): Path {
  return path[0] === "lines" && path.length > 4 ? path.slice(0, 4) : sectionEntryOf(path);
}

function sectionEntryOf(path: Path): Path {
  return path.slice(0, 2);
}

function remove(data: Record<string, unknown>, path: Path): void {
  let holder: unknown = data;
  for (const step of path.slice(0, -1)) holder = isRecord(holder) ? holder[step] : undefined;
  const last = path.at(-1);
  if (isRecord(holder) && last !== undefined) delete holder[last];
}

function reportIssue(issue: Issue, base: Path, root: Node, findings: FileFindings): void {
  const path = [...base, ...plainPath(issue.path)];
  const node = nodeAt(root, path);
  const key = path.at(-1);
  if (node === undefined) {
    // A belt that is stood in for is known as damaged.
    const at = key === "belt" ? path : path.slice(0, -1);
    findings.report("missing-key", { key: String(key), expected: expectedBy(issue) }, at);
    return;
  }
  switch (issue.code) {
    case "unrecognized_keys":
      for (const unknown of issue.keys) {
        const right = decimalInTwo(node, unknown);
        if (right === null) reportUnknownKey(unknown, issue.message, path, findings);
        else findings.report("comma-between", { right }, [...path, unknown], "key");
      }
      return;
    case "invalid_key":
      findings.report("bad-name", { found: String(key) }, path, "key");
      return;
    case "invalid_union": {
      if (issue.errors.length === 0) {
        reportWord(node, issue.message, discriminatorValues(issue), path, findings);
        return;
      }
      const branches = issue.errors.filter((branch) => !branch.some(refusesOutright));
      if (branches.length === 1 && branches[0] !== undefined) {
        for (const inner of branches[0]) reportIssue(inner, path, root, findings);
        return;
      }
      break;
    }
    case "invalid_value":
      reportWord(node, issue.message, issue.values.map(String), path, findings);
      return;
    case "too_small":
      if (node.kind !== "list") break;
      findings.report("empty", { expected: issue.message }, path);
      return;
    case "too_big":
      // Beyond the safe integers the library complains twice; the limit proper comes second.
      if (issue.message === "count" && issue.maximum === Number.MAX_SAFE_INTEGER) return;
      findings.report("too-large", { found: written(node), limit: String(issue.maximum) }, path);
      return;
    case "custom":
      reportQuantity(issue, node, path, findings);
      return;
    default:
  }
  reportValue(expectedBy(issue), node, path, findings);
}

/** True if the issue says that a union's branch was never meant, rather than meant and done wrong. */
function refusesOutright(issue: Issue): boolean {
  return (
    issue.path.length === 0 && ["invalid_type", "invalid_value", "invalid_union", "invalid_format"].includes(issue.code)
  );
}

function discriminatorValues(issue: z.core.$ZodIssueInvalidUnion): string[] {
  return "options" in issue && Array.isArray(issue.options) ? issue.options.map(String) : [];
}

function expectedBy(issue: Issue): string {
  return issue.code === "unrecognized_keys" ? "map" : issue.message;
}

function reportUnknownKey(key: string, known: string, path: Path, findings: FileFindings): void {
  const at = [...path, key];
  findings.report("unknown-key", { found: key, nearest: nearest(key, known.split(", ")), known }, at, "key");
}

function reportWord(node: Node, expected: string, known: readonly string[], path: Path, findings: FileFindings): void {
  if (node.kind !== "scalar" || node.value === null) {
    findings.report(
      "wrong-type",
      { found: found(node), expected: expected === "word" ? known.join(", ") : expected },
      path,
    );
  } else {
    const args = { found: node.text, nearest: nearest(node.text, known), known: known.join(", ") };
    findings.report("unknown-word", args, path);
  }
}

function reportQuantity(issue: z.core.$ZodIssueCustom, node: Node, path: Path, findings: FileFindings): void {
  const text = { found: written(node) };
  if (issue.message === "zero") findings.report("zero", text, path);
  else if (issue.message === "too-many-digits") findings.report("too-many-digits", text, path);
  else if (issue.message === "out-of-range") {
    findings.report("out-of-range", { ...text, range: String(issue.params?.range) }, path);
  } else if (issue.message === "unknown-currency") {
    reportCurrency(text.found, String(issue.params?.currency), path, findings);
  } else findings.report("too-large", { ...text, limit: String(issue.params?.limit) }, path);
}

/** A scalar, map or list that is not what its place holds. */
function reportValue(expected: string, node: Node, path: Path, findings: FileFindings): void {
  if (node.kind === "list" && node.items.length === 0 && expected === "names") {
    findings.report("empty", { expected }, path);
    return;
  }
  if (node.kind === "scalar" && node.value !== null) {
    if (reportScalar(expected, node, path, findings)) return;
  }
  findings.report("wrong-type", { found: found(node), expected }, path);
}

const SCALAR_KINDS: ReadonlyMap<string, QuantityKind> = new Map([
  ["rate", "rate"],
  ["duration", "duration"],
  ["tick", "duration"],
  ["feed-rate", "rate"],
  ["horizon", "duration"],
  ["hold-until", "duration"],
  ["tail-until", "duration"],
  ["for-good", "duration"],
  ["dwell", "duration"],
  ["length", "length"],
  ["speed", "speed"],
  ["percentage", "percentage"],
  ["percentages", "percentage"],
  ["frequency", "frequency"],
  ["times", "duration"],
  ["shares", "percentage"],
]);

/** Places that hold a quantity or a word. */
const OR_A_WORD = new Set(["tick", "feed-rate", "horizon", "hold-until", "tail-until", "for-good", "times", "shares"]);

/** What only a steady feed's rate may be. */
const NEED = /^as needed$|of need$/;

const NAMES = new Set(["name", "names", "end"]);

const COUNTS = new Set(["count", "counts", "amount", "prefill"]);

/** @returns false if there is nothing better to say than that something else was expected */
function reportScalar(expected: string, node: ScalarNode, path: Path, findings: FileFindings): boolean {
  const text = node.text;
  const kind = SCALAR_KINDS.get(expected);
  if (kind !== undefined) {
    const parsed = parseQuantity(kind, text);
    if (expected === "rate" && NEED.test(text)) {
      findings.report("need-steady", { found: text }, path);
      return true;
    }
    if (expected === "feed-rate" && /%|need/.test(text)) return false;
    if (parsed.ok || (OR_A_WORD.has(expected) && parsed.problem === "no-number")) return false;
    reportProblem(kind, text, parsed, path, findings);
    return true;
  }
  if (isPer(expected)) {
    const parsed = parseMoney(expected, text);
    if (parsed.ok) return false;
    reportProblem(expected, text, parsed, path, findings);
    return true;
  }
  if (NAMES.has(expected) && typeof node.value !== "boolean") {
    findings.report("bad-name", { found: text }, path);
    return true;
  }
  if (COUNTS.has(expected) && typeof node.value === "number") {
    if (node.value < 0) findings.report("negative", { found: text }, path);
    else if (node.value === 0) findings.report("zero", { found: text }, path);
    else return false;
    return true;
  }
  return false;
}

function reportCurrency(text: string, currency: string, path: Path, findings: FileFindings): void {
  const args = { found: text, currency, nearest: nearest(currency, CURRENCIES.keys()) };
  findings.report("unknown-currency", args, path);
}

/** @param kind of quantity, or what an amount of money is for */
function reportProblem(kind: string, text: string, problem: MoneyProblem, path: Path, findings: FileFindings): void {
  switch (problem.problem) {
    case "unknown-currency":
      reportCurrency(text, problem.currency, path, findings);
      return;
    case "unknown-unit":
      findings.report("unknown-unit", { found: text, unit: problem.unit, kind }, path);
      return;
    case "decimal-comma":
      findings.report("decimal-comma", { found: text, right: problem.right }, path);
      return;
    case "missing-unit":
    case "missing-currency":
    case "no-number":
      findings.report(problem.problem, { found: text, kind }, path);
      return;
    case "negative":
    case "too-many-digits":
      findings.report(problem.problem, { found: text }, path);
  }
}

function found(node: Node): string {
  if (node.kind === "map") return FOUND.map;
  if (node.kind === "list") return FOUND.list;
  return node.value === null ? FOUND.nothing : FOUND.text(node.text);
}

function written(node: Node): string {
  return node.kind === "scalar" ? node.text : found(node);
}
