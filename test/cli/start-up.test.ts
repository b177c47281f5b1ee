/**
 * What commands load: nothing heavy before it is needed. Node lists every script that a process and its threads have
 * compiled, whichever way it was loaded, where NODE_V8_COVERAGE names a folder.
 */
import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";

/** @returns the packages whose own files were loaded, by name; bundled ones are part of the command line */
async function packagesLoaded(args: readonly string[]): Promise<string[]> {
  const folder = await emptyFolder();
  const { status, stderr } = await fillfront(args, { env: { NODE_V8_COVERAGE: folder } });
  expect(status, stderr).toBe(0);
  const scripts = readdirSync(folder).flatMap((name) => [
    ...readFileSync(`${folder}/${name}`, "utf8").matchAll(/"url":"(file:[^"]*)"/g),
  ]);
  const urls = scripts.map(([, url = ""]) => url);
  expect(urls.filter((url) => url.endsWith("/dist/cli/main.js"))).not.toEqual([]);
  const names = urls.flatMap((url) => /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(url)?.[1] ?? []);
  return [...new Set(names)].sort();
}

const SHORT = scenarioFile("short-chain");

test.each([
  { name: "--version", args: ["--version"] },
  { name: "check", args: ["check", SHORT] },
  { name: "estimate", args: ["estimate", SHORT] },
  { name: "run --no-charts", args: ["run", SHORT, "--no-charts"] },
])("$name: no package at all", async ({ args }) => {
  expect(await packagesLoaded(args)).toEqual([]);
});

test("charts load what paints them, no placing of drawings and no threads", async () => {
  expect(await packagesLoaded(["run", SHORT])).toEqual(["@napi-rs/canvas"]);
});

test("a drawing loads a canvas, and what places it where belts join, but no charts", async () => {
  expect(await packagesLoaded(["draw", SHORT])).toEqual(["@napi-rs/canvas"]);
  expect(await packagesLoaded(["draw", scenarioFile("even-lanes")])).toEqual(["@napi-rs/canvas", "elkjs"]);
});

test("a sweep without charts loads threads alone", async () => {
  const vary = ["--vary", "machines.cartoner.infeed=50,100", "--horizon", "10 min"];
  expect(await packagesLoaded(["sweep", SHORT, ...vary, "--no-charts"])).toEqual(["tinypool"]);
});
