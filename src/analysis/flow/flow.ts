/**
 * The flow solution: a plant as piecewise-constant flows, from event to event, in exact rationals. Belts have no
 * length and no room, but their rate limits bind; items are a fluid. It is worked out from the network alone, so that
 * it stands beside the simulation as a second, independent opinion.
 *
 * - A feed offers its profile's rate, or unloads one vehicle after another; what the line can't accept is held back.
 * - A buffer takes whatever comes; a full one takes what leaves it. One that isn't empty gives whatever is wanted; an
 *   empty one gives what comes. So it is with infeeds, outfeeds and surge buffers alike.
 * - A machine runs at the smallest share, at most 1, that its empty infeeds' inflows and its full outfeeds' outflows
 *   allow, and draws from all its infeeds and makes into all its outfeeds at that share. A kind that no connection
 *   collects leaves by itself.
 * - Even dividers and merges share max-min fairly, ordered ones serve the first as far as it goes. Several connections
 *   that bring one kind to one machine, or take one kind from it, are served in order.
 *
 * Of several rates that agree with one another the greatest are taken (agreement.ts). Flows that never become constant
 * are followed until the whole state comes back, or is seen to come ever closer to one that would (approach.ts).
 */
import type { Network } from "../../network/network.ts";
import { type Rational, ratio, ZERO } from "../../quantity/rational.ts";
import { agreementIn } from "./agreement.ts";
import { ApproachWatch, type Levels } from "./approach.ts";
import { FlowClock } from "./clock.ts";
import { Supply } from "./feeds.ts";
import { buildFlowGraph, type FlowGraph, type FlowRefusal, refuse } from "./graph.ts";
import { tooLong } from "./lengths.ts";
import { amountOf } from "./number.ts";
import { bufferName, type FlowEvent, FlowPhase } from "./phase.ts";
import { BETWEEN, BoundlessFlowError, type BufferState, EMPTY, FULL, netsOf, outputOf } from "./rates.ts";
import type { FlowSolution } from "./solution.ts";
import { solutionOf } from "./summary.ts";

export {
  type ChangingBuffer,
  changingAt,
  flowAt,
  madeByMachine,
  madeUpTo,
  outputUpTo,
  runningMinutes,
  runningMinutesNearly,
  withinToleranceMin,
} from "./answers.ts";
export type { BufferSide, FlowRefusal } from "./graph.ts";
export type {
  BufferName,
  FlowBufferDetail,
  FlowDetail,
  FlowEvent,
  FlowMachineDetail,
  FlowPhase,
  MovingBuffer,
} from "./phase.ts";
export type { FlowMeans, FlowPeriod, FlowSolution } from "./solution.ts";

export interface FlowOptions {
  /** Levels at time 0 of infeed buffers that are not empty then. */
  readonly initialLevels?: readonly InitialLevel[];
}

export interface InitialLevel {
  readonly machine: string;
  readonly item: string;
  /** Items, from 0 to the buffer's capacity. */
  readonly level: Rational;
}

const MOST_EVENTS_PER_BUFFER_AND_STEP = 20;
/** With outfeeds, surges or vehicles a plant may swing for long before its state comes back. */
const MOST_EVENTS_OF_A_SWINGING_PLANT = 3000;
/** Flows worked out, times the square of their length in 300 digits, for each node of the plant; and for all together. */
const MOST_EFFORT_PER_NODE = 8e4;
const MOST_EFFORT = 6e7;
/** Binary digits of the denominator of a swinging plant's levels. */
const MOST_DIGITS = 3000;
/**
 * Squared connections times phases: halved again and again along a chain, flows get as many digits as it has dividers. Ten
 * thousand machines of which fifty fill need most of it, a thousand that all do a sixth: 5 s each; some 20 s at most.
 */
const MOST_WORK = 2.5e10;

/**
 * @returns a refusal for networks with return loops or with several kinds on one connection, and where rates are not
 *   found that agree with one another, events don't come to an end or the fractions get too long
 * @throws RangeError for an initial level that no buffer can have
 */
