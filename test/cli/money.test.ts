/** Money from the command line: in every answer where costs are stated, in none where they are not, and its documents. */
import { readFileSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { emptyFolder, fillfront } from "./command.ts";
import { bestFaultsOf, faultsOf, layoutsFaultsOf } from "./result-schema.ts";

const LINE = `
title: Granted
horizon: 20 min
feeds: { feed: { item: a, rate: as needed } }
machines: { m: { count: 5, cycle: 2 s, takes: { a: 1 }, makes: { b: 1 }, infeed: 12 } }
lines: { main: { layout: chain, from: feed, to: m, belt: { length: 1 m, speed: 20 m/min, pitch: 100 mm } } }
means: { hands: { items: 30, rate: 40/min, while: before }, start: together }
`;
const COSTS = "costs: { product: 0.45 EUR, hands: 32 EUR/h, belt: 400 EUR/m, divider: 900 EUR, starts: 5 per week }\n";
const QUICK = ["--most", "20", "--no-by-item"];

async function folder(): Promise<{ readonly cwd: string }> {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "priced.yaml"), LINE + COSTS);
  await writeFile(join(cwd, "plain.yaml"), LINE);
  return { cwd };
}

test.each([
  [["run"], faultsOf],
  [["compare", "--all"], () => []],
  [["best", ...QUICK], bestFaultsOf],
  [["layouts"], layoutsFaultsOf],
])("%j says what it is worth where costs are stated, else nothing", async ([command = "", ...rest], faults) => {
  const { cwd } = await folder();
  const priced = await fillfront([command, "priced.yaml", ...rest, "--json"], { cwd });
  expect(priced.stdout).toContain('"currency": "EUR"');
  expect(faults(JSON.parse(priced.stdout))).toEqual([]);
  const shown = await fillfront([command, "priced.yaml", ...rest, "--no-charts"], { cwd });
  expect(shown.stdout).toMatch(/^Money .*EUR/m);
  const plain = await fillfront([command, "plain.yaml", ...rest, "--json"], { cwd });
  expect(plain.stdout).not.toMatch(/money|currency/i);
});

test("a run's page says it on the sheet on top, where costs are stated", async () => {
  const { cwd } = await folder();
  const sheetOf = async (name: string): Promise<{ readonly sheet: string; readonly lost: number | null }> => {
    const asked = ["run", `${name}.yaml`, "--no-charts", "--out", name, "--json"];
    const { money } = JSON.parse((await fillfront(asked, { cwd })).stdout);
    const page = readFileSync(join(cwd, name, "report.html"), "utf8");
    const lost = money === undefined ? null : rational(money.loss_per_start).valueOf();
    return { sheet: /<dl class="figures">.*?<\/dl>/s.exec(page)?.[0] ?? "", lost };
  };
  const priced = await sheetOf("priced");
  expect(priced.sheet).toContain(`<dt>Money</dt><dd class="value">${priced.lost?.toFixed(2)}\u00a0EUR</dd>`);
  expect(priced.sheet).toMatch(/lost a start, [\d\s,.]+\sEUR a year/);
  const plain = await sheetOf("plain");
  expect(plain.sheet).toContain("Ramp-up loss");
  expect(plain.sheet).not.toContain("Money");
});

test("money decides only where the file has what that takes", async () => {
  const { cwd } = await folder();
  const asked = async (command: string, file: string) =>
    fillfront([command, file, "--priority", "money", ...(command === "best" ? QUICK : []), "--json"], { cwd });
  for (const command of ["compare", "best", "layouts"]) {
    const refused = await asked(command, "plain.yaml");
    expect([refused.status, refused.stderr]).toEqual([
      2,
      expect.stringContaining("state it under costs, such as product: 0.45 EUR"),
    ]);
    const done = await asked(command, "priced.yaml");
    expect([done.status, JSON.parse(done.stdout).priority]).toEqual([0, "money"]);
  }
});
