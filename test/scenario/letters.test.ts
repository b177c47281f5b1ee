/** Letters are those of Unicode, written as one sign or as several (UAX #15): what looks the same is the same. */
import { expect, test } from "vitest";
import { withValue } from "../../src/scenario/edit.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { sweptQuantity } from "../../src/study/sweep/sweep.ts";
import { changed, EXAMPLE, plain } from "./example.ts";

const ONE = "Füllerčả";
const SEVERAL = ONE.normalize("NFD");
const NAMED = EXAMPLE.replaceAll("cartoner", ONE);

function read(text: string, tables = new Map<string, string[][]>()) {
  const outcome = readScenario(text, { tables });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return plain(outcome.scenario);
}

test("names and titles in signs and marks are those in whole letters, each place by itself", () => {
  expect(SEVERAL).not.toBe(ONE);
  const one = read(NAMED);
  expect(read(NAMED.normalize("NFD"))).toEqual(one);
  expect(read(changed(NAMED, `[${ONE}]`, `[${SEVERAL}]`))).toEqual(one);
  const twice = readScenario(`${NAMED}\n"${SEVERAL}": 1\n${ONE}: 2`);
  expect(twice).toMatchObject({
    ok: false,
    findings: expect.arrayContaining([expect.objectContaining({ code: "duplicate-key" })]),
  });
});

test("letters that are always several signs make names", () => {
  expect(JSON.stringify(read(EXAMPLE.replaceAll("cartoner", "मशीन")))).toContain("मशीन-8");
  expect(readScenario(EXAMPLE.replaceAll("cartoner", "\u0308a"))).toMatchObject({ ok: false });
});

test("so are those of tables, of swept places and of edits", () => {
  const file = `machines: { from: hall.csv }
feeds: { dock: { item: pouch, rate: 60/min } }
lines: { a: { layout: chain, from: dock, to: ${ONE}, belt: none } }
`;
  const rows = (name: string) =>
    new Map([
      [
        "hall.csv",
        [
          ["name", "cycle [s]", "takes", "makes", "room"],
          [name, "2.5", "pouch", "can", "9"],
        ],
      ],
    ]);
  expect(read(file, rows(SEVERAL))).toEqual(read(file, rows(ONE)));
  expect(sweptQuantity(`machines.${SEVERAL}.infeed=50,100`)).toEqual(sweptQuantity(`machines.${ONE}.infeed=50,100`));
  const edited = withValue(NAMED.normalize("NFD"), ["machines", ONE, "cycle"], "3 s");
  expect(read(edited)).toEqual(read(withValue(NAMED, ["machines", ONE, "cycle"], "3 s")));
});
