/** Studies of many machines on threads: the same bytes, however many there are. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";

test.each([
  ["layouts", "thirty-equal", []],
  ["compare", "long-chain", ["--all"]],
  ["compare", "granted-long-chain", ["--all", "--priority", "time"]],
  ["shortage", "thirty-equal", ["--levels", "100,70,40"]],
  ["grow", "long-chain", ["--machines", "2..40"]],
])(
  "%s %s %j: the same bytes whatever the number of threads",
  async (command, name, options) => {
    const given = async (jobs: string) => {
      const cwd = await emptyFolder();
      const args = [command, scenarioFile(name), ...options, "--horizon", "5 min", "--no-charts", "--jobs", jobs];
      const { status, stdout, stderr } = await fillfront([...args, "--json", "--out", "out"], { cwd });
      const out = join(cwd, "out");
      return {
        status,
        stdout,
        stderr,
        files: readdirSync(out).map((file) => [file, readFileSync(join(out, file), "utf8")]),
      };
    };
    const alone = await given("1");
    expect(alone.status).toBe(0);
    for (const jobs of ["2", "3"]) expect(await given(jobs)).toEqual(alone);
  },
  240_000,
);

test("what cannot be played is refused with the same words, however many threads there are", async () => {
  const refused = async (jobs: string) => {
    const cwd = await emptyFolder();
    const args = ["grow", scenarioFile("long-chain"), "--machines", "900,950,1000", "--horizon", "31 d"];
    return { ...(await fillfront([...args, "--jobs", jobs], { cwd })), left: readdirSync(cwd) };
  };
  const alone = await refused("1");
  expect(alone).toMatchObject({ status: 2, stdout: "", left: [] });
  expect(await refused("2")).toEqual(alone);
});
