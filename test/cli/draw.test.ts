/** fillfront draw. */
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { contentsOf, emptyFolder, fillfront, scenarioFile } from "./command.ts";

test("draw writes SVG, PNG and what they show, and says what is tight", async () => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(["draw", scenarioFile("equal-loop")], { cwd });
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${join("reports", "equal-loop-drawing")}\n` });
  expect(stdout).toContain("1 feed, 7 dividers, 1 merge, 7 machines, 1 outlet and 15 belts\n");
  expect(stdout).toContain("Fullest  main.through-1: 100 of 126.3/min");
  const folder = join(cwd, "reports", "equal-loop-drawing");
  expect((await readdir(folder)).toSorted()).toEqual(["drawing.json", "drawing.png", "drawing.svg"]);
  const { title, elements, belts } = JSON.parse(await readFile(join(folder, "drawing.json"), "utf8"));
  expect(title).toBe("Seven labellers on a return loop (invented)");
  expect(elements.find(({ id }: { id: string }) => id === "labeller-7")).toEqual({
    id: "labeller-7",
    kind: "machine",
    line: "main",
    per_min: "25/2",
    measured_per_min: null,
    needs_per_min: "25/2",
    offered_per_min: null,
    rule: null,
    has_no_belt: false,
    items: ["labelled"],
    share: "1/7",
  });
  expect(belts.filter(({ returns }: { returns: boolean }) => returns)).toEqual([
    expect.objectContaining({ to: "main.head", rate_per_min: "1400/19", flow_per_min: "25/2" }),
  ]);
  expect(await readFile(join(folder, "drawing.svg"), "utf8")).toContain("labeller-7");
});

test("a drawing is the same bytes every time, whatever the time zone and language, and replaces an earlier one", async () => {
  const cwd = await emptyFolder();
  const args = ["draw", scenarioFile("unequal-tree"), "--json", "--seed", "two", "--horizon", "2 h", "--out", "drawn"];
  const first = await fillfront(args, { cwd, env: { TZ: "UTC", LANG: "C" } });
  expect(first.status, first.stderr).toBe(0);
  const contents = await contentsOf(join(cwd, "drawn"));
  expect(Object.keys(contents)).toHaveLength(3);
  expect(Buffer.from(contents["drawing.json"] ?? "", "hex").toString()).toBe(first.stdout);
  const second = await fillfront(args, { cwd, env: { TZ: "Pacific/Chatham", LC_ALL: "tr_TR.UTF-8" } });
  expect(second).toEqual(first);
  expect(await contentsOf(join(cwd, "drawn"))).toEqual(contents);
});

test("a plant too large to draw is refused before it is run, and nothing is written", async () => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("long-chain"), "utf8");
  await writeFile(join(cwd, "line.yaml"), text.replace("count: 24", "count: 121"));
  const { status, stdout, stderr } = await fillfront(["draw", "line.yaml", "--horizon", "1 min"], { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain("line.yaml: a drawing shows at most 120 machines; this plant has 121");
  expect(await readdir(cwd)).toEqual(["line.yaml"]);
});

test("a folder of something else is left as it is", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "notes.txt"), "mine");
  await writeFile(join(cwd, "drawing.json"), "{}");
  const { status, stderr } = await fillfront(["draw", scenarioFile("rate-cut"), "--out", cwd], {
    cwd: await emptyFolder(),
  });
  expect(status).toBe(2);
  expect(stderr).toContain("is not an earlier report");
  expect((await readdir(cwd)).toSorted()).toEqual(["drawing.json", "notes.txt"]);
});
