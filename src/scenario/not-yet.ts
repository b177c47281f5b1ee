/** Parts of the scenario file that later versions read. Saying so beats calling them unknown. */
import type { Path } from "./finding.ts";

const KEYS_OF_FILE = new Set(["random"]);

/** @param path the map that holds the key */
export function isKeyNotYet(path: Path, key: string): boolean {
  return path.length === 0 && KEYS_OF_FILE.has(key);
}

/** @param path the word's place */
export function isWordNotYet(path: Path, word: string): boolean {
  return path[0] === "lines" && path[2] === "dividers" && word === "weighted";
}
