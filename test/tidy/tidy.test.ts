/** Rules of the house that a reader would otherwise have to watch over. */
import { existsSync, readFileSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import ts from "typescript";
import { expect, test } from "vitest";
import { filesIn, nodesOf, placeOf, ROOT, type Source, sourceOf, sourcesIn } from "./sources.ts";

/** From the ground up. */
/** The page stands beside the command line: it runs in a browser, and takes the core and what reports say. */
const FLOORS = ["quantity", "scenario", "network", "engine", "analysis", "study", "report", "cli"];
const MOST_LINES = 320;

const SOURCES = sourcesIn("src");

function floorOf(path: string): string {
  return path.split("/")[1] ?? "";
}

function wrongImports({ path, imports }: Source): string[] {
  const floor = floorOf(path);
  return imports.flatMap(({ from, isRelative, isTypeOnly }) => {
    if (!isRelative || path === "src/index.ts") return [];
    const below = floorOf(from);
    // What runs anywhere has no reports, which are written to disks.
    if (path === "src/core.ts") return ["report", "cli"].includes(below) ? [`${path} imports ${from}`] : [];
    const allowed =
      floor === "page"
        ? from === "src/core.ts" || ["page", "report"].includes(below)
        : floor === "cli"
          ? from === "src/index.ts" || below === "cli"
          : floor === "report" && below !== "report"
            ? below === "quantity" || ((below === "analysis" || below === "study") && isTypeOnly)
            : FLOORS.indexOf(below) >= 0 && FLOORS.indexOf(below) <= FLOORS.indexOf(floor);
    return allowed ? [] : [`${path} imports ${from}`];
  });
}

/** Names the starts it makes by their figures. */
const MAY_FORMAT = "src/study/tactic-parts.ts";

/** Studies give figures, which reports write with their units. */
function wordedFigures(source: Source): string[] {
  if (floorOf(source.path) !== "study" || source.path === MAY_FORMAT) return [];
  return [...nodesOf(source.tree)]
    .filter((node) => ts.isImportSpecifier(node))
    .filter((node) => /^format[A-Z]/.test((node.propertyName ?? node.name).text))
    .map((node) => placeOf(source, node));
}

/** What results may not depend on, and what belongs to the command line. */
const BANNED = [
  /^Math\.random$/,
  /^Date\b/,
  /^performance\b/,
  /^console\b/,
  /^process\.(?:env|argv|exit|stdout|stderr)$/,
  /\.(?:localeCompare|toLocale\w+)$/,
];

function bannedCalls(source: Source): string[] {
  if (floorOf(source.path) === "cli") return [];
  return [...nodesOf(source.tree)]
    .filter((node) => ts.isPropertyAccessExpression(node) || ts.isNewExpression(node))
    .filter((node) => BANNED.some((banned) => banned.test(node.expression.getText()) || banned.test(node.getText())))
    .map((node) => placeOf(source, node));
}

/** There `<T>x` turns one kind of number into another and `changetype` an address into a record, and `!` is a check. */
const CORE = "src/engine/core/";

function uncheckedTypes(source: Source): string[] {
  if (source.path.startsWith(CORE)) return [];
  const mayAssert = floorOf(source.path) === "engine";
  return [...nodesOf(source.tree)]
    .filter(
      (node) =>
        node.kind === ts.SyntaxKind.AnyKeyword ||
        ts.isTypeAssertionExpression(node) ||
        (ts.isAsExpression(node) && node.type.getText() !== "const") ||
        (ts.isNonNullExpression(node) && !mayAssert),
    )
    .map((node) => placeOf(source, node));
}

/** A file says what it is for: at its head or, where it is a single function or type, there. */
function saysWhatFor({ tree, text }: Source): boolean {
  if (/^(?:#!.*\n)?\/\*\*/.test(text)) return true;
  const first = tree.statements.find((statement) => !ts.isImportDeclaration(statement));
  return first !== undefined && /^\s*\/\*\*/.test(text.slice(first.getFullStart(), first.getStart()));
}

/** The files of one dependency cycle, if there is one. */
function cycleIn(sources: readonly Source[]): string[] {
  const byPath = new Map(sources.map((source) => [source.path, source]));
  const done = new Set<string>();
  const walk = (path: string, way: readonly string[]): string[] => {
    if (way.includes(path)) return [...way.slice(way.indexOf(path)), path];
    if (done.has(path)) return [];
    for (const { from, isRelative } of byPath.get(path)?.imports ?? []) {
      const cycle = isRelative ? walk(from, [...way, path]) : [];
      if (cycle.length > 0) return cycle;
    }
    done.add(path);
    return [];
  };
  return sources.map(({ path }) => walk(path, [])).find((cycle) => cycle.length > 0) ?? [];
}

test("imports run down the floors", () => {
  expect(SOURCES.length).toBeGreaterThan(50);
  expect(SOURCES.flatMap(wrongImports)).toEqual([]);
});

test("no study writes figures with their units", () => {
  expect(SOURCES.flatMap(wordedFigures)).toEqual([]);
});

test("no files depend on one another in a circle", () => {
  expect(cycleIn(SOURCES)).toEqual([]);
});

test("nothing below the command line looks at clock, chance, language or environment", () => {
  expect(SOURCES.flatMap(bannedCalls)).toEqual([]);
});

test("no type is taken on trust", () => {
  expect(SOURCES.flatMap(uncheckedTypes)).toEqual([]);
  expect(SOURCES.filter(({ text }) => /@ts-|biome-ignore|eslint-/.test(text)).map(({ path }) => path)).toEqual([]);
});

test("every source says what it is for and can be read at a sitting", () => {
  expect(SOURCES.filter((source) => !saysWhatFor(source)).map(({ path }) => path)).toEqual([]);
  expect(SOURCES.filter(({ text }) => text.split("\n").length > MOST_LINES).map(({ path }) => path)).toEqual([]);
});

test("the rules bite", () => {
  const wrong = (path: string, text: string): Source => sourceOf(path, text);
  expect(wrongImports(wrong("src/engine/x.ts", 'import { a } from "../analysis/a.ts";'))).toHaveLength(1);
  expect(wrongImports(wrong("src/report/x.ts", 'import { a } from "../analysis/a.ts";'))).toHaveLength(1);
  expect(wrongImports(wrong("src/report/x.ts", 'import type { a } from "../analysis/a.ts";'))).toHaveLength(0);
  expect(wrongImports(wrong("src/core.ts", 'export { a } from "./report/a.ts";'))).toHaveLength(1);
  expect(wrongImports(wrong("src/cli/x.ts", 'const a = await import("../report/a.ts");'))).toHaveLength(1);
  const formats = 'import { formatRate, formatLength as told } from "../quantity/units.ts";';
  expect(wordedFigures(wrong("src/study/x.ts", formats))).toHaveLength(2);
  expect(wordedFigures(wrong("src/report/x.ts", formats))).toEqual([]);
  const calls = "Math.random(); new Date(); Date.now(); console.log(1); a.localeCompare(b);";
  expect(bannedCalls(wrong("src/engine/x.ts", calls))).toHaveLength(5);
  expect(uncheckedTypes(wrong("src/report/x.ts", "const a = <B>c; const b = d as B; let e: any; f!;"))).toHaveLength(4);
  expect(uncheckedTypes(wrong("src/report/x.ts", 'import { a as b } from "c"; const d = [1] as const;'))).toEqual([]);
  expect(saysWhatFor(wrong("src/report/x.ts", 'import a from "b";\nexport const c = 1;'))).toBe(false);
  const circle = [wrong("src/a/x.ts", 'import "./y.ts";'), wrong("src/a/y.ts", 'export * from "./x.ts";')];
  expect(cycleIn(circle)).toEqual(["src/a/x.ts", "src/a/y.ts", "src/a/x.ts"]);
});

const FOLDERS = ["src", "test", "scenarios", "reports"].filter((folder) => existsSync(join(ROOT, folder)));
const ALL = FOLDERS.flatMap(filesIn);

test("file names are lower case, words joined by hyphens", () => {
  const odd = ALL.filter(
    (path) =>
      !path
        .replace(/\/README\.md$/, "")
        .split("/")
        .every((part) => /^[a-z0-9]+(?:[-.][a-z0-9]+)*$/.test(part)),
  );
  expect(odd).toEqual([]);
});

test("nothing names a place of one machine only", () => {
  const places = [ROOT, homedir()].map((place) => place.replace(/\/+$/, "")).filter((place) => place.length > 1);
  // Folders that people keep work and notes in; put together, so that this file doesn't name them.
  places.push(...["work", "shared", "root", "home", "Users"].map((folder) => `/${folder}/`));
  const texts = [...ALL, "README.md", "DEVELOPERS.md", "package.json"].filter(
    (path) => !path.endsWith(".png") && existsSync(join(ROOT, path)),
  );
  const found = texts.filter((path) => {
    const text = readFileSync(join(ROOT, path), "utf8");
    return places.some((place) => text.includes(place));
  });
  expect(found).toEqual([]);
});
