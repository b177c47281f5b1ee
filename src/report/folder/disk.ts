/** The few things that a report's writer does with a disk, so that tests can put one in their place that fails. */
import { chmod, lstat, mkdir, open, readdir, readFile, realpath, rename, rm, rmdir } from "node:fs/promises";

export interface Disk {
  readonly realpath: (path: string) => Promise<string>;
  /** Of the link itself, if it is one; `null` where there is nothing. */
  readonly look: (path: string) => Promise<Seen | null>;
  readonly list: (folder: string) => Promise<readonly Listed[]>;
  readonly read: (file: string) => Promise<string>;
  /** With those above it. */
  readonly makeFolders: (folder: string) => Promise<unknown>;
  readonly makeFolder: (folder: string) => Promise<void>;
  /** Done when the content will outlast a power cut. */
  readonly write: (file: string, content: string | Uint8Array) => Promise<void>;
  /** Done when the names in the folder will outlast a power cut. */
  readonly settle: (folder: string) => Promise<void>;
  readonly rename: (from: string, to: string) => Promise<void>;
  readonly changeMode: (path: string, mode: number) => Promise<void>;
  /** With all that is in it; nothing there is no failure. */
  readonly remove: (path: string) => Promise<void>;
  readonly removeEmpty: (folder: string) => Promise<void>;
}

export interface Seen {
  readonly kind: "folder" | "file" | "link" | "other";
  /** Rights, as chmod takes them. */
  readonly mode: number;
  /** Which file system it lies on. */
  readonly device: number;
  readonly changedMs: number;
}

export interface Listed {
  readonly name: string;
  readonly isFile: boolean;
}

export const DISK: Disk = {
  realpath,
  look,
  list: async (folder) =>
    (await readdir(folder, { withFileTypes: true })).map((entry) => ({ name: entry.name, isFile: entry.isFile() })),
  read: (file) => readFile(file, "utf8"),
  makeFolders: (folder) => mkdir(folder, { recursive: true }),
  makeFolder: (folder) => mkdir(folder),
  write: async (path, content) => {
    const file = await open(path, "w");
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
  },
  settle: async (path) => {
    // Windows has no handles of folders to be flushed.
    if (process.platform === "win32") return;
    const folder = await open(path, "r");
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  },
  rename,
  changeMode: chmod,
  remove: (path) => rm(path, { recursive: true, force: true }),
  removeEmpty: rmdir,
};

async function look(path: string): Promise<Seen | null> {
  try {
    const own = await lstat(path);
    const kind = own.isDirectory() ? "folder" : own.isFile() ? "file" : own.isSymbolicLink() ? "link" : "other";
    const { mode, dev, mtimeMs } = own;
    return { kind, mode: mode & 0o7777, device: dev, changedMs: mtimeMs };
  } catch (error) {
    if (codeOf(error) === "ENOENT") return null;
    throw error;
  }
}

/** The system's name of what went wrong, such as "EACCES". */
export function codeOf(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : "";
}
