/** What a fit is asked for: its unknowns, and how sure its counts are. */
import { MOST_UNKNOWNS, type Unknown, type UnknownProblem, unknownOf } from "../index.ts";
import { RefusedError } from "./exit.ts";

const EXAMPLE = "--unknown feeds.blender.rate=100/min..300/min";

const PROBLEMS: Readonly<Record<UnknownProblem, string>> = {
  "no-value": `expected a path and its bounds, such as ${EXAMPLE}`,
  "bad-path": "expected a path of names with dots between them, such as machines.cartoner.infeed",
  "no-range": "expected the bounds between which to look, such as 100/min..300/min or 20..200",
  "no-number": "both bounds are quantities with their unit, such as 100/min, or whole numbers, such as 20",
  unlike: "both bounds are of one kind, such as 100/min..300/min",
  "not-rising": "the second bound must be above the first",
};

/** @throws RefusedError */
export function unknownsFrom(texts: readonly string[], seed: string | undefined): Unknown[] {
  if (texts.length === 0) {
    throw new RefusedError(
      `state what is unknown, and between which bounds: fillfront fit scenarios/pouch-trial.yaml --observed scenarios/pouch-trial-counts.csv ${EXAMPLE}`,
    );
  }
  if (texts.length > MOST_UNKNOWNS)
    throw new RefusedError(`--unknown: at most ${MOST_UNKNOWNS} unknowns can be fitted`);
  const unknowns = texts.map((text) => {
    const found = unknownOf(text);
    if (typeof found !== "string") return found;
    throw new RefusedError(`--unknown ${JSON.stringify(text)}: ${PROBLEMS[found]}`);
  });
  const paths = unknowns.map(({ path }) => path);
  const twice = paths.find((path, i) => paths.indexOf(path) !== i);
  if (twice !== undefined) throw new RefusedError(`--unknown: ${twice} is stated twice`);
  if (paths.includes("horizon")) {
    throw new RefusedError("--unknown horizon: a run goes as far as the observed times, whatever the horizon");
  }
  if (seed !== undefined && paths.includes("seed")) {
    throw new RefusedError("--seed and --unknown seed contradict each other");
  }
  return unknowns;
}

const ERROR = /^(?:(?<name>[^=]+)=)?(?<items>\d{1,9}(?:\.\d{1,9})?)$/;

/** By what is observed; "" for all others. @throws RefusedError */
export function errorsFrom(texts: readonly string[]): Map<string, number> {
  const errors = new Map<string, number>();
  for (const text of texts) {
    const { name = "", items = "0" } = ERROR.exec(text.trim())?.groups ?? {};
    if (Number(items) <= 0) {
      throw new RefusedError(
        `--error ${JSON.stringify(text)}: expected the error of a count in items, such as 2, or of one thing, such as made=5`,
      );
    }
    if (errors.has(name)) {
      throw new RefusedError(`--error: ${name === "" ? "one for all" : name} is stated twice`);
    }
    errors.set(name, Number(items));
  }
  return errors;
}
