/** Tables that stand for a file's machines: `machines: { from: machines.csv }`, alone or beside others. */
import { childOf, type DocumentOutcome, locateIn, type MapEntry, type Node, type TextDocument } from "./document.ts";
import { createFinding, type FileFinding, type Position } from "./file-finding.ts";
import { mapOf, withKey } from "./nodes.ts";
import { type Cell, type TableRows, treeOf } from "./table.ts";

/** By name as the file has it. */
export type Tables = ReadonlyMap<string, TableRows>;

/** The table that a file takes its machines from; `null` where it takes none. */
export function tableNamed(root: Node): string | null {
  const from = childOf(childOf(root, "machines"), "from");
  return from?.kind === "scalar" && typeof from.value === "string" && /\.(?:csv|xlsx)$/i.test(from.text)
    ? from.text
    : null;
}

/**
 * @param length of the file's text: places beyond it are cells
 * @returns a refusal where there is no table to speak of, so that nothing else is said about machines that it may hold
 */
export function withTables(document: TextDocument, tables: Tables, length: number): DocumentOutcome {
  const { root } = document;
  const name = tableNamed(root);
  const machines = childOf(root, "machines");
  if (name === null || root.kind !== "map" || machines?.kind !== "map") return { ok: true, document };
  const rows = tables.get(name);
  if (rows === undefined) {
    const place = document.locate(["machines", "from"]);
    return { ok: false, findings: [createFinding("table-unread", { found: name }, ["machines", "from"], place)] };
  }
  const cells: Cell[] = [];
  const offsetOf = (cell: Cell): number => length + cells.push(cell);
  const { entries, problems } = treeOf(rows, offsetOf);
  const placeOf = ({ row, column }: Cell): Position => ({ line: row, column, file: name });
  const found = problems.map(({ finding, cell }) => finding(placeOf(cell)));
  if (entries.size === 0) return { ok: false, findings: found };
  const expanded: [string, MapEntry][] = [];
  const twice: FileFinding[] = [];
  for (const [key, entry] of machines.entries) {
    if (key === "from") expanded.push(...entries);
    else expanded.push([key, entry]);
    const own = entries.get(key);
    if (own === undefined || key === "from") continue;
    const cell = cells[own.keyOffset - length - 1] ?? { row: 1, column: 1 };
    twice.push(createFinding("table-and-file", { found: key }, ["machines", key], placeOf(cell)));
  }
  const withMachines = withKey(root, "machines", mapOf(new Map(expanded), machines.offset));
  const positionOf = (offset: number): Position => {
    const cell = cells[offset - length - 1];
    return cell === undefined ? document.positionOf(offset) : placeOf(cell);
  };
  const findings = [...document.findings, ...found, ...twice];
  const locate = locateIn(withMachines, positionOf);
  return { ok: true, document: { root: withMachines, positionOf, locate, findings } };
}
