/** Tables of machines: what a spreadsheet says, and what a file that says the same by itself would. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { readScenario, tableOf } from "../../src/scenario/read.ts";
import { plain } from "./example.ts";

const REST = `feeds: { dock: { item: pouch, rate: 60/min } }
lines:
  a: { layout: chain, from: dock, to: filler, belt: none }
  b: { layout: chain, from: filler, to: boxer, belt: none }
`;
const FILE = `machines: { from: hall.csv }\n${REST}`;

function read(rows: readonly (readonly string[])[], file = FILE) {
  return readScenario(file, { tables: new Map([["hall.csv", rows]]) });
}

function faults(rows: readonly (readonly string[])[], file = FILE): string[] {
  const outcome = read(rows, file);
  return outcome.ok ? [] : outcome.findings.map((finding) => formatFinding(finding, "plant.yaml"));
}

const HEAD = ["name", "count", "cycle [s]", "takes", "makes", "room", "speed [%]"];
const FILLER = ["filler", "3", "2.5", "pouch", "can", "40", "100"];
const BOXER = ["boxer", "", "30", "12 can", "box", "can: 60", "87.5"];

test("a table is what it would be written out; decimal commas, empty rows, remarks and titles are no matter", () => {
  const stated = readScenario(`machines:
  filler: { count: 3, cycle: 2.5 s, takes: { pouch: 1 }, makes: { can: 1 }, infeed: 40, speed: 100 % }
  boxer:  { cycle: 30 s, takes: { can: 12 }, makes: { box: 1 }, infeed: { can: 60 }, speed: 87.5 % }
${REST}`);
  if (!stated.ok) throw new Error("refused");
  const tables = [
    [HEAD, FILLER, BOXER],
    [
      ["Hall 3", "", "", ""],
      [],
      ["Machine", "Number", "Cycle time (s)", "Takes", "Makes", "Infeed", "Speed, %", ""],
      ["", "", "", "", "", "", "", ""],
      ["filler", "3", "2,5", "1 pouch", "can: 1", "40", "100", "old"],
      [],
      [" boxer ", "", "0,5 min", "can 12", "box", "60", "87,5 %"],
    ],
    [
      ["NAME", "count", "cycle in s", "takes", "makes", "room", "speed"],
      FILLER.with(6, "100 %"),
      BOXER.with(6, "175/2 %"),
    ],
  ];
  for (const rows of tables) {
    const outcome = read(rows);
    expect(outcome.ok && plain(outcome.scenario)).toEqual(plain(stated.scenario));
  }
});

test("what is wrong is told by its cell", () => {
  expect(faults([HEAD.with(2, "cycle"), FILLER, BOXER.with(2, "30 s")])).toEqual([
    expect.stringMatching(/^hall\.csv, cell C2: "2\.5" has no unit; one of: 2\.5 s/),
  ]);
  expect(faults([HEAD, FILLER.with(2, "1,500"), BOXER])).toEqual(
    [
      expect.stringMatching(/^hall\.csv, cell C2: 1,500 may mean 1\.500 or 1500/),
      expect.stringMatching(/^hall\.csv, cell A2: "cycle" is missing/),
    ].toReversed(),
  );
  expect(faults([HEAD, [], FILLER, ["", "1", "3"], BOXER, FILLER])).toEqual([
    expect.stringMatching(/^hall\.csv, cell A4: a row with "1" has no name/),
    expect.stringMatching(/^hall\.csv, cell A6: "filler" stands in row 3 already/),
  ]);
  expect(faults([[...HEAD, "price"], FILLER, BOXER])).toEqual([
    expect.stringMatching(/^hall\.csv, cell H1: unknown column "price"; known here: name, count/),
  ]);
  expect(
    faults([
      ["a", "b"],
      ["c", "d"],
    ])[0],
  ).toMatch(/^hall\.csv, cell A1: no row has the headings/);
  expect(faults([HEAD, FILLER, BOXER.with(3, "12 cann")])).toContainEqual(
    expect.stringMatching(/^hall\.csv, cell D3: no feed or machine supplies an item "cann", did you mean "can"/),
  );
  expect(faults([HEAD])[0]).toMatch(/no machine stands below the headings/);
});

test("machines of a table and of the file stand side by side; one name stands once", () => {
  const both = FILE.replace(
    "{ from: hall.csv }",
    "\n  from: hall.csv\n  boxer: { cycle: 30 s, takes: { can: 12 }, makes: { box: 1 }, infeed: 60 }",
  );
  expect(read([HEAD, FILLER], both)).toMatchObject({ ok: true });
  expect(faults([HEAD, FILLER, BOXER], both)).toEqual([
    expect.stringMatching(/^hall\.csv, cell A3: "boxer" stands in the scenario file, too/),
  ]);
});

test("a table is asked for by name, and its absence is told", () => {
  expect(tableOf(FILE)).toBe("hall.csv");
  expect(tableOf("machines: { from: hall.XLSX }")).toBe("hall.XLSX");
  expect(tableOf("machines: { from: { cycle: 2 s } } # from: a.csv")).toBeNull();
  expect(readScenario(FILE)).toMatchObject({ ok: false, findings: [{ code: "table-unread", line: 1 }] });
});

test("whatever a table holds, the reader comes to an end and says where", () => {
  const cell = fc.oneof(
    fc.constantFrom(...HEAD, ...FILLER, ...BOXER, "", "2,5", "__proto__", "constructor"),
    fc.string(),
  );
  fc.assert(
    fc.property(fc.array(fc.array(cell, { maxLength: 8 }), { maxLength: 6 }), (rows) => {
      const outcome = read([HEAD, ...rows]);
      for (const finding of outcome.ok ? [] : outcome.findings) expect(formatFinding(finding, "p")).not.toBe("");
    }),
    { numRuns: 200 },
  );
});
