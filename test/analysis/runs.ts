/** Networks simulated, solved as flows and analysed, all in one. */
import { type Analysis, analyse } from "../../src/analysis/analyse.ts";
import { type FlowPhase, type FlowSolution, flowAt, solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Result } from "../../src/analysis/result.ts";
import { bookTotals } from "../../src/engine/over-time.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import type { State } from "../../src/engine/state.ts";
import { sweep } from "../../src/engine/tick.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { approximate, type Rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { solved } from "./flow-networks.ts";

export interface Outcome extends Analysis {
  readonly network: Network;
  readonly run: Run;
  readonly flow: FlowSolution;
}

export function runNetwork(network: Network, horizonMin: Rational, tickS = autoTickS(network)): Outcome {
  const flow = solved(solveFlow(network));
  const run = simulate(compile(network, tickS), { horizonTicks: ticksWithin(horizonMin, tickS) });
  return { network, run, flow, ...analyse(run, TITLE_AND_SEED, flow) };
}

/** All that `analyse` asks of a scenario. */
export const TITLE_AND_SEED = { title: "Test", seed: "1" };

/** Every element hands over to the next directly. */
export function withoutBelts(network: Network): Network {
  return { ...network, connections: network.connections.map((one) => ({ ...one, belt: null })) };
}

export const SHORT_BELT_PLACES = 2;

/** Belts as short as can be: room for two items, a transit of one tick, half as fast again as what is fed. */
export function withShortBelts(network: Network, feedPerMin: Rational): Network {
  const ratePerMin = feedPerMin.mul("3/2");
  const belt = { ratePerMin, capacity: SHORT_BELT_PLACES, transitMin: ZERO, metres: null };
  return { ...network, connections: network.connections.map((one) => (one.belt ? { ...one, belt } : one)) };
}

/** When each machine's buffer is full for the first time, minutes. */
export function fullTimes({ machines }: Result): (number | null)[] {
  return machines.map(({ infeed }) => infeed[0]?.full_at_min ?? null);
}

/** What the flow makes too little per minute just before its full output. */
export function lackingBefore({ flow }: Outcome): number {
  const before = flow.phases.findLast(({ outputPerMin }) => !outputPerMin.equals(flow.settledPerMin));
  return approximate(flow.settledPerMin.sub(before?.outputPerMin ?? ZERO));
}

/** Machines that never wait don't swing, so that a plant's leeway is an eighth of a product for each of them. */
export function leewayOfSteady(count: number): number {
  return count / 8;
}

/** A line that lacks this much per minute makes whole items: as good a time as can be told from them. */
export function apartBy(lackingPerMin: number): number {
  return 1 / 4 / lackingPerMin;
}

/** Completions are recorded up to here; afterwards they repeat. */
export function recordedMin({ steppedTicks, program }: Run): number {
  return (steppedTicks * approximate(program.tickS)) / 60;
}

export function productsUpTo(run: Run, tMin: number): number {
  const { completions, program } = run;
  if (tMin > recordedMin(run)) throw new RangeError(`nothing is recorded of ${tMin} min`);
  const upToTick = (tMin * 60) / approximate(program.tickS);
  let made = 0;
  for (let i = 0; i < completions.count && (completions.tick[i] ?? 0) <= upToTick; i++) {
    const { makes } = program.network.machines[completions.machine[i] ?? -1] ?? { makes: [] };
    for (const { count } of makes) made += count;
  }
  return made;
}

/** Calls back for every sample with the level of each machine's first buffer, simulated and as a flow. */
export function compareLevels(
  { run: { samples, program }, flow }: Outcome,
  compared: (simulated: number, flowing: number, tMin: number) => void,
): void {
  let phase: FlowPhase | null = null;
  let buffers: { readonly level: number; readonly netPerMin: number }[] = [];
  for (let sample = 0; sample < samples.count; sample++) {
    const t = program.tickS.mul(whole(samples.tick[sample] ?? 0)).div(60n);
    const now = flowAt(flow, t);
    if (now !== phase) {
      const infeeds = now.detail().machines.map(({ infeed }) => infeed[0] ?? { levelAtStart: ZERO, netPerMin: ZERO });
      buffers = infeeds.map((one) => ({
        level: approximate(one.levelAtStart),
        netPerMin: approximate(one.netPerMin),
      }));
      phase = now;
    }
    const [tMin, fromMin] = [approximate(t), approximate(now.fromMin)];
    for (const [m, { level, netPerMin }] of buffers.entries()) {
      const buffer = program.machine.infeed[m] ?? -1;
      const simulated = samples.level[sample * program.buffer.count + buffer] ?? -1;
      compared(simulated, level + netPerMin * (tMin - fromMin), tMin);
    }
  }
}

/** The engine's state after a tick. */
export function stateAt(program: Program, tick: number): State {
  const state = initialState(program);
  while (state.tick < tick) {
    sweep(program, state);
  }
  bookTotals(state);
  return state;
}
