/** Parts of the scenario file that later versions read. Saying so beats calling them unknown. */
import type { Path } from "./finding.ts";

/** @param path the word's place */
export function isWordNotYet(path: Path, word: string): boolean {
  return path[0] === "lines" && path[2] === "dividers" && word === "weighted";
}
