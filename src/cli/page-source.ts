/** What a report's page reads again: the file, with what options state in its place. */
import { basename } from "node:path";
import { formatDuration, type PageSource, withValue } from "../index.ts";
import type { Input } from "./input.ts";
import type { Overrides } from "./overrides.ts";

export function pageSource({ file, text, tables, scenario }: Input, { seed, horizon }: Overrides): PageSource {
  const stated = [
    ...(horizon === undefined
      ? []
      : [["horizon", scenario.horizonIsAuto ? "auto" : formatDuration(scenario.horizonMin)] as const]),
    ...(seed === undefined ? [] : [["seed", JSON.stringify(seed.trim())] as const]),
  ];
  const asStated = stated.reduce((before, [key, value]) => withValue(before, [key], value), text);
  return { text: asStated, file: basename(file), tables };
}
