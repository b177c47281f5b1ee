/** Plants run until they are proved to repeat, and their exact long-run rates. */
import { type Recurrence, watchForRecurrence } from "../../src/engine/recurrence.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { sweep } from "../../src/engine/tick.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS, inMinutes, ticksWithin } from "../../src/network/tick.ts";
import { type Rational, whole } from "../../src/quantity/rational.ts";

export interface Settled {
  /** Share of the time that each machine runs, by id: cycles finished times their length. */
  readonly running: ReadonlyMap<string, Rational>;
  /** Items/min, by feed and by connection. */
  readonly fed: ReadonlyMap<string, Rational>;
  readonly passed: ReadonlyMap<string, Rational>;
}

const MOST_MINUTES = 180;

/** @returns `null` where no recurrence is found within three hours */
export function settle(network: Network): Settled | null {
  const tickS = autoTickS(network);
  const program = compile(network, tickS);
  const recurrence = recurrenceOf(program, ticksWithin(whole(MOST_MINUTES), tickS));
  if (recurrence === null) return null;
  const periodMin = inMinutes(recurrence.periodTicks, tickS);
  const rates = (elements: readonly { readonly id: string }[], counts: Float64Array) =>
    new Map(elements.map(({ id }, index) => [id, whole(counts[index] ?? 0).div(periodMin)]));
  const { cycles, fed, passed } = recurrence.period;
  const runs = network.machines.map(
    ({ id, cycleMin }, m) =>
      [
        id,
        whole(cycles[m] ?? 0)
          .mul(cycleMin)
          .div(periodMin),
      ] as const,
  );
  return { running: new Map(runs), fed: rates(network.feeds, fed), passed: rates(network.connections, passed) };
}

/** As `simulate` finds it, but without what comes after. */
function recurrenceOf(program: Program, mostTicks: number): Recurrence | null {
  const state = initialState(program);
  const watch = watchForRecurrence(program, state);
  while (state.tick < mostTicks) {
    sweep(program, state);
    const recurrence = watch.observe(state);
    if (recurrence !== null) return recurrence;
  }
  return null;
}
