/** Comma-separated values as RFC 4180 has them: records end in CRLF, cells are quoted where they must be. */

export type Cell = string | number | null;

/** @returns `null` cells are empty */
export function csv(rows: readonly (readonly Cell[])[]): string {
  return rows.map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
}

export function yesNo(value: boolean | null): Cell {
  return value === null ? null : value ? "yes" : "no";
}

function cellText(cell: Cell): string {
  if (cell === null) return "";
  return typeof cell === "number" ? numberText(cell) : quoted(harmless(cell));
}

/** At most six decimals, which is 60 µs in minutes. */
function numberText(value: number): string {
  if (Number.isInteger(value)) return String(value);
  if (!Number.isFinite(value)) return "";
  const rounded = Number(value.toFixed(6));
  return rounded === 0 ? "0" : String(rounded);
}

/** Spreadsheets run text that begins like a formula (OWASP, "CSV Injection"); an apostrophe makes them show it. */
function harmless(text: string): string {
  return /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
