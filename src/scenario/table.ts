/**
 * A table of machines, one row each, as a spreadsheet has it: rows of texts, whatever file they come from. It becomes the part
 * of the scenario that it stands for, so that all checks of the reader hold for it; what they find is told by its cell.
 */
import type { MapEntry, Node, ScalarNode } from "./document.ts";
import { createFinding, type FileFinding, type Position } from "./file-finding.ts";
import { composed } from "./file-limits.ts";
import type { ArgsOf } from "./messages.ts";
import { mapOf } from "./nodes.ts";
import type { TABLE_MESSAGES } from "./table-messages.ts";

export type TableRows = readonly (readonly string[])[];

/** Of a cell, or of the cell that a missing one would be told by; rows and columns from 1. */
export interface Cell {
  readonly row: number;
  readonly column: number;
}

/** What is wrong with the table itself, once its place is known. */
export interface TableProblem {
  readonly cell: Cell;
  readonly finding: (place: Position) => FileFinding;
}

function problem<C extends keyof typeof TABLE_MESSAGES>(code: C, args: ArgsOf<C>, cell: Cell): TableProblem {
  return { cell, finding: (place) => createFinding(code, args, ["machines"], place) };
}

interface Column {
  readonly key: Key;
  /** In the header, for cells that state none. */
  readonly unit: string;
}

type Key = "name" | "count" | "cycle" | "takes" | "makes" | "infeed" | "outfeed" | "speed";

/** What a column may be called, the first the name by which it is told. */
const HEADERS: Readonly<Record<Key, readonly string[]>> = {
  name: ["name", "machine", "machines", "group"],
  count: ["count", "number", "quantity"],
  cycle: ["cycle", "cycle time"],
  takes: ["takes", "takes per cycle", "input"],
  makes: ["makes", "makes per cycle", "output"],
  infeed: ["room", "infeed", "infeed room"],
  outfeed: ["outfeed", "outfeed room"],
  speed: ["speed"],
};

export const COLUMNS: readonly string[] = Object.values(HEADERS).map(([first = ""]) => first);

export interface TableTree {
  readonly entries: ReadonlyMap<string, MapEntry>;
  readonly problems: readonly TableProblem[];
}

/** @param offsetOf where a cell is said to stand in the file */
export function treeOf(given: TableRows, offsetOf: (cell: Cell) => number): TableTree {
  const rows = given.map((row) => row.map(composed));
  const problems: TableProblem[] = [];
  const entries = new Map<string, MapEntry>();
  const head = rows.findIndex((row) => row.some(isNamed("name")) && row.some(isNamed("cycle")));
  if (head < 0) {
    problems.push(problem("table-header", { known: COLUMNS.join(", ") }, { row: 1, column: 1 }));
    return { entries, problems };
  }
  const columns = (rows[head] ?? []).map((text, index): Column | null => {
    const column = columnOf(text);
    if (column === null && text.trim() !== "") {
      const args = { found: text.trim(), known: COLUMNS.join(", ") };
      problems.push(problem("table-column", args, { row: head + 1, column: index + 1 }));
    }
    return column;
  });
  const nameAt = columns.findIndex((column) => column?.key === "name");
  const seen = new Map<string, number>();
  for (const [below, cells] of rows.slice(head + 1).entries()) {
    const row = head + 2 + below;
    // What stands beside the table is no part of it.
    const own = columns.map((column, index) => (column === null ? "" : (cells[index] ?? "").trim()));
    if (own.every((text) => text === "")) continue;
    const cell = { row, column: nameAt + 1 };
    const name = own[nameAt] ?? "";
    if (name === "") {
      problems.push(problem("table-nameless", { found: own.find((text) => text !== "") ?? "" }, cell));
    } else if (seen.has(name)) {
      problems.push(problem("table-twice", { found: name, row: String(seen.get(name)) }, cell));
    } else {
      seen.set(name, row);
      entries.set(name, { keyOffset: offsetOf(cell), node: machineOf(own, columns, row, offsetOf, problems) });
    }
  }
  if (entries.size === 0 && problems.length === 0) {
    problems.push(problem("table-empty", { found: String(head + 1) }, { row: head + 1, column: nameAt + 1 }));
  }
  return { entries, problems };
}

