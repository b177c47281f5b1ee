/** What a report's page reads again: the file, with what options state in its place. */
import { basename } from "node:path";
import { formatDuration, type PageSource, type Scenario, withValue } from "../index.ts";
import { type Input, wholeText } from "./input.ts";
import type { Overrides } from "./overrides.ts";

export function pageSource(input: Input, { seed }: Pick<Overrides, "seed">): PageSource {
  const { file, asFiled, scenario } = input;
  const stated = [
    // Where an option states another one than the file.
    ...(asFiled.horizonIsAuto === scenario.horizonIsAuto && isSame(asFiled, scenario)
      ? []
      : [["horizon", scenario.horizonIsAuto ? "auto" : formatDuration(scenario.horizonMin)] as const]),
    ...(seed === undefined ? [] : [["seed", JSON.stringify(seed.trim())] as const]),
  ];
  const asStated = stated.reduce((before, [key, value]) => withValue(before, [key], value), wholeText(input));
  return { text: asStated, file: basename(file) };
}

/** An open one is lengthened by running it. */
function isSame({ horizonMin: stated }: Scenario, { horizonIsAuto, horizonMin: used }: Scenario): boolean {
  return horizonIsAuto || stated.equals(used);
}
