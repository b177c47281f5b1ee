/** Tables of machines from files: CSV and workbooks. Values only: formulas are not worked out, links not followed. */
import { dirname, extname, isAbsolute, join } from "node:path";
import { type TableRows, type Tables, tableOf } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { bytesOf, textFrom } from "./input.ts";

const MOST_BYTES = 4 * 1024 * 1024;
/** Of a workbook once unpacked. */
const MOST_UNPACKED = 100 * 1024 * 1024;
const MOST_ROWS = 25_000;
const MOST_COLUMNS = 50;

/** The tables that a scenario names, by the names it has for them, beside the scenario's own file. @throws RefusedError */
export async function tablesFor(file: string, text: string): Promise<Tables> {
  const name = tableOf(text);
  if (name === null) return new Map();
  const folder = file === "-" ? "." : dirname(file);
  return new Map([[name, await readTable(isAbsolute(name) ? name : join(folder, name))]]);
}

export function isTable(file: string): boolean {
  return /^\.(?:csv|xlsx)$/i.test(extname(file));
}

/** @throws RefusedError */
export async function readTable(file: string): Promise<TableRows> {
  const bytes = await bytesOf(file, MOST_BYTES);
  if (bytes === null) throw new RefusedError(`${file}: a table has at most ${MOST_BYTES} bytes; this is longer`);
  const rows = extname(file).toLowerCase() === ".xlsx" ? await workbookRows(file, bytes) : await csvRows(file, bytes);
  if (rows.length > MOST_ROWS) throw new RefusedError(`${file}: a table has at most ${MOST_ROWS} rows; this has more`);
  return rows.map((row) => row.slice(0, MOST_COLUMNS));
}

async function csvRows(file: string, bytes: Uint8Array): Promise<TableRows> {
  const text = textFrom(file, bytes);
  const { parseCsv } = await import("hucre/csv");
  return parseCsv(text, { delimiter: delimiterOf(text) }).map((row) => row.map(String));
}

/** The one that there is most of outside of quotes, in the line that has most of any. */
function delimiterOf(text: string): string {
  const lines = text
    .replaceAll(/"[^"]*"/g, "")
    .split("\n")
    .slice(0, 50);
  const counts = [";", "\t", ","].map((delimiter) => ({
    delimiter,
    count: Math.max(...lines.map((line) => line.split(delimiter).length - 1)),
  }));
  // Of as many the first: a comma may stand within decimals.
  return counts.reduce((best, one) => (one.count > best.count ? one : best)).delimiter;
}

async function workbookRows(file: string, bytes: Uint8Array): Promise<TableRows> {
  const unpacked = unpackedSize(bytes);
  if (unpacked === null) throw new RefusedError(`${file}: not a workbook; save it as .xlsx, or as CSV`);
  if (unpacked > MOST_UNPACKED) throw new RefusedError(`${file}: unpacked it has more than ${MOST_UNPACKED} bytes`);
  const { readXlsx } = await import("hucre/xlsx");
  const read = readXlsx(bytes, { sheets: [0], readStyles: true, maxRows: MOST_ROWS + 1, range: "A1:AX30000" });
  const sheet = await read.then(
    ({ sheets }) => sheets[0],
    (error: unknown) => {
      throw new RefusedError(
        `${file}: not a workbook that can be read: ${error instanceof Error ? error.message : error}`,
      );
    },
  );
  if (sheet === undefined) throw new RefusedError(`${file}: the workbook has no sheet`);
  const rows = sheet.rows.map((row, r) =>
    row.map((value, c) => {
      const cell = sheet.cells?.get(`${r},${c}`);
      if (cell?.formula !== undefined && (value === null || value === "")) {
        const at = `${String.fromCharCode(65 + (c % 26))}${r + 1}`;
        throw new RefusedError(
          `${file}, cell ${at}: a formula without a stored value, and formulas are not worked out here; save the workbook in a spreadsheet program, or write the value`,
        );
      }
      return cellText(value, cell?.style?.numFmt ?? "");
    }),
  );
  // What a merged cell says holds for all rows and columns that it covers.
  for (const { startRow, startCol, endRow, endCol } of sheet.merges ?? []) {
    const text = rows[startRow]?.[startCol] ?? "";
    for (let r = startRow; r <= Math.min(endRow, rows.length - 1); r++) {
      const row = rows[r] ?? [];
      // Across, it is a heading or a remark.
      if (startCol === endCol) for (let c = row.length; c <= startCol; c++) row[c] = "";
      if (startCol === endCol) row[startCol] = text;
    }
  }
  return rows;
}

/** Fifteen digits are what a spreadsheet shows of a number; the others are the rounding of its binary form. */
function cellText(value: string | number | boolean | Date | null, format: string): string {
  if (value === null) return "";
  if (value instanceof Date) return value.toISOString().slice(0, 10);
  if (typeof value !== "number") return String(value);
  const digits = (number: number): string => String(Number(number.toPrecision(15)));
  return format.includes("%") ? `${digits(value * 100)} %` : digits(value);
}

/** As a ZIP archive's directory states it; `null` where there is none. (PKWARE, .ZIP File Format Specification, 4.3.12.) */
function unpackedSize(bytes: Uint8Array): number | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let size = 0;
  let entries = 0;
  for (let at = 0; at + 46 <= bytes.length; at++) {
    if (bytes[at] !== 0x50 || view.getUint32(at, true) !== 0x02014b50) continue;
    size += view.getUint32(at + 24, true);
    entries++;
  }
  return entries === 0 ? null : size;
}
