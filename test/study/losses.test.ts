/**
 * What tactics can win, to the item, over random chains fed exactly what they need. Source: own derivation. At any time t,
 *
 *     S t − made(t) = held(t) + in process(t) + (S t − accepted(t)) − placed,
 *
 * with S the settled output. The loss is that difference when the line settles; from then on it only swings.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Tactic } from "../../src/scenario/tactic.ts";
import { standardTactics } from "../../src/study/comparison/standard-tactics.ts";
import { outcomeOf } from "../../src/study/outcome.ts";
import { play } from "../../src/study/play.ts";
import { type RandomChain, randomChains } from "../analysis/random-chains.ts";
import { inEvery, type Outcome, prefill, scenarioOf, swingOf, tactic } from "./chains.ts";

const EXACT = { supplies: ["1"] };
const ROUNDING = 1e-6;

function outcomeOrNull(given: RandomChain, parts: Partial<Tactic> = {}): Outcome | null {
  const one = play(scenarioOf(given), tactic(parts));
  const outcome = outcomeOf(one);
  if (!outcome.proved || one.result.output.settled_per_min !== one.result.output.full_per_min) return null;
  return { ...one, outcome, lost: outcome.ramp_up_loss ?? NaN, settledMin: outcome.settling_min ?? NaN };
}

function overSettled(property: (given: RandomChain) => boolean, runs: number): void {
  let applied = 0;
  fc.assert(
    fc.property(randomChains(EXACT), (given) => {
      if (property(given)) applied++;
    }),
    { numRuns: runs },
  );
  expect(applied).toBeGreaterThan(runs / 2);
}

test("an item placed where one would come to lie anyway is an item less lost", () => {
  overSettled((given) => {
    const none = outcomeOrNull(given);
    if (none === null) return false;
    // Up to the lowest level that the buffer settles at.
    const byMachine = none.result.machines.flatMap(({ id, infeed }) => {
      const amount = infeed[0]?.settled_low ?? 0;
      return amount > 0 ? [{ machine: id, amount }] : [];
    });
    const placed = byMachine.reduce((total, { amount }) => total + amount, 0);
    if (placed === 0) return false;
    const primed = outcomeOrNull(given, prefill({ byMachine }));
    if (primed === null) return false;
    expect(primed.itemsHandled).toBe(placed);
    expect(Math.abs(none.lost - primed.lost - placed)).toBeLessThanOrEqual(swingOf(none) + swingOf(primed) + ROUNDING);
    return true;
  }, 40);
});

test("without tactics, the loss is what lies on the line, and in the machines", () => {
  overSettled((given) => {
    const none = outcomeOrNull(given);
    if (none === null) return false;
    // Machines that never wait hold what a cycle takes at all times; of the feed, half an item is due on average.
    const inProcess = given.machines.reduce((total, { takes }) => total + takes, 0);
    const lies = none.outcome.hold_up_settled + inProcess;
    expect(Math.abs(none.lost - lies)).toBeLessThanOrEqual(swingOf(none) + 1);
    return true;
  }, 40);
});

test("no tactic without extra feed loses less than what lies on the line at last, less what was placed", () => {
  const reached = new Map<string, number>();
  fc.assert(
    fc.property(randomChains(EXACT), (given) => {
      for (const one of standardTactics(scenarioOf(given))) {
        if (one.boost) continue;
        const outcome = outcomeOrNull(given, one);
        if (outcome === null) continue;
        reached.set(one.id, (reached.get(one.id) ?? 0) + 1);
        const { hold_up_settled: liesAtLast, items_handled: placed } = outcome.outcome;
        expect(outcome.lost).toBeGreaterThanOrEqual(liesAtLast - placed - swingOf(outcome) - ROUNDING);
      }
    }),
    { numRuns: 12 },
  );
  expect(reached.size).toBe(20);
});

/**
 * S. M. Meerkov, L. Zhang, "Transient behavior of serial production lines with Bernoulli machines", IIE Transactions
 * 40(3), 2008: most production is lost from empty buffers, less from half-full ones, least from full ones.
 */
describe("from empty, half-full, full buffers", () => {
  test("less and less is lost", () => {
    overSettled((given) => {
      const none = outcomeOrNull(given);
      const half = outcomeOrNull(given, halfFull(given));
      const full = outcomeOrNull(given, prefill(inEvery(null)));
      if (none === null || half === null || full === null) return false;
      expect(none.lost).toBeGreaterThan(half.lost);
      expect(half.lost).toBeGreaterThanOrEqual(full.lost - swingOf(half) - swingOf(full) - ROUNDING);
      return true;
    }, 40);
  });

  function halfFull({ machines }: RandomChain): Partial<Tactic> {
    const byMachine = machines.map(({ room }, k) => ({ machine: `m${k + 1}`, amount: Math.floor(room / 2) }));
    return prefill({ byMachine });
  }
});
