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

export function readCells(given: string): Cells {
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
