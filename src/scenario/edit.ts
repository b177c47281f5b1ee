/** A value changed in the text of a scenario file, all else left as it is written. */
import { isMap, isScalar, parseDocument } from "yaml";
import { composed } from "./file-limits.ts";

/**
 * What stands there is replaced in place; a key that is not there yet is added to its map, for which that map alone is written
 * anew where it can be, else the whole file with its comments.
 * @param path keys from the root; all but the last must be there
 */
export function withValue(given: string, path: readonly string[], value: string): string {
  const text = composed(given);
  const document = parseDocument(text, { keepSourceTokens: true });
  const found: unknown = document.getIn(path, true);
  if (isScalar(found) && found.range != null) {
    const [from, to] = found.range;
    return `${text.slice(0, from)}${value}${text.slice(to)}`;
  }
  const above: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  const key = path.at(-1) ?? "";
  if (isMap(above) && above.range != null && found === undefined && above.items.length > 0) {
    const line = `${key}: ${value}`;
    const first = above.range[0];
    if (above.flow === true) return `${text.slice(0, first + 1)} ${line},${text.slice(first + 1)}`;
    const indent = first - (text.lastIndexOf("\n", first - 1) + 1);
    return `${text.slice(0, first)}${line}\n${" ".repeat(indent)}${text.slice(first)}`;
  }
  document.setIn(path, value);
  return document.toString({ lineWidth: 0 });
}

/** A scalar as it is written at a path; `null` where there is none. */
export function writtenAt(text: string): (path: readonly string[]) => string | null {
  const document = parseDocument(composed(text));
  return (path) => {
    const found: unknown = document.hasIn(path) ? document.getIn(path, true) : undefined;
    return isScalar(found) ? (found.source ?? String(found.value)) : null;
  };
}
