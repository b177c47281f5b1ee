/** What a sweep is asked for: its quantities, its part and its workers. */
import { availableParallelism } from "node:os";
import {
  MOST_POINTS,
  type PlannedPoint,
  type Shard,
  type SweepProblem,
  type SweptQuantity,
  sweptQuantity,
} from "../index.ts";
import { mostWorkers } from "./address-space.ts";
import { RefusedError } from "./exit.ts";
import type { Overrides } from "./overrides.ts";
import type { Checked } from "./sweep-worker.ts";

const EXAMPLE = "--vary feeds.blender.rate=60/min..300/min:10/min";

const PROBLEMS: Readonly<Record<SweepProblem, string>> = {
  "no-value": `expected a path and its values, such as ${EXAMPLE}`,
  "bad-path": `expected a path of names with dots between them, such as machines.cartoner.infeed`,
  empty: "a value is missing; expected a list such as 50,100,200 or a range such as 60/min..300/min:10/min",
  "no-number":
    "a range goes from one quantity or whole number to another, by a third: 60/min..300/min:10/min, 2..16 or 50..200:25",
  unlike: "both ends of a range and its step are of one kind, such as 60/min..300/min:10/min",
  "no-step": "a range of quantities needs a step above zero: 60/min..300/min:10/min",
  twice: "a value is stated twice",
  "too-many": `at most ${MOST_POINTS} points`,
};

/** @throws RefusedError */
export function quantitiesFrom(texts: readonly string[], { horizon, seed }: Overrides): SweptQuantity[] {
  if (texts.length === 0) {
    throw new RefusedError(`state what to vary: fillfront sweep scenarios/short-chain.yaml ${EXAMPLE}`);
  }
  if (texts.length > 2) throw new RefusedError("--vary: one or two quantities can be varied");
  const quantities = texts.map((text) => {
    const found = sweptQuantity(text);
    if (typeof found !== "string") return found;
    throw new RefusedError(`--vary ${JSON.stringify(text)}: ${PROBLEMS[found]}`);
  });
  const [first, second] = quantities.map(({ path }) => path);
  if (first === second) throw new RefusedError(`--vary: ${first} is stated twice`);
  for (const [option, value] of Object.entries({ horizon, seed })) {
    if (value !== undefined && quantities.some(({ path }) => path === option)) {
      throw new RefusedError(`--${option} and --vary ${option} contradict each other`);
    }
  }
  if (quantities.reduce((points, { values }) => points * values.length, 1) > MOST_POINTS) {
    throw new RefusedError(`--vary: ${PROBLEMS["too-many"]}`);
  }
  return quantities;
}

/** @throws RefusedError */
export function shardFrom(text: string | undefined): Shard | null {
  if (text === undefined) return null;
  const [, part, of] = /^(\d{1,5})\/(\d{1,5})$/.exec(text)?.map(Number) ?? [];
  if (part !== undefined && of !== undefined && part >= 1 && part <= of && of <= MOST_POINTS) return { part, of };
  throw new RefusedError(`--shard ${JSON.stringify(text)}: expected a part and their number, such as 1/4`);
}

const MOST_JOBS = 256;

/** @returns worker threads, no more than there are points, nor than a limit of addresses has room for. @throws RefusedError */
export function jobsFrom(text: string | undefined, points: number): number {
  const jobs = text === undefined ? availableParallelism() : /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (jobs < 1 || (text !== undefined && jobs > MOST_JOBS)) {
    throw new RefusedError(
      `--jobs ${JSON.stringify(text)}: expected a number of workers from 1 to ${MOST_JOBS}, such as 4`,
    );
  }
  return Math.max(1, Math.min(jobs, points, MOST_JOBS, mostWorkers()));
}

const MOST_REASONS = 5;
const MOST_WARNINGS = 20;

/**
 * @param planned the points that were checked
 * @throws RefusedError where one of them is wrong: with the path, the value and what is wrong
 */
export function refuseWrong(checked: readonly Checked[], planned: readonly PlannedPoint[], file: string): void {
  const reasons = grouped(checked, planned, (one) => (one.ok ? [] : [one.errors.join("\n")]));
  if (reasons.size === 0) return;
  const told = [...reasons].slice(0, MOST_REASONS).map(([reason, where]) => `${file} ${withValues(where)}:\n${reason}`);
  if (reasons.size > MOST_REASONS) told.push(`${file}: and ${reasons.size - MOST_REASONS} more`);
  throw new RefusedError(told.join("\n"));
}

export function warningsOf(checked: readonly Checked[], planned: readonly PlannedPoint[]): string[] {
  const warnings = grouped(checked, planned, (one) => (one.ok ? one.warnings : []));
  const told = [...warnings]
    .slice(0, MOST_WARNINGS)
    .map(([warning, where]) => (where.length === planned.length ? warning : `${warning} (${withValues(where)})`));
  return warnings.size > MOST_WARNINGS ? [...told, `and ${warnings.size - MOST_WARNINGS} more warnings`] : told;
}

function grouped(
  checked: readonly Checked[],
  planned: readonly PlannedPoint[],
  textsOf: (one: Checked) => readonly string[],
): Map<string, PlannedPoint[]> {
  const groups = new Map<string, PlannedPoint[]>();
  for (const [index, one] of checked.entries()) {
    const point = planned[index];
    if (point === undefined) continue;
    for (const text of textsOf(one)) {
      const group = groups.get(text);
      if (group === undefined) groups.set(text, [point]);
      else if (group.every((other) => other.point !== point.point)) group.push(point);
    }
  }
  return groups;
}

function withValues([first, ...others]: readonly PlannedPoint[]): string {
  const values = (first?.settings ?? []).map(({ path, value }) => `${path.join(".")}=${value}`).join(", ");
  const more = others.length === 0 ? "" : ` and ${others.length} more ${others.length === 1 ? "point" : "points"}`;
  return `with ${values}${more}`;
}