export function solveFlow(network: Network, options: FlowOptions = {}): FlowSolution | FlowRefusal {
  const graph = buildFlowGraph(network);
  if ("applies" in graph) return graph;
  const fault = tooLong(network);
  if (fault !== null) return refuse(fault);
  return new FlowRun(graph, startLevels(graph, options.initialLevels ?? [])).solve();
}

class FlowRun {
  readonly #graph: FlowGraph;
  readonly #initialLevels: readonly Rational[];
  readonly #states: BufferState[];
  readonly #supply: Supply;
  readonly #clock: FlowClock;
  readonly #phases: FlowPhase[] = [];
  readonly #mostPhases: number;
  /** By what decides the future, the phase that began with it. */
  readonly #seen = new Map<string, number>();
  #watch: ApproachWatch | null = new ApproachWatch();
  /** Levels that the coming phase begins with, where they are not those at the end of the last. */
  #corrected: Levels | null = null;
  #correctedAt: number | null = null;
  readonly #mostEffort: number;
  #effort = 0;

  constructor(graph: FlowGraph, initialLevels: readonly Rational[]) {
    this.#graph = graph;
    this.#initialLevels = initialLevels;
    this.#states = initialLevels.map((level, index) => stateOf(level, graph.buffers[index]?.capacity ?? 0n));
    this.#supply = new Supply(graph.network);
    this.#clock = new FlowClock(
      graph.buffers.map(({ capacity }) => capacity),
      new Map([...initialLevels.entries()].filter(([index]) => this.#states[index] === BETWEEN)),
    );
    this.#mostEffort = Math.min(MOST_EFFORT, MOST_EFFORT_PER_NODE * graph.nodes.length);
    const swings = graph.mayRecur ? MOST_EVENTS_OF_A_SWINGING_PLANT : 0;
    this.#mostPhases = swings + MOST_EVENTS_PER_BUFFER_AND_STEP * (graph.buffers.length + 1) * this.#supply.steps;
  }

  solve(): FlowSolution | FlowRefusal {
    this.#supplyFrom(ZERO, new Set());
    let events: readonly FlowEvent[] = [];
    for (;;) {
      const refusal = this.#tooMuch();
      if (refusal !== null) return refusal;
      const periodFrom = this.#seenBefore();
      if (periodFrom === "never") return refuse("events crowd ever closer towards a moment that they never reach");
      if (periodFrom !== null) {
        const repeats = { from: periodFrom, end: this.#clock, reached: this.#correctedAt === null };
        return solutionOf(this.#graph, this.#phases, repeats);
      }
      const next = this.#nextPhase(events);
      if (next === null) {
        return refuse(
          "the shares at merges and machines with several inlets depend on one another and do not come to agree",
        );
      }
      if (next === "boundless") return refuse("a buffer would empty into another in no time");
      if (next === "settled") return solutionOf(this.#graph, this.#phases, null);
      events = next;
    }
  }

  #tooMuch(): FlowRefusal | null {
    const { connections } = this.#graph.network;
    const count = this.#phases.length;
    if (this.#correctedAt !== null && count > 2 * this.#correctedAt) {
      return refuse(`the flows still change after ${count} events, and the pattern they seem to approach is none`);
    }
    if (count >= this.#mostPhases || (this.#graph.mayRecur && this.#effort > this.#mostEffort)) {
      return refuse(`the flows still change after ${count} events`);
    }
    if (this.#graph.mayRecur && this.#clock.digits > MOST_DIGITS) {
      return refuse(`the flows still change after ${count} events, and their fractions get too long`);
    }
    if (count * connections.length ** 2 > MOST_WORK) {
      return refuse(
        `a line of ${connections.length} connections is too long for exact fractions: their digits grow with every divider and event`,
      );
    }
    return null;
  }

  /** @returns the phase that began with the state of now, or that nothing will ever come back */
  #seenBefore(): number | "never" | null {
    if (!this.#graph.mayRecur || !this.#supply.isSteady) return null;
    const { numerator, denominator } = this.#clock.timeMin;
    const nowMin = ratio(numerator, denominator);
    const course = `${this.#states.join("")}|${this.#supply.key(nowMin)}`;
    const levels = this.#clock.levels;
    const before = this.#seen.get(stateKey(course, levels));
    if (before !== undefined) return before;
    const approach = this.#watch?.visit(course, levels, amountOf(nowMin)) ?? null;
    if (approach?.what === "moment") return "never";
    if (approach !== null) {
      // Whether the pattern is one shows when it comes back, for which there is one chance.
      this.#watch = null;
      this.#clock.levels = approach.levels;
      this.#corrected = approach.levels;
      this.#correctedAt = this.#phases.length;
      this.#seen.clear();
    }
    this.#seen.set(stateKey(course, this.#clock.levels), this.#phases.length);
    return null;
  }

  /** Records a phase and goes on to its end, with the events there. */
  #nextPhase(events: readonly FlowEvent[]): readonly FlowEvent[] | "settled" | "boundless" | null {
    const graph = this.#graph;
    const situation = { states: [...this.#states], feedRates: this.#supply.rates };
    const agreement = boundlessAside(() => agreementIn(graph, situation));
    if (agreement === null || agreement === "boundless") return agreement;
    this.#effort += agreement.rounds * graph.nodes.length * (1 + (this.#clock.digits / 300) ** 2);
    const moving = [...netsOf(agreement.rates).entries()]
      .filter(([, net]) => net.n !== 0n)
      .map(([buffer, net]) => ({ buffer, net }));
    const output = outputOf(graph, agreement.rates);
    const { timeMin: from, made } = this.#clock;
    const record = {
      events,
      from,
      made,
      output,
      situation,
      guess: agreement.guess,
      moving,
      corrected: this.#corrected,
    };
    this.#corrected = null;
    const context = { graph, phases: this.#phases, initialLevels: this.#initialLevels };
    this.#phases.push(new FlowPhase(this.#phases.length, record, context));

    const step = this.#clock.advance(moving, output, this.#supply.nextMin);
    if (step === null) return "settled";
    for (const { buffer } of moving) this.#states[buffer] = BETWEEN;
    const ended = new Set(step.reached);
    for (const { buffer, net } of moving) if (ended.has(buffer)) this.#states[buffer] = net.n > 0n ? FULL : EMPTY;
    const reached = step.reached.flatMap((buffer): FlowEvent[] => {
      const name = bufferName(graph, buffer);
      return name === null ? [] : [{ what: this.#states[buffer] === FULL ? "full" : "empty", ...name }];
    });
    const emptied = new Set(
      step.reached
        .filter((buffer) => graph.buffers[buffer]?.side === "vehicle")
        .map((buffer) => graph.buffers[buffer]?.owner ?? -1),
    );
    if (!step.onTime && emptied.size === 0) return reached;
    const { numerator, denominator } = this.#clock.timeMin;
    return [...reached, ...this.#supplyFrom(ratio(numerator, denominator), emptied)];
  }

  #supplyFrom(nowMin: Rational, emptied: ReadonlySet<number>): FlowEvent[] {
    const { events, full } = this.#supply.advance(nowMin, emptied);
    for (const feed of full) {
      const vehicle = this.#graph.vehicles[feed] ?? null;
      if (vehicle !== null) this.#states[vehicle] = FULL;
    }
    return events;
  }
}

function stateKey(course: string, levels: Levels): string {
  return `${course}|${[...levels].map(([buffer, { n, d }]) => `${buffer}:${n}/${d}`).join(";")}`;
}

function boundlessAside<T>(work: () => T): T | "boundless" {
  try {
    return work();
  } catch (error) {
    if (error instanceof BoundlessFlowError) return "boundless";
    throw error;
  }
}

function stateOf(level: Rational, capacity: bigint): BufferState {
  if (level.compare(ZERO) === 0 && capacity > 0n) return EMPTY;
  return level.compare(capacity) === 0 ? FULL : BETWEEN;
}

function startLevels(graph: FlowGraph, given: readonly InitialLevel[]): Rational[] {
  const levels = graph.buffers.map(() => ZERO);
  for (const { machine, item, level } of given) {
    const index = graph.buffers.findIndex(
      (buffer) =>
        buffer.side === "infeed" && buffer.item === item && graph.network.machines[buffer.owner]?.id === machine,
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
