/**
 * The flow solution: a network as piecewise-constant flows, from event to event, in exact rationals. Belts have no
 * length and no room, but their rate limits bind; items are a fluid. It is worked out from the network alone, so that
 * it stands beside the simulation as a second, independent opinion.
 *
 * - A feed offers its profile's rate; what the line can't accept is held back, not stored.
 * - A buffer takes whatever comes; a full one takes what its machine draws of that kind.
 * - A machine runs at the smallest share, at most 1, that its empty buffers' inflows allow, and draws from all its
 *   buffers at that share. Its products are never held back.
 * - Even dividers and merges share max-min fairly, ordered ones serve the first as far as it goes. Several connections
 *   that bring one kind to one machine are served in order.
 */
import type { Network } from "../../network/network.ts";
import { type Rational, ZERO } from "../../quantity/rational.ts";
import { FlowClock } from "./clock.ts";
import { FeedSteps } from "./feeds.ts";
import { buildFlowGraph, type FlowGraph, type FlowRefusal, refuse } from "./graph.ts";
import { type Amount, NONE, rationalOf, times, total } from "./number.ts";
import { type FlowEvent, FlowPhase, firstOfLast } from "./phase.ts";
import { BETWEEN, type BufferState, EMPTY, FULL, ratesIn } from "./rates.ts";
import type { FlowSolution } from "./solution.ts";

export {
  type ChangingBuffer,
  changingAt,
  flowAt,
  madeByMachine,
  madeUpTo,
  outputUpTo,
  runningMinutes,
  withinToleranceMin,
} from "./answers.ts";
export type { FlowRefusal } from "./graph.ts";
export type {
  FlowDetail,
  FlowEvent,
  FlowInfeedDetail,
  FlowMachineDetail,
  FlowPhase,
  MovingBuffer,
} from "./phase.ts";
export type { FlowSolution } from "./solution.ts";

export interface FlowOptions {
  /** Levels at time 0 of buffers that are not empty then. */
  readonly initialLevels?: readonly InitialLevel[];
}

export interface InitialLevel {
  readonly machine: string;
  readonly item: string;
  /** Items, from 0 to the buffer's capacity. */
  readonly level: Rational;
}

const MOST_EVENTS_PER_BUFFER_AND_STEP = 20;
/**
 * Squared connections times phases: halved again and again along a chain, flows get as many digits as it has dividers. A
 * chain of a thousand machines needs most of it, some seconds.
 */
const MOST_WORK = 5e9;

/**
 * @returns a refusal for networks with return loops, with several kinds on one connection or with several stages, and
 *   where the flows don't come to agree, events don't come to an end or the fractions get too long
 * @throws RangeError for an initial level that no buffer can have
 */
export function solveFlow(network: Network, options: FlowOptions = {}): FlowSolution | FlowRefusal {
  const graph = buildFlowGraph(network);
  if ("applies" in graph) return graph;
  const initialLevels = startLevels(graph, options.initialLevels ?? []);
  const steps = new FeedSteps(network);
  const phases: FlowPhase[] = [];
  const context = { graph, phases, initialLevels };
  const mostPhases = MOST_EVENTS_PER_BUFFER_AND_STEP * (graph.buffers.length + 1) * steps.count;

  const states = initialLevels.map((level, index) => stateOf(level, graph.buffers[index]?.capacity ?? 0n));
  const clock = new FlowClock(
    graph.buffers.map(({ capacity }) => capacity),
    new Map([...initialLevels.entries()].filter(([index]) => states[index] === BETWEEN)),
  );
  let events: readonly FlowEvent[] = [];
  for (;;) {
    if (phases.length >= mostPhases) return refuse(`the flows still change after ${phases.length} events`);
    if (phases.length * network.connections.length ** 2 > MOST_WORK) {
      return refuse(
        `a line of ${network.connections.length} connections is too long for exact fractions: their digits grow with every divider and event`,
      );
    }
    const rates = ratesIn(graph, states, steps.rates);
    if (rates === null) {
      return refuse(
        "the shares at merges and machines with several inlets depend on one another and do not come to agree",
      );
    }
    const moving = [...rates.nets.entries()]
      .filter(([, net]) => net.n !== 0n)
      .map(([buffer, net]) => ({ buffer, net }));
    const output = total(rates.running.map((running, index) => outputOf(graph, index, running)));
    const { timeMin: from, made } = clock;
    const record = { events, from, made, output, states: [...states], feedRates: steps.rates, moving };
    phases.push(new FlowPhase(phases.length, record, context));

    const step = clock.advance(moving, output, steps.nextMin);
    if (step === null) return summary(graph, phases);
    for (const { buffer } of moving) states[buffer] = BETWEEN;
    const ended = new Set(step.reached);
    for (const { buffer, net } of moving) if (ended.has(buffer)) states[buffer] = net.n > 0n ? FULL : EMPTY;
    events = [
      ...step.reached.map((buffer) => reachedEvent(graph, buffer, states[buffer] === FULL)),
      ...(step.onTime ? steps.advance() : []),
    ];
  }
}

function outputOf(graph: FlowGraph, machine: number, running: Amount): Amount {
  return times(graph.machines[machine]?.makes ?? NONE, running);
}

function reachedEvent(graph: FlowGraph, index: number, isFull: boolean): FlowEvent {
  const { machine, item } = graph.buffers[index] ?? { machine: -1, item: "" };
  return { what: isFull ? "full" : "empty", machine: graph.network.machines[machine]?.id ?? "", item };
}

function stateOf(level: Rational, capacity: bigint): BufferState {
  if (level.compare(capacity) === 0) return FULL;
  return level.compare(ZERO) === 0 ? EMPTY : BETWEEN;
}

function startLevels(graph: FlowGraph, given: readonly InitialLevel[]): Rational[] {
  const levels = graph.buffers.map(() => ZERO);
  for (const { machine, item, level } of given) {
    const index = graph.buffers.findIndex(
      (buffer) => buffer.item === item && graph.network.machines[buffer.machine]?.id === machine,
    );
    const capacity = graph.buffers[index]?.capacity;
    if (capacity === undefined) throw new RangeError(`machine ${machine} has no buffer of ${item}`);
    if (level.compare(ZERO) < 0 || level.compare(capacity) > 0) {
      throw new RangeError(`${level.toFraction()} ${item} at ${machine}: its buffer holds 0 to ${capacity}`);
    }
    levels[index] = level;
  }
  return levels;
}

function summary(graph: FlowGraph, phases: readonly FlowPhase[]): FlowSolution {
  const last = phases.at(-1);
  if (last === undefined) throw new Error("a flow solution has at least one phase");
  const settledPerMin = last.outputPerMin;
  const settled = firstOfLast(phases, ({ outputPerMin }) => outputPerMin.equals(settledPerMin)) ?? last;
  return {
    applies: true,
    phases,
    fullPerMin: rationalOf(total(graph.machines.map(({ makes }) => makes))),
    settledPerMin,
    settlingMin: settled.fromMin,
    rampUpLoss: settledPerMin.mul(settled.fromMin).sub(settled.madeBefore),
  };
}
