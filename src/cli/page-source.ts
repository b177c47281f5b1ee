/** What a report's page reads again: the file, with what options state in its place. */
import { basename } from "node:path";
import { formatDuration, type PageSource, readScenario, type Scenario, withValue } from "../index.ts";
import { type Input, wholeText } from "./input.ts";
import type { Overrides } from "./overrides.ts";

export function pageSource(input: Input, { seed }: Pick<Overrides, "seed">): PageSource {
  const { file, scenario } = input;
  const text = wholeText(input);
  const read = readScenario(text);
  const stated = [
    // Where an option states another one than the file.
    ...(read.ok && read.scenario.horizonIsAuto === scenario.horizonIsAuto && isSame(read.scenario, scenario)
      ? []
      : [["horizon", scenario.horizonIsAuto ? "auto" : formatDuration(scenario.horizonMin)] as const]),
    ...(seed === undefined ? [] : [["seed", JSON.stringify(seed.trim())] as const]),
  ];
  const asStated = stated.reduce((before, [key, value]) => withValue(before, [key], value), text);
  return { text: asStated, file: basename(file) };
}

/** An open one is lengthened by running it. */
function isSame({ horizonMin: stated }: Scenario, { horizonIsAuto, horizonMin: used }: Scenario): boolean {
  return horizonIsAuto || stated.equals(used);
}
