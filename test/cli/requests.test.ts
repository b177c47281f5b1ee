/** What is asked for: help, wrong requests, and where output goes. Conventions: https://clig.dev. */
import { mkdir, readdir, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PassThrough } from "node:stream";
import { expect, test } from "vitest";
import { terminalOf } from "../../src/cli/terminal.ts";
import { emptyFolder, fillfront, type Outcome, SCENARIOS, scenarioFile } from "./command.ts";
import { shell } from "./shell.ts";

const GOOD = scenarioFile("short-chain");
const COMMANDS = ["run", "check", "estimate", "schema"];

test("help goes to standard output and has an example that works", async () => {
  const bare = await fillfront([]);
  expect(bare).toMatchObject({ status: 0, stderr: "" });
  expect(bare.stdout).toContain("Usage: fillfront");

  const helps = await Promise.all(COMMANDS.map((command) => fillfront([command, "--help"])));
  const folder = await emptyFolder();
  await symlink(SCENARIOS, join(folder, "scenarios"));
  for (const [index, { status, stdout }] of helps.entries()) {
    expect(status).toBe(0);
    const example = /Examples:\n {2}\$ (fillfront (\w+) .+)\n/.exec(stdout);
    expect(example?.[2]).toBe(COMMANDS[index]);
    expect(await shell(example?.[1] ?? "false", folder), example?.[1]).toMatchObject({ status: 0 });
    expect(widest(stdout)).toBeLessThanOrEqual(80);
  }
  expect(await readdir(folder)).toEqual(["reports", "scenario.schema.json", "scenarios"]);
});

test.each(["--version", "-V"])("%s prints the version alone", async (option) => {
  expect(await fillfront([option])).toEqual({
    status: 0,
    signal: null,
    stdout: expect.stringMatching(/^\d+\.\d+\.\d+\n$/),
    stderr: "",
  });
});

const WRONG: readonly (readonly [args: readonly string[], message: RegExp])[] = [
  [["runn", GOOD], /unknown command 'runn'.*Did you mean run\?/s],
  [["run", "--jsn", GOOD], /unknown option '--jsn'.*Did you mean --json\?.*fillfront run --help/s],
  [["run"], /missing required argument 'file'/],
  [["schema", GOOD], /too many arguments/],
  [["check", GOOD, GOOD], /would both be reported as short-chain/],
  [["check", "--json", "--network", GOOD], /cannot be used with/],
  [["run", GOOD, "--horizon", "4"], /--horizon "4": expected auto, or a duration such as/],
  [["run", GOOD, "--horizon", "0 min"], /--horizon/],
  [["run", GOOD, "--horizon", "32 d"], /up to 31 d/],
  [["run", GOOD, "--horizon", "1 ms"], /horizon/],
  [["run", GOOD, "--seed", " "], /--seed " ": expected plain text/],
  [["run", GOOD, "--seed", "\u001b[31m"], /--seed "\\u001b/],
  [["run", GOOD, "--out", ""], /--out/],
  [["run", GOOD, GOOD], /would both be reported in reports.short-chain/],
  [["run", "-", "-"], /would both be reported in/],
  [["run", GOOD, "missing.yaml"], /^missing\.yaml: no such file\n$/],
  [["run", GOOD, "."], /a folder, not a file/],
  [["run", GOOD, "wrong.yaml"], /^wrong\.yaml:2:1: .*horzion.*horizon/m],
  [["check", "wrong.yaml"], /^wrong\.yaml:2:1: /m],
  [["estimate", "wrong.yaml"], /^wrong\.yaml:2:1: /m],
  [["run", "big.yaml"], /big\.yaml: .*1048576/],
  [["run", "bytes.yaml"], /UTF-8/],
  [["run", "empty.yaml"], /empty\.yaml: /],
];

test("a wrong request is refused with status 2 and a reason; nothing else is printed, and nothing written", async () => {
  const files = {
    "wrong.yaml": "title: Wrong\nhorzion: 4 h\n",
    "big.yaml": "#".repeat(1024 * 1024 + 1),
    "bytes.yaml": Buffer.from([0x61, 0xff]),
    "empty.yaml": "",
  };
  // Each in a folder of its own, where what one of them left could not be another's.
  const asked = await Promise.all(
    WRONG.map(async ([args]) => {
      const cwd = await emptyFolder();
      for (const [name, content] of Object.entries(files)) await writeFile(join(cwd, name), content);
      return { ...(await fillfront(args, { cwd })), left: await readdir(cwd) };
    }),
  );
  for (const [index, [args, message]] of WRONG.entries()) {
    const { status, stdout = "", stderr, left } = asked[index] ?? {};
    // Who reads JSON has the reason there, too.
    const told = args.includes("--json") ? [JSON.parse(stdout)] : [];
    expect({ status, told }, args.join(" ")).toEqual({
      status: 2,
      told: told.map(() =>
        expect.objectContaining({ format: "fillfront-refusal", message: expect.stringMatching(message) }),
      ),
    });
    if (told.length === 0) expect(stdout, args.join(" ")).toBe("");
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/^\s+at .*:\d+:\d+\)?$/m);
    expect(left?.sort()).toEqual(Object.keys(files).sort());
  }
});

test("every mistake in a file is told at once", async () => {
  const { stderr } = await fillfront(["check", "-"], { stdin: "horizon: 4\ntick: fast\ntitel: x\n" });
  expect(stderr.trimEnd().split("\n").length).toBeGreaterThanOrEqual(3);
  expect(
    stderr
      .trimEnd()
      .split("\n")
      .every((line) => line.startsWith("standard input:")),
  ).toBe(true);
});

test("what cannot be written is refused with status 2 before anything is run", async () => {
  const folder = await emptyFolder();
  await writeFile(join(folder, "file"), "");
  const args = ["run", GOOD, "--no-charts", "--horizon", "1 min", "--out", join("file", "report")];
  const { status, stdout, stderr } = await fillfront(args, { cwd: folder });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toMatch(/^cannot write the report folder file.report: .*\n$/);
  expect(await readdir(folder)).toEqual(["file"]);
});

test("a reader that stops listening is no failure", async () => {
  const folder = await emptyFolder();
  await mkdir(join(folder, "scenarios"));
  const run = `fillfront run "${GOOD}" --json --no-charts --out report`;
  const outcome: Outcome = await shell(`{ ${run}; echo "status $?" >&2; } | true`, folder);
  expect(outcome.stderr).toBe("Report in report\nstatus 0\n");
});

test("colour and progress are for terminals only, and NO_COLOR is respected", async () => {
  const heard = async (isTTY: boolean, env: NodeJS.ProcessEnv): Promise<string[]> => {
    const stdout = Object.assign(new PassThrough(), { isTTY });
    const stderr = Object.assign(new PassThrough(), { isTTY });
    const terminal = terminalOf({ stdout, stderr, env });
    terminal.progress("simulating");
    terminal.complain("wrong");
    await terminal.print(terminal.style.title("Title"));
    return [stdout, stderr].map((stream) => String(stream.read()));
  };
  expect(await heard(true, {})).toEqual([
    "\u001b[1mTitle\u001b[22m",
    "\rsimulating\r          \r\u001b[31mwrong\u001b[39m\n",
  ]);
  expect(await heard(true, { NO_COLOR: "1" })).toEqual(["Title", "\rsimulating\r          \rwrong\n"]);
  expect(await heard(true, { TERM: "dumb" })).toEqual(["Title", "wrong\n"]);
  expect(await heard(false, {})).toEqual(["Title", "wrong\n"]);
});

function widest(text: string): number {
  return Math.max(...text.split("\n").map((line) => line.length));
}
