/** Nothing is offered to other files that none of them takes, and no file stands that none needs. */
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import ts from "typescript";
import { expect, test } from "vitest";
import { filesIn, nodesOf, ROOT, type Source, sourceOf, sourcesIn } from "./sources.ts";

/** Values that a file exports itself; a type is part of what it says. */
function exportsOf({ tree }: Source): string[] {
  return tree.statements.flatMap((statement) => {
    const isExported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
    if (!isExported) return [];
    if (ts.isVariableStatement(statement))
      return statement.declarationList.declarations.map(({ name }) => name.getText(tree));
    if (!ts.isFunctionDeclaration(statement) && !ts.isClassDeclaration(statement)) return [];
    return statement.name === undefined ? [] : [statement.name.text];
  });
}

function namesIn({ tree }: Source): string[] {
  return nodesOf(tree).flatMap((node) => (ts.isIdentifier(node) ? [node.text] : []));
}

/** A test may look at what its own file uses. */
function idle(sources: readonly Source[], tests: readonly Source[]): string[] {
  const names = new Map(sources.map((source) => [source.path, namesIn(source)]));
  const files = new Map<string, Set<string>>();
  for (const [path, all] of names) for (const name of all) files.set(name, (files.get(name) ?? new Set()).add(path));
  const tested = new Set(tests.flatMap(namesIn));
  return sources.flatMap((source) =>
    exportsOf(source)
      .filter((name) => (files.get(name)?.size ?? 0) < 2)
      .filter((name) => !(tested.has(name) && (names.get(source.path) ?? []).filter((one) => one === name).length > 1))
      .map((name) => `${source.path}: ${name}`),
  );
}

/** Those of the core that its build makes of the tables offer what the tables hold. */
const MADE = ["core/at.ts", "core/memory.ts", "core/records.ts", "record-offsets.ts"].map(
  (name) => `src/engine/${name}`,
);
const SOURCES = sourcesIn("src");
const OTHERS = filesIn("src").filter((path) => /\.(mjs|css)$/.test(path));
/** The library's faces. */
const FACES = ["src/index.ts", "src/core.ts", "src/engine/core/index.ts"];

test("every export is taken by another file, or by a test of what its own uses", () => {
  const tests = sourcesIn("test");
  const scripts = OTHERS.filter((path) => path.endsWith(".mjs")).map((path) => sourceOf(path));
  const dead = idle([...SOURCES, ...scripts], tests).filter(
    (found) => ![...FACES, ...MADE].includes(found.split(":")[0] ?? ""),
  );
  expect(dead).toEqual([]);
});

test("every file is named by another, or by the package", () => {
  const settings = ["package.json", "vitest.config.ts"].map((path) => readFileSync(join(ROOT, path), "utf8"));
  const texts = [
    ...SOURCES.map(({ path, text }) => ({ path, text })),
    ...OTHERS.map((path) => ({ path, text: readFileSync(join(ROOT, path), "utf8") })),
  ];
  const stems = [...SOURCES.map(({ path }) => path), ...OTHERS];
  const alone = stems.filter((path) => {
    const stem = basename(path).replace(/\.\w+$/, "");
    const named = new RegExp(`["'/]${stem.replaceAll(".", "\\.")}(\\.\\w+)?["']`);
    return ![...texts.filter((one) => one.path !== path).map(({ text }) => text), ...settings].some((text) =>
      named.test(text),
    );
  });
  expect(alone.filter((path) => !FACES.includes(path))).toEqual([]);
});

test("the rules bite", () => {
  const given = sourceOf("src/given.ts", "export const used = 1; export function idle() {} export type Told = 1;");
  const own = sourceOf("src/own.ts", "export const looked = 1; export const seen = looked + 1;");
  const taker = sourceOf("src/taker.ts", 'import { used } from "./given.ts"; used;');
  const looking = sourceOf("test/own.test.ts", "looked; seen;");
  expect(idle([given, own, taker], [looking])).toEqual(["src/given.ts: idle", "src/own.ts: seen"]);
});
