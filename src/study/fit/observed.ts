/** Observed counts read from comma-separated values, or everything that is wrong with them. */
import { approximate, type Rational, ratio, rational, whole } from "../../quantity/rational.ts";
import { collectFindings, type FileFinding, type FileFindings, type Position } from "../../scenario/file-finding.ts";
import { composed, MAX_HORIZON_MIN } from "../../scenario/file-limits.ts";
import { nearest } from "../../scenario/nearest.ts";
import type { Targets } from "./targets.ts";

export interface Observed {
  /** Rising. */
  readonly timesMin: readonly Rational[];
  readonly series: readonly ObservedSeries[];
}

export interface ObservedSeries {
  readonly name: string;
  /** One for each time; `null` where none was taken. */
  readonly counts: readonly (number | null)[];
}

export type ObservedOutcome =
  | { readonly ok: true; readonly observed: Observed }
  | { readonly ok: false; readonly findings: readonly FileFinding[] };

const MOST_ROWS = 2_000;
const MOST_SERIES = 200;
const TIME_UNITS: ReadonlyMap<string, Rational> = new Map([
  ["time_min", whole(1)],
  ["time_s", ratio(1n, 60n)],
  ["time_h", whole(60)],
  ["time_ms", ratio(1n, 60_000n)],
]);
/** No sign, no exponent. */
const NUMBER = /^\d{1,15}(?:\.\d{1,9})?$/;

/** @param horizonMin of the scenario, beyond which nothing is simulated */
export function readObserved(text: string, targets: Targets, horizonMin = MAX_HORIZON_MIN): ObservedOutcome {
  let place: Position | null = null;
  const findings = collectFindings(() => place);
  const at = ({ line, column }: TextCell): readonly [] => {
    place = { line, column };
    return [];
  };
  const { rows, open } = readCells(composed(text));
  const [header, ...body] = rows;
  const first = header?.[0];
  const observed = (): Observed | null => {
    if (header === undefined || first === undefined) return report(findings, "observed-empty");
    if (open !== null) findings.report("observed-quote", {}, at(open));
    if (header.length === 1 && first.text.includes(";")) {
      findings.report("observed-semicolons", {}, at(first));
      return null;
    }
    if (body.length > MOST_ROWS || header.length > MOST_SERIES + 1) {
      const [what, limit] = body.length > MOST_ROWS ? ["rows", MOST_ROWS] : ["columns", MOST_SERIES + 1];
      findings.report("observed-too-many", { what: String(what), limit: String(limit) }, at(first));
      return null;
    }
    const unit = TIME_UNITS.get(first.text);
    if (unit === undefined) findings.report("observed-no-time", { found: first.text }, at(first));
    const names = namesIn(header.slice(1), targets, findings, at);
    if (body.length === 0) findings.report("observed-no-rows", {}, at(first));
    const even = body.filter((row) => {
      if (row.length === header.length) return true;
      const counts = { found: String(row.length), expected: String(header.length) };
      if (row[0] !== undefined) findings.report("observed-cells", counts, at(row[0]));
      return false;
    });
    const timesMin = timesIn(even, unit ?? whole(1), horizonMin, findings, at);
    const counts = header.slice(1).map((_, s) => even.map((row) => countIn(row[s + 1], findings, at)));
    for (const [s, head] of header.slice(1).entries()) {
      if (targets.known.get(head.text)?.isTotal)
        noFall(
          head.text,
          even.map((row) => row[s + 1]),
          counts[s] ?? [],
          findings,
          at,
        );
      const isEmpty = even.every((row) => row[s + 1]?.text === "");
      if (even.length > 0 && isEmpty) findings.report("observed-no-counts", { found: head.text }, at(head));
    }
    return { timesMin, series: names.map((name, s) => ({ name, counts: counts[s] ?? [] })) };
  };
  const read = observed();
  return read === null || findings.hasErrors()
    ? { ok: false, findings: findings.list() }
    : { ok: true, observed: read };
}

type At = (cell: TextCell) => readonly [];

function report(findings: FileFindings, code: "observed-empty"): null {
  findings.report(code, {}, []);
  return null;
}

