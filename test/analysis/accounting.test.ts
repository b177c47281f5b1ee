/**
 * What a ramp-up costs, to the item. Source: own derivation. With S the rate at which the line makes its products in the
 * long run and takes its feed, one product an item,
 *
 *     S t − made(t) = held(t) + in process(t) + (S t − accepted(t)),
 *
 * and with a feed of exactly S, of which nothing is turned away, the last term is the part of an item that is due.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { approximate, type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { equalChain } from "./flow-networks.ts";
import { needOf, networkOf, randomChains } from "./random-chains.ts";
import { type Outcome, runNetwork, stateAt, withoutBelts } from "./runs.ts";

/** Counted from the engine's own state: items on belts and in buffers, in machines, made and accepted. */
function accountAt({ run: { program } }: Outcome, tick: number) {
  const state = stateAt(program, tick);
  const { machines } = program.network;
  const held = state.marks.held.reduce((total, count) => total + count, 0);
  const inProcess = machines.reduce(
    (total, { takes }, m) => total + (state.machineBusy[m] === 1 ? (takes[0]?.count ?? NaN) : 0),
    0,
  );
  const made = machines.reduce(
    (total, { makes }, m) => total + (state.totals.cycles[m] ?? NaN) * (makes[0]?.count ?? NaN),
    0,
  );
  return { held, inProcess, made, accepted: state.totals.fed[0] ?? NaN };
}

function expectBalanced(outcome: Outcome, perMin: Rational): void {
  const { settling, output } = outcome.result;
  const { tickS } = outcome.run.program;
  const tick = Math.round(((settling.time_min ?? NaN) * 60) / approximate(tickS));
  const { held, inProcess, made, accepted } = accountAt(outcome, tick);
  const due = perMin.mul(tickS).mul(whole(tick)).div(60n);
  const notYetDue = due.sub(whole(accepted));

  expect(made).toBe(accepted - held - inProcess);
  expect(notYetDue.compare(0n) >= 0 && notYetDue.compare(1n) < 0).toBe(true);
  expect(output.ramp_up_loss).toBeCloseTo(approximate(due.sub(whole(made))), 6);
  expect(output.ramp_up_loss).toBeCloseTo(held + inProcess + approximate(notYetDue), 6);
}

describe("feed = need: what is lost lies on the line, in the machines, or is the part of an item that is due", () => {
  test("a chain of four: two full buffers, and an item in each machine", () => {
    const outcome = runNetwork(withoutBelts(equalChain(4, whole(24), 60, whole(96))), whole(60));
    expectBalanced(outcome, whole(96));
    expect(Math.floor(outcome.result.output.ramp_up_loss ?? NaN)).toBe(2 * 60 + 4);
  });

  test("random chains", () => {
    let settled = 0;
    fc.assert(
      fc.property(randomChains({ supplies: ["1"] }), (given) => {
        const outcome = runNetwork(networkOf(given), whole(120));
        if (!outcome.result.settling.proved) return;
        settled++;
        expect(outcome.result.output.settled_per_min).toBe(needOf(given).toFraction());
        expectBalanced(outcome, needOf(given));
      }),
      { numRuns: 80 },
    );
    expect(settled).toBeGreaterThan(70);
  });
});

test("what one line lost, a longer horizon does not win back", () => {
  const network = withoutBelts(equalChain(8, whole(24), 60, whole(192)));
  const [short, long] = [30, 240].map((min) => runNetwork(network, whole(min)).result.output);
  const made = (long?.made ?? NaN) - (short?.made ?? NaN);
  expect(made).toBe(approximate(rational("192").mul(210n)));
});
