/** What checking the points of a sweep found, the same thing told once. */
import type { PlannedPoint } from "../index.ts";
import { RefusedError } from "./exit.ts";
import type { Checked } from "./sweep-worker.ts";

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
