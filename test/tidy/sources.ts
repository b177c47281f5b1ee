/** The sources as syntax trees, for rules that neither the compiler nor the linter knows. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, extname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));

export interface Source {
  /** From the root of the project, with slashes. */
  readonly path: string;
  readonly text: string;
  readonly tree: ts.SourceFile;
  readonly imports: readonly Import[];
}

export interface Import {
  /** A path like `Source.path` for a relative import, else the package's name. */
  readonly from: string;
  readonly isRelative: boolean;
  readonly isTypeOnly: boolean;
}

/** All files beneath a folder of the project, by path. */
export function filesIn(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
}

export function sourcesIn(folder: string): Source[] {
  return filesIn(folder)
    .filter((path) => /(?<!\.d)\.ts$/.test(path))
    .map((path) => sourceOf(path));
}

export function sourceOf(path: string, text = readFileSync(join(ROOT, path), "utf8")): Source {
  const tree = ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, true);
  return { path, text, tree, imports: importsOf(tree) };
}

/** The node and all beneath it, without bare punctuation. */
export function nodesOf(node: ts.Node): ts.Node[] {
  const found = [node];
  ts.forEachChild(node, (child) => {
    for (const one of nodesOf(child)) found.push(one);
  });
  return found;
}

/** `src/cli/run.ts:12`, and what stands there. */
export function placeOf({ path, tree }: Source, node: ts.Node): string {
  return `${path}:${tree.getLineAndCharacterOfPosition(node.getStart()).line + 1}: ${node.getText().split("\n")[0]}`;
}

function importsOf(tree: ts.SourceFile): Import[] {
  const found: Import[] = [];
  const add = (specifier: ts.Node | undefined, isTypeOnly: boolean): void => {
    if (specifier === undefined || !ts.isStringLiteral(specifier)) return;
    const isRelative = specifier.text.startsWith(".");
    // AssemblyScript takes the ending as read.
    const file = extname(specifier.text) === "" ? `${specifier.text}.ts` : specifier.text;
    const from = isRelative ? join(dirname(tree.fileName), file).split(sep).join("/") : specifier.text;
    found.push({ from, isRelative, isTypeOnly });
  };
  for (const node of nodesOf(tree)) {
    if (ts.isImportDeclaration(node)) add(node.moduleSpecifier, onlyTypes(node.importClause));
    else if (ts.isExportDeclaration(node)) add(node.moduleSpecifier, node.isTypeOnly);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) add(node.argument.literal, true);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      add(node.arguments[0], false);
    }
  }
  return found;
}

function onlyTypes(clause: ts.ImportClause | undefined): boolean {
  if (clause === undefined) return false;
  if (clause.isTypeOnly) return true;
  const named = clause.namedBindings;
  return (
    clause.name === undefined &&
    named !== undefined &&
    ts.isNamedImports(named) &&
    named.elements.every((element) => element.isTypeOnly)
  );
}
