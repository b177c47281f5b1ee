/** What the least doses that reach a goal are said to be, held to their table. */
import { expect } from "vitest";
import { primeText } from "../../src/report/prime/prime-text.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import type { DoseResult, PrimeStudy } from "../../src/study/results.ts";
import { between, expectLoss, named } from "./reader.ts";

const reachesGoal = ({ goals }: PrimeStudy, { to_95_min: at, ramp_up_loss: loss }: DoseResult): boolean =>
  (at ?? Infinity) <= (goals.within_min ?? Infinity) + 1e-9 && (loss ?? Infinity) < (goals.loss_below ?? Infinity);

/** @param equal losses no further apart are: a cycle of each final machine */
export function readDoses(study: PrimeStudy, equal: number): void {
  const text = primeText(study, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ");
  const ids = study.tactics.map(({ id }) => id);
  const reached = study.tactics.filter(({ reaches }) => reaches);
  const best = reached.find(({ id }) => id === study.best);
  if (best !== undefined) {
    const said = between(text, "is worth doing: ", " With nothing done");
    expect(named(text.slice(0, text.indexOf(" is worth doing")), ids).at(-1)).toBe(best.id);
    expectLoss(said, best.ramp_up_loss);
    expect(best.granted && (best.reserve_kept ?? 0) >= 0.9 && reachesGoal(study, best)).toBe(true);
    // Of those that qualify and keep the limits as well none loses less.
    const equals = reached.filter(
      (one) => one.granted && (one.reserve_kept ?? 0) >= 0.9 && one.over_limit_item_min === best.over_limit_item_min,
    );
    const least = Math.min(...equals.map(({ ramp_up_loss: loss }) => loss ?? Infinity));
    expect((best.ramp_up_loss ?? Infinity) - least).toBeLessThanOrEqual(equal * 1.001 + 0.01);
  }
  if (reached.length === 0) expect(text).toMatch(/None of the \d+ tactics reaches it|The tactic does not reach it/);
  else if (ids.length > 1)
    expect(text).toContain(
      reached.length === ids.length ? "All tactics" : `${reached.length} of ${ids.length} tactics`,
    );
  expect(text.includes("With less reserve,")).toBe(study.best_without_reserve !== null);
  expect(text.includes("so does doing nothing")).toBe(study.best === "none");
  expect(text).not.toMatch(/(?:loses|gains) −|undefined|NaN/);
}
