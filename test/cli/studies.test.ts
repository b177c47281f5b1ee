/** fillfront compare, prime and grow. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { fillfront, scenarioFile } from "./command.ts";

const folder = mkdtempSync(join(tmpdir(), "fillfront-studies-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const CONTRACT = {
  id: expect.any(String),
  items_handled: expect.any(Number),
  hold_up_peak: expect.any(Number),
  over_limit_min: null,
  over_limit_items: null,
  undominated: expect.any(Boolean),
  slower_for_good: expect.any(Boolean),
  reserve_kept: expect.any(Number),
};

test("compare ranks the tactics with the baseline among them, and writes its report", async () => {
  const out = join(folder, "compare");
  const { status, stdout, stderr } = await fillfront([
    "compare",
    scenarioFile("short-chain"),
    "--all",
    "--json",
    "--out",
    out,
  ]);
  expect(status).toBe(0);
  expect(stderr).toBe(`Report in ${out}\n`);
  const { tactics, winner } = JSON.parse(stdout);
  expect(tactics.length).toBeGreaterThanOrEqual(9);
  for (const tactic of tactics) {
    expect(tactic).toMatchObject(CONTRACT);
    for (const key of ["settling_min", "ramp_up_loss", "first_product_min"]) expect(tactic).toHaveProperty(key);
  }
  expect(tactics.filter(({ id }: { id: string }) => id === "none")).toHaveLength(1);
  expect(tactics[0]).toMatchObject({ id: winner, granted: true });
  expect(readdirSync(out).toSorted()).toEqual(
    [
      "choice.png",
      "comparison.csv",
      "comparison.json",
      "missing.png",
      "output.png",
      "report.html",
      "report.md",
    ].toSorted(),
  );
  expect(readFileSync(join(out, "comparison.json"), "utf8")).toBe(stdout);
  expect(readFileSync(join(out, "report.md"), "utf8")).toContain("lock out");
});

test("compare plays the file's tactics, or those that are named, and prints the cautions where hands go in", async () => {
  const out = join(folder, "named");
  const named = [
    "compare",
    scenarioFile("long-chain"),
    "--tactic",
    "tail-stocked",
    "metered-105",
    "--no-charts",
    "--out",
    out,
  ];
  const { status, stdout } = await fillfront([...named, "--horizon", "30 min", "--details"]);
  expect(status).toBe(0);
  for (const id of ["tail-stocked", "metered-105", "none"]) expect(stdout).toContain(id);
  expect(stdout).not.toContain("boosted");
  expect(stdout).toContain("29 CFR 1910.147");
});

test("prime gives the least dose and the proof that one less does not reach the goal", async () => {
  const { status, stdout } = await fillfront(["prime", scenarioFile("short-chain"), "--within", "6 min", "--json"]);
  expect(status).toBe(0);
  const { goals, tactics } = JSON.parse(stdout);
  expect(goals).toEqual({ within_min: 6, loss_below: null, handled_below: null });
  const reaching = tactics.filter(({ reaches }: { reaches: boolean }) => reaches);
  expect(reaching.length).toBeGreaterThan(0);
  for (const { to_95_min: at, one_less: less } of reaching) {
    expect(at).toBeLessThanOrEqual(6);
    expect(less?.to_95_min ?? Infinity).toBeGreaterThan(6);
  }
});

test("grow says from which length the belt is too small", async () => {
  const out = join(folder, "grow");
  const { status, stdout } = await fillfront([
    "grow",
    scenarioFile("short-chain"),
    "--machines",
    "8..11",
    "--json",
    "--out",
    out,
  ]);
  expect(status).toBe(0);
  const growth = JSON.parse(stdout);
  expect(growth.sizes.map(({ machines }: { machines: number }) => machines)).toEqual([8, 9, 10, 11]);
  // 24/min a machine on a belt of 21 m/min / 95 mm.
  expect(growth.too_small).toEqual({ belt: "main.through-1", from_machines: 10, rate_per_min: "4200/19" });
  expect(existsSync(join(out, "growth.png"))).toBe(true);
});

test.each([
  [["prime", scenarioFile("short-chain")], 'fillfront prime scenarios/short-chain.yaml --within "6 min"'],
  [["prime", scenarioFile("short-chain"), "--within", "5"], "duration"],
  [["prime", scenarioFile("short-chain"), "--loss-below", "few"], "number of items"],
  [["grow", scenarioFile("short-chain"), "--machines", "9..3"], "2..40"],
  [["grow", scenarioFile("short-chain")], "fillfront grow scenarios/short-chain.yaml --machines 2..16"],
  [["grow", scenarioFile("tin-assembly"), "--machines", "2..3"], "several chains, "],
  [["grow", scenarioFile("unequal-chain"), "--machines", "2..3"], "more than one group"],
  [["compare", scenarioFile("short-chain"), "--tactic", "magic"], "no tactic is called"],
])("%j is refused with a remedy, and nothing is written", async (args, remedy) => {
  const { status, stdout, stderr } = await fillfront(args);
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(remedy);
});
