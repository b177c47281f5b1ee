/** Files and standard input as bytes, within a limit. */
import { createReadStream } from "node:fs";
import { RefusedError } from "./exit.ts";

export const STANDARD_INPUT = "-";

/** What messages call the file. */
export function shownName(file: string): string {
  return file === STANDARD_INPUT ? "standard input" : file;
}

/** `null` if there is too much. @throws RefusedError where it can't be read */
export async function bytesOf(file: string, most: number): Promise<Uint8Array | null> {
  try {
    return await readBytes(file, most);
  } catch (error) {
    throw new RefusedError(`${shownName(file)}: ${reasonOf(error)}`);
  }
}

/** @throws RefusedError where they are no text */
export function textFrom(file: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw new RefusedError(`${shownName(file)}: ${reasonOf(error)}`);
  }
}

/** Counts as it reads, since pipes and devices don't tell their length; `null` if there is too much. */
export async function readBytes(file: string, most: number): Promise<Uint8Array | null> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of file === STANDARD_INPUT ? process.stdin : createReadStream(file)) {
    chunks.push(chunk);
    size += chunk.length;
    if (size > most) return null;
  }
  return Buffer.concat(chunks);
}

export function reasonOf(error: unknown): string {
  switch (error instanceof Error && "code" in error ? error.code : undefined) {
    case "ENOENT":
    case "ENOTDIR":
      return "no such file";
    case "EISDIR":
      return "a folder, not a file";
    case "EACCES":
      return "may not be read; check its permissions";
    case "ERR_ENCODING_INVALID_ENCODED_DATA":
      return "not text in UTF-8; save it so and try again";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
