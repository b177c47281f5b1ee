/** Text out of a file or a command line is data wherever it is shown: terminal, Markdown, CSV, folders. */
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readScenario } from "../../src/index.ts";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";

const MARKUP = "=cmd|' /C calc'!A0 <script>alert(1)</script> [x](javascript:x) ![i](http://h.example/i) | # `a` *b*";
const QUICK = ["--no-charts", "--horizon", "5 min"];
const short = () => readFile(scenarioFile("short-chain"), "utf8");

function titled(text: string, title: string): string {
  return text.replace(/^title: .*$/m, `title: ${JSON.stringify(title)}\nseed: ${JSON.stringify(title.slice(0, 90))}`);
}

test("markup in a title and a seed stays text", async () => {
  const cwd = await emptyFolder();
  const stdin = titled(await short(), MARKUP);
  const outcome = await fillfront(["run", "-", "--out", "report", ...QUICK], { cwd, stdin });
  expect(outcome).toMatchObject({ status: 0, stderr: "Report in report\n" });
  expect(outcome.stdout.replaceAll("\n", " ")).toContain("<script>alert(1)</script>");

  const markdown = await readFile(join(cwd, "report", "report.md"), "utf8");
  expect(markdown).not.toMatch(/<script|\[x\]\(|!\[i\]|https?:/);
  expect(markdown.split("\n")[0]).toMatch(/^# \\?=cmd\\\|.*\\`a\\`/);
  for (const name of ["machines.csv", "series.csv"]) {
    const cells = (await readFile(join(cwd, "report", name), "utf8")).split(/\r\n|,/);
    expect(cells.length).toBeGreaterThan(50);
    // A number with a sign is a number.
    expect(cells.filter((cell) => /^[=+\-@\t]/.test(cell) && !Number.isFinite(Number(cell)))).toEqual([]);
  }
  expect(JSON.parse(await readFile(join(cwd, "report", "result.json"), "utf8")).title).toBe(MARKUP);
});

test("text that would command a terminal is refused, and is not passed on by the refusal", async () => {
  const cwd = await emptyFolder();
  for (const title of ["\u001b]0;owned\u0007", "a\u001b[2Jb", "a\u009b31mb", "\u202ereversed"]) {
    const { status, stdout, stderr } = await fillfront(["run", "-"], { cwd, stdin: titled(await short(), title) });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(/standard input:\d+:\d+: /);
    expect(stderr).not.toMatch(/[^\P{Cc}\n]/u);
  }
  const keyed = await fillfront(["check", "-"], { cwd, stdin: '"\\e[31mhorizon": 4 h\n' });
  expect(keyed.status).toBe(2);
  expect(keyed.stderr).not.toContain("\u001b");
  const named = await fillfront(["run", "\u001b[31m.yaml"], { cwd });
  expect(named.status).toBe(2);
  expect(named.stderr).not.toContain("\u001b");
  expect(await readdir(cwd)).toEqual([]);
});

const NAMES = ["../../escaped", "a/b", "a\\b", "..", ".", "", "=1+1", "-x", "@x", "+x", "a b", "a|b", "a\nb", "a\0b"];

test.each(NAMES)("the name %j is refused", async (name) => {
  const text = (await short()).replaceAll("cartoner", JSON.stringify(name));
  expect(readScenario(text)).toMatchObject({ ok: false });
});

test("a name cannot lead out of the report's folder", async () => {
  const cwd = await emptyFolder();
  await mkdir(join(cwd, "inner"));
  const stdin = (await short()).replaceAll("cartoner", '"../../escaped"').replaceAll("main:", '"../up":');
  const { status, stdout } = await fillfront(["run", "-"], { cwd: join(cwd, "inner"), stdin });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(await readdir(cwd, { recursive: true })).toEqual(["inner"]);
});

test("a file whose name is only dots is reported inside reports all the same", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "...yaml"), await short());
  expect(await fillfront(["run", "...yaml", ...QUICK], { cwd })).toMatchObject({ status: 0 });
  expect(await readdir(join(cwd, "reports"))).toEqual(["scenario"]);
});
