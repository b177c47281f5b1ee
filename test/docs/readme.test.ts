/**
 * What the README tells a reader to type works, and what it points at exists. With FILLFRONT_GOLDEN=write what is made from the
 * program, sample output, the file's schema and its reference, is written anew.
 */
import { existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { cp, mkdir, symlink, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, test } from "vitest";
import { prepare, readScenario, scenarioSchema } from "../../src/index.ts";
import { emptyFolder, MAIN, SCENARIOS } from "../cli/command.ts";
import { shell } from "../cli/shell.ts";
import { reference } from "./reference.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const GUIDES = ["README.md", "scenarios/README.md", "reports/README.md"] as const;
const TEXTS = new Map(GUIDES.map((name) => [name, readFileSync(join(ROOT, name), "utf8")]));
const README = TEXTS.get("README.md") ?? "";
const writes = process.env.FILLFRONT_GOLDEN === "write";

interface Block {
  readonly language: string;
  readonly text: string;
}

const BLOCKS: readonly Block[] = [...TEXTS.values()].flatMap((guide) =>
  [...guide.matchAll(/^```(\w*)\n(.*?)^```$/gms)].map(([, language = "", text = ""]) => ({ language, text })),
);

const lines = (language: string): string[] =>
  BLOCKS.filter((block) => block.language === language).flatMap(({ text }) => text.split("\n"));

test("the first commands are the two that set everything up", () => {
  expect(lines("sh").slice(0, 3)).toContain("npm ci && npm start");
  expect(lines("sh").slice(0, 3)).toContain("npm ci && npm test");
  expect(README.indexOf("npm ci")).toBeLessThan(README.indexOf("## "));
});

/** Of the run in the README. */
const SHOWN_LINES = 9;

/** A folder with the scenarios and the built program. */
async function plant(): Promise<string> {
  const folder = await emptyFolder();
  await cp(SCENARIOS, join(folder, "scenarios"), { recursive: true });
  await symlink(dirname(dirname(MAIN)), join(folder, "dist"));
  return folder;
}

const COMMANDS = lines("sh").filter((line) => /^(?:npx )?fillfront |^node dist\//.test(line));

describe("commands", () => {
  test("there are some", () => {
    expect(COMMANDS.length).toBeGreaterThan(0);
  });

  test.each(COMMANDS)("%s", async (command) => {
    const { status, stdout, stderr } = await shell(command, await plant());
    expect(status, stderr).toBe(0);
    if (!command.includes(">")) expect(stdout).not.toBe("");
  });
});

test("the README is read in five minutes", () => {
  expect(statSync(join(ROOT, "README.md")).size).toBeLessThan(10_000);
});

test("its sample output is what is printed", async () => {
  const { stdout } = await shell(
    `"${process.execPath}" dist/cli/main.js run scenarios/short-chain.yaml --no-charts -q`,
    await plant(),
  );
  const block = /```text\n(Eight cartoners.*?)```/s;
  const head = `${stdout.split("\n").slice(0, SHOWN_LINES).join("\n")}\n…\n`;
  if (writes)
    writeFileSync(
      join(ROOT, "README.md"),
      README.replace(block, () => `\`\`\`text\n${head}\`\`\``),
    );
  else expect(block.exec(README)?.[1]).toBe(head);
});

test("the file's schema that editors are given is the program's, and its reference that of the schema", () => {
  const schema = join(ROOT, "scenarios/scenario.schema.json");
  const made = `${JSON.stringify(scenarioSchema(), null, 2)}\n`;
  if (writes) writeFileSync(schema, made);
  else expect(readFileSync(schema, "utf8")).toBe(made);
  const guide = TEXTS.get("scenarios/README.md") ?? "";
  const part = /(<!-- reference -->\n).*(<!-- \/reference -->)/s;
  const whole = guide.replace(part, (_, begin, end) => `${begin}\n${reference()}\n\n${end}`);
  if (writes) writeFileSync(join(ROOT, "scenarios/README.md"), whole);
  else expect(guide).toBe(whole);
});

test.each([...GUIDES, "DEVELOPERS.md"])("everything that %s links to exists", (name) => {
  const text = readFileSync(join(ROOT, name), "utf8");
  const targets = [...text.matchAll(/\]\(([^)\s]+)\)/g)].map(([, target = ""]) => target);
  const missing = targets
    .filter((target) => !/^[a-z]+:/.test(target))
    .map((target) => target.split("#"))
    .filter(([path = "", anchor]) => {
      const target = join(dirname(name), path === "" ? basename(name) : path);
      if (!existsSync(join(ROOT, target))) return true;
      return anchor !== undefined && !headings(readFileSync(join(ROOT, target), "utf8")).includes(anchor);
    });
  expect(missing).toEqual([]);
});

/** Anchors as GitHub makes them. */
function headings(text: string): string[] {
  return [...text.matchAll(/^#+ (.+)$/gm)].map(([, heading = ""]) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N} -]/gu, "")
      .replaceAll(" ", "-"),
  );
}

const WHOLE = BLOCKS.filter(({ language, text }) => language === "yaml" && text.startsWith("title:"));

test.each(WHOLE)("the scenario in it is one", ({ text }) => {
  const outcome = readScenario(text);
  expect(outcome).toMatchObject({ ok: true, warnings: [] });
  if (outcome.ok) expect(prepare(outcome.scenario, outcome.locate)).toMatchObject({ ok: true, warnings: [] });
});

const SNIPPETS = BLOCKS.filter(({ language }) => language === "ts").map(({ text }) => text);

test.each(SNIPPETS)("the TypeScript in it compiles and runs", async (snippet) => {
  const folder = await emptyFolder();
  await cp(SCENARIOS, join(folder, "scenarios"), { recursive: true });
  await mkdir(join(folder, "node_modules"));
  await symlink(ROOT, join(folder, "node_modules", "fillfront"));
  const file = join(folder, "snippet.mts");
  await writeFile(file, snippet);
  const options: ts.CompilerOptions = {
    strict: true,
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    skipLibCheck: true,
    typeRoots: [join(ROOT, "node_modules", "@types")],
    types: ["node"],
  };
  const program = ts.createProgram([file], options);
  const faults = ts.getPreEmitDiagnostics(program).map((one) => ts.flattenDiagnosticMessageText(one.messageText, "\n"));
  expect(faults).toEqual([]);
  program.emit();
  const { status, stdout, stderr } = await shell(`"${process.execPath}" snippet.mjs`, folder);
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(stdout).not.toBe("");
});
