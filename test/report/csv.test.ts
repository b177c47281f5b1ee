import fc from "fast-check";
import { expect, test } from "vitest";
import { machineColumns } from "../../src/report/run/machines-table.ts";
import { seriesCsv } from "../../src/report/run/run-report.ts";
import { csv } from "../../src/report/text/csv.ts";
import { csvTable } from "../../src/report/text/study-table.ts";
import { sample } from "./sample.ts";

/** A reader of RFC 4180, section 2, that accepts nothing else. */
function parse(text: string): string[][] {
  const rows: string[][] = [];
  let at = 0;
  while (at < text.length) {
    const row: string[] = [];
    for (;;) {
      const quoted = /"((?:[^"]|"")*)"/y;
      const bare = /[^",\r\n]*/y;
      quoted.lastIndex = bare.lastIndex = at;
      const inQuotes = quoted.exec(text);
      row.push(inQuotes === null ? (bare.exec(text)?.[0] ?? "") : (inQuotes[1] ?? "").replaceAll('""', '"'));
      at = inQuotes === null ? bare.lastIndex : quoted.lastIndex;
      if (text[at] !== ",") break;
      at += 1;
    }
    if (text.slice(at, at + 2) !== "\r\n") throw new Error(`no CRLF at ${at}`);
    at += 2;
    rows.push(row);
  }
  return rows;
}

const HOSTILE = ['=1+1"', "+x", "-x", "@x", "\tx", "\rx", "a,b", "a\r\nb", '"', "plain"];

test("whatever the text, it reads back, and none begins like a formula", () => {
  const text = fc.oneof(fc.string({ unit: "binary" }), fc.constantFrom(...HOSTILE));
  fc.assert(
    fc.property(fc.array(fc.tuple(text, text), { minLength: 1 }), (rows) => {
      const back = parse(csv(rows));
      for (const [r, row] of rows.entries()) {
        for (const [c, cell] of row.entries()) {
          const read = back[r]?.[c] ?? "missing";
          expect([cell, `'${cell}`]).toContain(read);
          expect(read).not.toMatch(/^[=+\-@\t\r\n]/);
        }
      }
    }),
  );
});

test("numbers are numbers: negative ones keep their sign, no exponent, no noise", () => {
  expect(csv([[-1.5, 0.1 + 0.2, 1e-9, null, 57012, -0]])).toBe("-1.5,0.3,0,,57012,0\r\n");
});

test("machines.csv: a row a machine, units in the heading, as many infeed buffers as the widest machine", () => {
  const { result } = sample({ machines: 3, twoKinds: true, id: (i) => HOSTILE[i] ?? "" });
  const rows = parse(csvTable(machineColumns(result), result.machines));
  expect(rows.map((row) => row.length)).toEqual(Array(4).fill(19 + 2 * 8));
  expect(rows[0]?.slice(0, 4)).toEqual(["machine", "line", "full_products_per_min", "settled_products_per_min"]);
  expect(rows[0]?.slice(-8)).toEqual([
    "infeed_2_item",
    "infeed_2_needs_items_per_min",
    "infeed_2_settled_items_per_min",
    "infeed_2_measured_items_per_min",
    "infeed_2_capacity_items",
    "infeed_2_full_at_min",
    "infeed_2_settled_low_items",
    "infeed_2_settled_high_items",
  ]);
  expect(rows.slice(1).map((row) => row[0])).toEqual(["'=1+1\"", "'+x", "'-x"]);
  expect(rows[1]?.[2]).toBe("30");
});

test("series.csv: a row a sample, the same columns in every row", () => {
  const { series } = sample({ machines: 2, samples: 7, id: (i) => HOSTILE[i] ?? "" });
  const rows = parse(seriesCsv(series));
  expect(rows).toHaveLength(8);
  expect(new Set(rows.map((row) => row.length))).toEqual(new Set([3 + 2 + 2 * 6]));
  expect(rows[0]?.slice(0, 6)).toEqual([
    "time_min",
    "output_items_per_min",
    "output_moving_average_items_per_min",
    "hold_up_items:pouch",
    "hold_up_items:carton",
    'infeed_items:=1+1":pouch',
  ]);
  expect(rows[7]?.[0]).toBe("20");
});
