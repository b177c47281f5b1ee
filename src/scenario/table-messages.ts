/** Findings of tables that a file takes its machines from. */
import { clean, error, quote } from "./message-parts.ts";

export const TABLE_MESSAGES = {
  "table-unread": error<"found">(
    (arg) => `the table ${quote(arg("found"))} was not handed over with the file; who reads the file reads it first`,
  ),
  "table-header": error<"known">(
    (arg) => `no row has the headings "name" and "cycle"; one row names the columns, with units: ${arg("known")}`,
  ),
  "table-empty": error<"found">((arg) => `no machine stands below the headings in row ${arg("found")}`),
  "table-column": error<"found" | "known">(
    (arg) =>
      `unknown column ${quote(arg("found"))}; known here: ${arg("known")}; leave its heading empty, or remove it`,
  ),
  "table-nameless": error<"found">(
    (arg) =>
      `a row with ${quote(arg("found"))} has no name; give it one, state it in every row of a merged cell, or empty the row`,
  ),
  "table-twice": error<"found" | "row">(
    (arg) => `${quote(arg("found"))} stands in row ${arg("row")} already; state a count, or give it another name`,
  ),
  "table-and-file": error<"found">(
    (arg) => `${quote(arg("found"))} stands in the scenario file, too; keep one of the two`,
  ),
  "table-number": error<"found" | "point" | "whole">(
    (arg) => `${clean(arg("found"), 60)} may mean ${arg("point")} or ${arg("whole")}; write one of these`,
  ),
};
