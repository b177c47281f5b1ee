/** Parts of the scenario file that later versions read. Saying so beats calling them unknown. */
import { childOf, type Node } from "./document.ts";
import type { Path } from "./finding.ts";

const KEYS_OF_FILE = new Set(["limits", "random"]);
const KEYS_OF_FEED = new Set(["batch", "items"]);
const LAYOUTS = new Set(["tree", "loop", "lanes"]);

/** @param path the map that holds the key */
export function isKeyNotYet(path: Path, key: string): boolean {
  if (path.length === 0) return KEYS_OF_FILE.has(key);
  return path[0] === "feeds" && path.length === 2 && KEYS_OF_FEED.has(key);
}

/** @param path the word's place */
export function isWordNotYet(root: Node, path: Path, word: string): boolean {
  if (path[0] !== "lines") return false;
  if (path[2] === "layout") return LAYOUTS.has(word);
  if (path[2] === "dividers") return word === "weighted";
  return path[2] === "end" && (word === "return" || childOf(childOf(root, "outlets"), word) !== undefined);
}

/** What to state in place of keys that only later versions read; empty if there is nothing like it. */
export function keysInstead(path: Path): string {
  return path[0] === "feeds" ? "a feed states its item, and its rate or a profile" : "";
}
