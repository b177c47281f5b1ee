/** What contributors are told: short, and about files that are there. */
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { filesIn, ROOT } from "./sources.ts";

const FILES = ["src", "test", "scenarios", "reports"].flatMap((folder) => filesIn(folder));
const GUIDES = ["DEVELOPERS.md", ...FILES.filter((path) => /^(src|test)\/.*README\.md$/.test(path))];
/** Made by a build or found at the top. */
const ELSEWHERE = /^(dist|\.ci|node_modules)\//;

test.each(GUIDES)("every file that %s names is there", (guide) => {
  const named = [...readFileSync(join(ROOT, guide), "utf8").matchAll(/`([\w./-]+)`/g)].map(([, name = ""]) => name);
  const paths = named.filter((name) => !ELSEWHERE.test(name) && /\.(ts|mjs|css|c|md|yaml)$|\/$/.test(name));
  expect(guide === "DEVELOPERS.md" ? paths.length : 1).toBeGreaterThan(0);
  const isThere = (name: string): boolean =>
    FILES.some((path) => (name.endsWith("/") ? `/${path}`.includes(`/${name}`) : `/${path}`.endsWith(`/${name}`))) ||
    statSync(join(ROOT, name), { throwIfNoEntry: false }) !== undefined;
  expect(paths.filter((name) => !isThere(name))).toEqual([]);
});

test("the page for contributors has at most 12 kB and begins with the way of the data and with adding", () => {
  const text = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");
  expect(Buffer.byteLength(text)).toBeLessThanOrEqual(12_288);
  expect([...text.matchAll(/^## (.+)$/gm)].slice(0, 2).map(([, title]) => title)).toEqual([
    "The way of the data",
    "Adding",
  ]);
});