/** The full names, in the order of the columns. */
function namesIn(heads: readonly TextCell[], { known, ambiguous }: Targets, findings: FileFindings, at: At): string[] {
  const [example = ""] = [...known.keys()].filter((name) => name.endsWith(".made"));
  if (heads.length === 0) findings.report("observed-empty", {}, []);
  const taken = new Set<string>();
  return heads.map((head) => {
    const name = head.text;
    const kinds = ambiguous.get(name);
    if (kinds !== undefined) {
      findings.report("observed-which-kind", { found: name, known: kinds.join(" or ") }, at(head));
    } else if (!known.has(name)) {
      const names = [...known.keys(), ...ambiguous.keys()];
      findings.report("observed-unknown", { found: name, nearest: nearest(name, names), example }, at(head));
    } else if (taken.has(name)) findings.report("observed-twice", { found: name }, at(head));
    taken.add(name);
    return name;
  });
}

function timesIn(
  rows: readonly (readonly TextCell[])[],
  unit: Rational,
  horizonMin: Rational,
  findings: FileFindings,
  at: At,
): Rational[] {
  let before: { readonly time: Rational; readonly text: string } | null = null;
  return rows.flatMap(([cell]) => {
    if (cell === undefined) return [];
    const time = NUMBER.test(cell.text) ? rational(cell.text).mul(unit) : null;
    if (time === null || time.compare(MAX_HORIZON_MIN) > 0) {
      findings.report("observed-bad-time", { found: cell.text }, at(cell));
      return [];
    }
    if (before !== null && time.compare(before.time) <= 0) {
      findings.report("observed-time-order", { found: cell.text, before: before.text }, at(cell));
    }
    if (time.compare(horizonMin) > 0) {
      const horizon = `${approximate(horizonMin)} min`;
      findings.report("observed-beyond-horizon", { found: cell.text, horizon }, at(cell));
    }
    before = { time, text: cell.text };
    return [time];
  });
}

/** Of what is counted from the start. */
function noFall(
  name: string,
  cells: readonly (TextCell | undefined)[],
  counts: readonly (number | null)[],
  findings: FileFindings,
  at: At,
): void {
  let most: number | null = null;
  for (const [row, count] of counts.entries()) {
    const cell = cells[row];
    if (count === null || cell === undefined) continue;
    if (most !== null && count < most) {
      findings.report("observed-falls", { found: cell.text, before: String(most), name }, at(cell));
    }
    most = Math.max(most ?? 0, count);
  }
}

function countIn(cell: TextCell | undefined, findings: FileFindings, at: At): number | null {
  if (cell === undefined || cell.text === "") return null;
  if (NUMBER.test(cell.text)) return Number(cell.text);
  findings.report("observed-bad-count", { found: cell.text }, at(cell));
  return null;
}

/** The cells of comma-separated values as RFC 4180 has them, each with its place. */
export interface TextCell {
  /** Without spaces around it, quotation marks resolved. */
  readonly text: string;
  /** From 1; the column counts characters. */
  readonly line: number;
  readonly column: number;
}

export interface Cells {
  /** Rows that hold anything; lines that begin with "#" are remarks. */
  readonly rows: readonly (readonly TextCell[])[];
  /** Where a quotation mark is not closed. */
  readonly open: TextCell | null;
}

function readCells(given: string): Cells {
  const rows: TextCell[][] = [];
  let open: TextCell | null = null;
  // Spreadsheets put a mark before UTF-8.
  const lines = given.replace(/^\ufeff/, "").split(/\r\n|\n|\r/);
  for (const [index, text] of lines.entries()) {
    if (text.trim() === "" || text.startsWith("#")) continue;
    const row = cellsOf(text, index + 1);
    rows.push(row.cells);
    open ??= row.open;
  }
  return { rows, open };
}

/** No cell of ours holds a line break, so that a line is a row. */
function cellsOf(text: string, line: number): { readonly cells: TextCell[]; readonly open: TextCell | null } {
  const cells: TextCell[] = [];
  let open: TextCell | null = null;
  for (let at = 0; at <= text.length; ) {
    const [cell = ""] = /^\s*"(?:[^"]|"")*"\s*(?=,|$)|^[^,]*/.exec(text.slice(at)) ?? [];
    const inner = cell.trim();
    const isQuoted = inner.length > 1 && inner.startsWith('"') && inner.endsWith('"');
    const plain = isQuoted ? inner.slice(1, -1).replaceAll('""', '"').trim() : inner;
    const placed = { text: plain, line, column: at + 1 + (cell.length - cell.trimStart().length) };
    if (!isQuoted && inner.includes('"')) open ??= placed;
    cells.push(placed);
    at += cell.length + 1;
  }
  return { cells, open };
}
