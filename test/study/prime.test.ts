/** The least dose that reaches a goal, against an exhaustive search over all doses of small lines. */

import { describe, expect, test } from "vitest";
import { whole, ZERO } from "../../src/quantity/rational.ts";
import { primeText } from "../../src/report/prime/prime-text.ts";
import { asksText } from "../../src/report/text/tactic-words.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { type Means, PLAIN_MEANS } from "../../src/scenario/means.ts";
import { outcomeOf, type TacticOutcome } from "../../src/study/outcome.ts";
import { play } from "../../src/study/play.ts";
import { type Dosed, dosedTactics } from "../../src/study/prime/doses.ts";
import { leastDose, leastDoses } from "../../src/study/prime/prime.ts";
import { type Goals, NO_GOALS } from "../../src/study/recommended/goals.ts";
import { readDoses } from "../said/doses.ts";
import { chainOf } from "./chains.ts";

const belt = { ratePerMin: whole(80), capacity: 4, transitMin: ZERO, metres: null };
const LINE = chainOf({ count: 3, need: "20", room: 10, belt, minutes: "15" });

/** Where there are hundreds of doses, the first ones, or a coarser choice of them all. */
const FIRST = ["held", "far-end-first", "tail-starts-first"];
const TACTICS: Dosed[] = dosedTactics(LINE).map((dosed) => {
  const every = Math.ceil(dosed.doses.length / 16);
  const doses = FIRST.includes(dosed.id) ? dosed.doses.slice(0, 20) : dosed.doses.filter((_, i) => i % every === 0);
  return { ...dosed, doses };
});

const OUTCOMES = new Map(
  TACTICS.map((dosed) => [dosed.id, dosed.doses.map((dose) => outcomeOf(play(LINE, dosed.tacticOf(dose))))]),
);

const within = (withinMin: number): Goals => ({ ...NO_GOALS, withinMin });
const below = (lossBelow: number): Goals => ({ ...NO_GOALS, lossBelow });

const reaches = ({ withinMin, lossBelow }: Goals, { to_95_min: at, ramp_up_loss: loss }: TacticOutcome): boolean =>
  (withinMin === null || (at !== null && at <= withinMin)) &&
  (lossBelow === null || (loss !== null && loss < lossBelow));

const GOALS: Goals[] = [
  ...[0.25, 0.5, 1, 1.5].map(within),
  ...[5, 10, 15, 20].map(below),
  { ...within(0.5), lossBelow: 15 },
  { ...within(1.5), lossBelow: 10 },
];

describe.each(TACTICS.map((dosed) => [dosed.id, dosed] as const))("%s", (id, dosed) => {
  const outcomes = OUTCOMES.get(id) ?? [];

  test("the dose found reaches the goal and one less does not; it is the least where more never undoes it", () => {
    let reaching = 0;
    for (const goal of GOALS) {
      const found = leastDose(LINE, dosed, goal);
      const reached = outcomes.map((outcome) => reaches(goal, outcome));
      const index = dosed.doses.indexOf(found.dose ?? NaN);
      const isMonotone = reached.every((now, i) => now || !reached[i - 1]);
      if (isMonotone) expect([goal, found.reaches]).toEqual([goal, reached.includes(true)]);
      if (!found.reaches) continue;
      reaching++;
      expect(reached[index]).toBe(true);
      expect(found.one_less?.dose).toBe(dosed.doses[index - 1]);
      if (index > 0) expect(reached[index - 1]).toBe(false);
      if (isMonotone) expect([goal, index]).toEqual([goal, reached.indexOf(true)]);
      expect([found.to_95_min, found.ramp_up_loss]).toEqual([
        outcomes[index]?.to_95_min,
        outcomes[index]?.ramp_up_loss,
      ]);
    }
    expect(reaching).toBeGreaterThan(1);
  });
});

test("what is said of them is true of the table", () => {
  for (const goal of [within(0.5), below(12)]) readDoses(leastDoses(LINE, goal), 3);
});

test("of hundreds of doses, the few that reach the goal are found with few runs", () => {
  const held = dosedTactics(LINE).find(({ id }) => id === "held");
  if (held === undefined) throw new Error("no dose is of holding");
  expect(held.doses.length).toBe(361);
  const goal = within(1);
  const reached = held.doses.filter((dose) => dose <= 120 && reaches(goal, outcomeOf(play(LINE, held.tacticOf(dose)))));
  expect(reached.length).toBeGreaterThan(0);
  const found = leastDose(LINE, held, goal);
  expect([found.reaches, found.dose]).toEqual([true, reached[0]]);
  expect(found.runs).toBeLessThan(20);
});