function machineOf(
  texts: readonly string[],
  columns: readonly (Column | null)[],
  row: number,
  offsetOf: (cell: Cell) => number,
  problems: TableProblem[],
): Node {
  const keys = new Map<string, MapEntry>();
  for (const [index, column] of columns.entries()) {
    const text = texts[index] ?? "";
    if (column === null || column.key === "name" || text === "") continue;
    const cell = { row, column: index + 1 };
    const offset = offsetOf(cell);
    const isCounts = ["takes", "makes", "infeed", "outfeed"].includes(column.key);
    if (!isCounts && ambiguous(text)) {
      const args = { found: text, point: text.replace(",", "."), whole: text.replace(",", "") };
      problems.push(problem("table-number", args, cell));
      continue;
    }
    const node = isCounts ? countsOf(text, offset, column.key) : scalarOf(withUnit(text, column), offset);
    keys.set(column.key, { keyOffset: offset, node });
  }
  return mapOf(keys, offsetOf({ row, column: 1 + columns.findIndex((column) => column?.key === "name") }));
}

/** "cycle [s]", "cycle (s)", "cycle, s", "cycle in s", "cycle_s". */
function columnOf(header: string): Column | null {
  const text = header.trim().toLowerCase().replace(/\s+/g, " ");
  const parts = /^(.*?)(?: ?[[(] ?(.*?) ?[\])]|, ?(\S+)| in (\S+)|_(s|ms|min|h))?$/.exec(text);
  const name = (parts?.[1] ?? "").replaceAll("_", " ");
  const unit = parts?.slice(2).find((part) => part !== undefined) ?? "";
  for (const key of KEYS)
    if (HEADERS[key].includes(name)) return { key, unit: key === "cycle" || key === "speed" ? unit : "" };
  return null;
}

const KEYS: readonly Key[] = ["name", "count", "cycle", "takes", "makes", "infeed", "outfeed", "speed"];

function isNamed(key: Key): (header: string) => boolean {
  return (header) => columnOf(header)?.key === key;
}

const NUMBER = "[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?";

/** "1,500" is one and a half to some, and fifteen hundred to others. */
function ambiguous(text: string): boolean {
  return /^[1-9][0-9]{0,2},[0-9]{3}(?![0-9,.])/.test(text);
}

/** Spreadsheets write decimals as their country does; a bare number has the unit of its column. */
function withUnit(text: string, { unit }: Column): string {
  const match = new RegExp(`^(${NUMBER})\\s*(.*)$`).exec(text);
  if (match === null) return text;
  const number = (match[1] ?? "").replace(",", ".");
  const own = match[2] || unit;
  return own === "" ? number : `${number} ${own}`;
}

/** "pouch", "2 pouch", "pouch: 2, lid: 1", "2 × pouch + lid"; of a room a bare number, too. */
function countsOf(text: string, offset: number, key: Key): Node {
  const isRoom = key === "infeed" || key === "outfeed";
  if (isRoom && /^[0-9]+$/.test(text)) return scalarOf(text, offset);
  const entries = new Map<string, MapEntry>();
  for (const part of text.split(/[;,+\n]/)) {
    const one = part.trim();
    const [, before, first, second, after] =
      /^(?:([0-9]+)\s*[x×*]?\s+(\S+)|(\S+?)(?:\s*[:=]\s*|\s+)([0-9]+))$/i.exec(one) ?? [];
    const name = first ?? second ?? one;
    if (one === "") continue;
    entries.set(name, { keyOffset: offset, node: scalarOf(before ?? after ?? "1", offset) });
  }
  return mapOf(entries, offset);
}

function scalarOf(text: string, offset: number): ScalarNode {
  const value = /^(?:0|[1-9][0-9]{0,14})$/.test(text) ? Number(text) : text;
  return { kind: "scalar", offset, size: 1, depth: 0, text, value };
}
