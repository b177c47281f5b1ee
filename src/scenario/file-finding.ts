/** A finding is data: what is wrong, and where. Its prose is in messages.ts. */
import { MAX_FINDINGS } from "./file-limits.ts";
import { type ArgsOf, type Code, type Severity, sentence, severityOf } from "./messages.ts";

/** Keys and list indices from the root of the file. */
export type Path = readonly (string | number)[];

export interface FileFinding {
  readonly code: Code;
  readonly severity: Severity;
  readonly args: Readonly<Record<string, string>>;
  readonly path: Path;
  /** From 1; `null` where a finding concerns the file as a whole. */
  readonly line: number | null;
  readonly column: number | null;
  /** Where it concerns a table that the file takes its machines from; line and column are those of the cell. */
  readonly file?: string;
}

export interface Position {
  readonly line: number;
  readonly column: number;
  /** Of a table. */
  readonly file?: string;
}

/**
 * Where a path stands in the file: a text or number itself, a map's or list's key; with "key", always the key. A path
 * that the file does not hold is looked for from its end towards the root.
 */
export type Locate = (path: Path, at?: "key" | "value") => Position | null;

export function createFinding<C extends Code>(
  code: C,
  args: ArgsOf<C>,
  path: Path,
  position: Position | null,
): FileFinding {
  return {
    code,
    severity: severityOf(code),
    args,
    path,
    line: position?.line ?? null,
    column: position?.column ?? null,
    ...(position?.file === undefined ? {} : { file: position.file }),
  };
}

/** `line.yaml:8:5: unknown key "infede", did you mean "infeed"?`; warnings say so. */
export function formatFinding(finding: FileFinding, fileName: string): string {
  const place = placeOf(finding, fileName);
  const label = finding.severity === "warning" ? "warning: " : "";
  return `${place}: ${label}${sentence(finding.code, finding.args)}`;
}

function placeOf({ line, column, file }: FileFinding, fileName: string): string {
  if (line === null) return fileName;
  return file === undefined ? `${fileName}:${line}:${column ?? 1}` : `${file}, cell ${letters(column ?? 1)}${line}`;
}

/** As spreadsheets count columns: A, B, … Z, AA, … */
function letters(column: number): string {
  const rest = (column - 1) % 26;
  const before = (column - 1 - rest) / 26;
  return `${before > 0 ? letters(before) : ""}${String.fromCharCode(65 + rest)}`;
}

/** Collects the findings of one file, up to a limit, and remembers which parts of it are wrong. */
export interface FileFindings {
  report<C extends Code>(code: C, args: ArgsOf<C>, path: Path, at?: "key" | "value"): void;
  /** True if an error was found at the path or beneath: what depends on it need not be checked, it would only echo. */
  damaged(path: Path): boolean;
  /** True once further findings are only counted: suggestions for them would be wasted effort. */
  full(): boolean;
  hasErrors(): boolean;
  /** In the order of the file. */
  list(): readonly FileFinding[];
}

/** @param before findings made already, all of them errors */
export function collectFindings(locate: Locate, before: readonly FileFinding[] = []): FileFindings {
  const found: FileFinding[] = [...before];
  const damaged = new Set<string>();
  let errors = before.length;
  let notShown = 0;

  function markDamaged(path: Path): void {
    for (let length = 0; length <= path.length; length++) damaged.add(JSON.stringify(path.slice(0, length)));
  }
  for (const finding of before) markDamaged(finding.path);

  return {
    report(code, args, path, at) {
      if (severityOf(code) === "error") {
        errors++;
        markDamaged(path);
      }
      if (found.length < MAX_FINDINGS) found.push(createFinding(code, args, path, locate(path, at)));
      else notShown++;
    },
    damaged: (path) => damaged.has(JSON.stringify(path)),
    full: () => found.length >= MAX_FINDINGS,
    hasErrors: () => errors > 0,
    list() {
      const inOrder = found.toSorted(
        (a, b) =>
          Number(a.file !== undefined) - Number(b.file !== undefined) ||
          (a.line ?? 0) - (b.line ?? 0) ||
          (a.column ?? 0) - (b.column ?? 0),
      );
      return notShown === 0
        ? inOrder
        : [...inOrder, createFinding("more-findings", { count: String(notShown) }, [], null)];
    },
  };
}