test("where no dose does, that is said, with the dose that comes nearest", () => {
  const { tactics, goals } = leastDoses(LINE, below(-1000));
  expect(goals).toEqual({ within_min: null, loss_below: -1000, handled_below: null });
  expect(tactics.map(({ id }) => id)).toEqual(dosedTactics(LINE).map(({ id }) => id));
  for (const found of tactics) {
    expect(found).toMatchObject({ reaches: false, one_less: null });
    expect(found.dose).not.toBeNull();
    expect(found.ramp_up_loss).toBeGreaterThan(-1000);
  }
  // Placing items is the one tactic here that only ever helps: the most comes nearest.
  expect(tactics.find(({ id }) => id === "tail-stocked")?.dose).toBe(3);
});

test("where doing nothing does, the weakest dose is the least, with nothing less", () => {
  const { tactics } = leastDoses(LINE, within(15));
  expect(tactics.map(({ id }) => id)).toEqual(dosedTactics(LINE).map(({ id }) => id));
  for (const found of tactics) {
    expect(found).toMatchObject({ reaches: true, one_less: null, items_handled: 0 });
  }
});

describe("a handling budget", () => {
  const stocked = TACTICS.find(({ id }) => id === "stocked");
  if (stocked === undefined) throw new Error("no dose is of stock");
  const outcomes = OUTCOMES.get("stocked") ?? [];

  test.each([1, 5, 9, 13, 21, 33, 49])("below %s items: as an exhaustive search has it", (budget) => {
    const affordable = outcomes.filter(({ items_handled: handled }) => handled < budget);
    for (const goal of GOALS) {
      const found = leastDose(LINE, stocked, { ...goal, handledBelow: budget });
      const least = affordable.findIndex((outcome) => reaches(goal, outcome));
      expect([goal, found.reaches, found.reaches ? found.dose : null]).toEqual([
        goal,
        least >= 0,
        least >= 0 ? least : null,
      ]);
      expect(found.items_handled).toBeLessThan(budget);
    }
  });

  test("of nothing leaves nothing to say", () => {
    expect(leastDose(LINE, stocked, { ...within(1), handledBelow: 0 })).toMatchObject({
      reaches: false,
      dose: null,
      one_less: null,
    });
  });
});

test("a budget that affords only the first few of many doses is spent", () => {
  const line = chainOf({ count: 4, need: "20", room: 100, minutes: "60" });
  const stocked = dosedTactics(line).find(({ id }) => id === "stocked");
  if (stocked === undefined) throw new Error("no dose is of stock");
  // Doing nothing loses some 200 items; 10 in each of four buffers are 40 less.
  const found = leastDose(line, stocked, { ...below(170), handledBelow: 45 });
  const outcomes = stocked.doses.slice(0, 12).map((dose) => outcomeOf(play(line, stocked.tacticOf(dose))));
  const least = outcomes.findIndex((outcome) => reaches(below(170), outcome));
  expect(least).toBeGreaterThan(0);
  expect(found).toMatchObject({ reaches: true, dose: least, items_handled: 4 * least, one_less: { dose: least - 1 } });
});

describe("what is worth doing of the doses that reach the goal", () => {
  const line = chainOf({ count: 4, need: "20", room: 30, belt, minutes: "60" });
  const goal = below(45);
  const all: Means = {
    ...PLAIN_MEANS,
    hands: { items: 1000, ratePerMin: whole(60), while: "before" },
    levels: true,
    branches: true,
    dividers: true,
  };

  test("needs only what is granted; the least loss first, equal ones by time, then by handling", () => {
    const study = leastDoses({ ...line, means: all }, goal);
    const one = study.tactics.find(({ id }) => id === study.best);
    expect(one).toMatchObject({ reaches: true, granted: true });
    expect(one?.reserve_kept).toBeGreaterThanOrEqual(0.9);
    const equal = 4;
    for (const other of study.tactics) {
      if (!other.reaches || !other.granted || (other.reserve_kept ?? 0) < 0.9) continue;
      expect(other.ramp_up_loss).toBeGreaterThanOrEqual((one?.ramp_up_loss ?? NaN) - equal);
    }
  });

  test("without means what reaches it is named, with what it asks for, and does not win", () => {
    const study = leastDoses(line, goal);
    expect([study.best, study.tactics.some(({ reaches }) => reaches)]).toEqual([null, true]);
    const hands = study.tactics.find(({ id }) => id === study.best_with_hands);
    expect(asksText(hands?.asks_for ?? [])).toMatch(/^hands for \d+ items before the shift, /);
    expect(primeText(study, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ")).toContain(
      "but none that needs only what the floor grants",
    );
  });
});
