/** What programs, shells and hurried people ask of every command. */
import { spawnSync } from "node:child_process";
import { readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";

const SHORT = scenarioFile("short-chain");
const EQUAL = scenarioFile("four-equal");
const SOON = ["--horizon", "30 min"];

describe("JSON", () => {
  test.each([
    ["run", ["run", SHORT, ...SOON]],
    ["check", ["check", SHORT]],
    ["estimate", ["estimate", SHORT]],
    ["draw", ["draw", SHORT, ...SOON]],
    ["compare", ["compare", SHORT, "--tactic", "stocked", ...SOON]],
    ["prime", ["prime", SHORT, "--within", "10 min", ...SOON]],
    ["grow", ["grow", SHORT, "--machines", "2,3", ...SOON]],
    ["shortage", ["shortage", SHORT, "--levels", "100", ...SOON]],
    ["dip", ["shortage", SHORT, "--dip", "50 %", "--from", "5 min", "--for", "2 min", ...SOON]],
    ["sweep", ["sweep", SHORT, "--vary", "machines.cartoner.infeed=20,30", ...SOON]],
  ])("of %s names its format and leaves nothing behind", async (format, args) => {
    const cwd = await emptyFolder();
    const { status, stdout, stderr } = await fillfront([...args, "--json"], { cwd });
    expect(status, stderr).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ format: `fillfront-${format}`, format_version: 1 });
    expect(await readdir(cwd)).toEqual([]);
  });

  test("is written beside a report where one is asked for, the same as in it", async () => {
    const cwd = await emptyFolder();
    const { stdout } = await fillfront(["grow", SHORT, "--machines", "2", "--json", "--no-charts", "--out", "r"], {
      cwd,
    });
    expect(await readdir(join(cwd, "r"))).toEqual(["growth.csv", "growth.json", "report.md"]);
    expect(stdout).toContain('"format": "fillfront-grow"');
  });

  test("says what is wrong with a file, place by place, a line without its belt and all", async () => {
    const cwd = await emptyFolder();
    await writeFile(
      join(cwd, "x.yaml"),
      [
        "feeds: { a: { item: pouch, rate: 60/min } }",
        "machines: { m: { cycle: 2 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 10 } }",
        "lines: { main: { layout: chain, from: b, to: n, dividers: evn } }",
      ].join("\n"),
    );
    const { status, stdout, stderr } = await fillfront(["run", "x.yaml", "--json"], { cwd });
    expect(status).toBe(2);
    const refusal: unknown = JSON.parse(stdout);
    expect(refusal).toMatchObject({ format: "fillfront-refusal", file: "x.yaml", message: stderr.trim() });
    expect(refusal).toMatchObject({
      findings: [
        { code: "missing-key", line: 3 },
        { code: "unknown-reference", line: 3 },
        { code: "unknown-reference", line: 3 },
        { code: "unknown-word", line: 3 },
      ],
    });
  });
});

test("a request that is wrong is refused as JSON, too, where JSON is asked for", async () => {
  const { status, stdout, stderr } = await fillfront(["run", SHORT, "--json", "--horizn", "2 h"]);
  expect(status).toBe(2);
  expect(stderr).toContain("--horizon");
  expect(JSON.parse(stdout)).toMatchObject({ format: "fillfront-refusal", findings: [] });
});

test("several files: answers in a row, as JSON in a list, reports side by side", async () => {
  const cwd = await emptyFolder();
  const { stdout } = await fillfront(["check", SHORT, EQUAL, "--json"], { cwd });
  expect(JSON.parse(stdout)).toMatchObject([{ format: "fillfront-check" }, { format: "fillfront-check" }]);
  const args = ["grow", SHORT, scenarioFile("long-chain"), "--machines", "2", "--no-charts", "--out", "r", ...SOON];
  expect((await fillfront(args, { cwd })).status).toBe(0);
  expect((await readdir(join(cwd, "r"))).sort()).toEqual(["long-chain", "short-chain"]);
  const twice = await fillfront(["check", SHORT, SHORT], { cwd });
  expect(twice).toMatchObject({ status: 2, stdout: "" });
});

test("quietly, the answer alone", async () => {
  const loud = await fillfront(["run", SHORT, "--no-charts", ...SOON]);
  const quiet = await fillfront(["run", SHORT, "--no-charts", "-q", ...SOON]);
  expect(loud.stderr).not.toBe("");
  expect(quiet).toMatchObject({ status: 0, stdout: loud.stdout, stderr: "" });
});

test.each([
  [["compare", SHORT, "--tactic", "stoked"], "stocked"],
  [["layouts", EQUAL, "--priority", "smal"], "small"],
  [["layouts", EQUAL, "--line", "mian"], "main"],
  [["shortage", SHORT, "--feed", "blendr"], "blender"],
  [["schema", "--result", "layout"], "layouts"],
  [["completion", "zhs"], "zsh"],
])("a near name is told: %j", async (args, meant) => {
  const { status, stderr } = await fillfront(args);
  expect(status).toBe(2);
  expect(stderr).toContain(`did you mean "${meant}"?`);
});

describe("completion", () => {
  test("for bash completes commands, options and files", async () => {
    const { stdout } = await fillfront(["completion", "bash"]);
    const ask = (words: string) =>
      `COMP_WORDS=(fillfront ${words}); COMP_CWORD=$((\${#COMP_WORDS[@]} - 1)); _fillfront; echo "\${COMPREPLY[@]}"`;
    const script = [stdout, ask("la"), ask("layouts --pri"), ask("run pack")].join("\n");
    const cwd = join(import.meta.dirname, "../..");
    const { stdout: said } = spawnSync("bash", ["-c", script], { encoding: "utf8", cwd });
    expect(said.trim().split("\n")).toEqual(["layouts", "--priority", "package-lock.json package.json"]);
  });

  test.each(["bash", "zsh", "fish"])("for %s knows every command and option, and the shell reads it", async (shell) => {
    const { stdout } = await fillfront(["completion", shell]);
    for (const name of ["run", "gather", "completion"]) expect(stdout).toContain(name);
    expect(stdout).toContain(shell === "fish" ? "-l grow-to" : "--grow-to");
    expect(stdout).not.toContain("undefined");
    const script = join(await emptyFolder(), "completion");
    await writeFile(script, stdout);
    const read = spawnSync(shell, ["-n", script], { encoding: "utf8" });
    // Where the shell is.
    if (read.error === undefined) expect(read).toMatchObject({ status: 0, stderr: "" });
  });
});

test("every command's help has examples", async () => {
  const { stdout } = await fillfront(["--help"]);
  const names = [...stdout.matchAll(/^ {2}([a-z]+) \[/gm)].flatMap(([, name = ""]) => (name === "help" ? [] : [name]));
  expect(names.length).toBeGreaterThan(12);
  for (const name of names) {
    const help = (await fillfront([name, "--help"])).stdout;
    expect(help.match(/^ {2}\$ fillfront /gm)?.length ?? 0, name).toBeGreaterThan(1);
  }
}, 120_000);
