/** A phase of the flow solution: from one event to the next, with every rate constant. */
import { quotientOf } from "../../quantity/approximate.ts";
import { approximate, minus, times as multiplied, type Rational, ratio, sum, ZERO } from "../../quantity/rational.ts";
import type { Movement, Unreduced } from "./clock.ts";
import type { BufferSide, FlowGraph } from "./graph.ts";
import { ALL, type Amount, NONE, plus, rationalOf, times } from "./number.ts";
import { productFlows } from "./products.ts";
import { BETWEEN, FULL, type Guess, netsOf, type Rates, ratesIn, type Situation } from "./rates.ts";

export type FlowEvent =
  | ({ readonly what: "full" | "empty" } & BufferName)
  /** What a feed offers from now on: by a step of its profile, or since a vehicle has come or is empty. */
  | { readonly what: "feed"; readonly feed: string; readonly ratePerMin: Rational };

export interface BufferName {
  /** Id of the machine, or of the feed whose surge buffer it is. */
  readonly machine: string;
  readonly item: string;
  readonly side: BufferSide;
}

/** A buffer whose level changes during a phase. */
export interface MovingBuffer extends BufferName {
  /** Items/min, positive while it fills. */
  readonly netPerMin: Rational;
}

export interface FlowDetail {
  /** In the network's order. */
  readonly machines: readonly FlowMachineDetail[];
  /** Items/min by connection id. */
  readonly connections: ReadonlyMap<string, Rational>;
  /** Items/min accepted by feed id. */
  readonly feeds: ReadonlyMap<string, Rational>;
  /** By feed id. */
  readonly surges: ReadonlyMap<string, FlowBufferDetail>;
}

export interface FlowMachineDetail {
  readonly id: string;
  /** Share of the time that it runs, 0 to 1. */
  readonly running: Rational;
  /** Products/min, all kinds. */
  readonly makesPerMin: Rational;
  readonly infeed: readonly FlowBufferDetail[];
  /** Without the kinds that nothing can ever hold up. */
  readonly outfeed: readonly FlowBufferDetail[];
}

export interface FlowBufferDetail {
  readonly item: string;
  readonly capacity: number;
  /** Items at the start of the phase. */
  readonly levelAtStart: Rational;
  readonly inflowPerMin: Rational;
  readonly outflowPerMin: Rational;
  readonly netPerMin: Rational;
}

/** What a phase is made from, in the solver's own numbers. */
export interface PhaseRecord {
  readonly events: readonly FlowEvent[];
  readonly from: Unreduced;
  readonly made: Unreduced;
  readonly output: Amount;
  readonly situation: Situation;
  readonly guess: Guess;
  /** By index of buffer: levels at its start that are not those at the end of the last phase. */
  readonly corrected: ReadonlyMap<number, Amount> | null;
  readonly moving: readonly Movement[];
}

/** What all phases of one solution have in common. */
export interface PhaseContext {
  readonly graph: FlowGraph;
  /** All phases in order, this one among them. */
  readonly phases: readonly FlowPhase[];
  /** Levels before the first phase, by index of buffer. */
  readonly initialLevels: readonly Rational[];
}

/** By how much a phase of a period comes later than when it was first gone through. */
interface Repetition {
  readonly laterMin: Rational;
  readonly madeMore: Rational;
}

/**
 * Long fractions are reduced when first asked for, and the rates of single machines are worked out again rather than
 * kept: a chain of a thousand machines has a thousand phases of two thousand connections.
 */
export class FlowPhase {
  /** What began the phase, buffers in the network's order, then feeds; nothing for the first. */
  readonly events: readonly FlowEvent[];
  /** Products/min that count as the plant's output: those of its final machines. */
  readonly outputPerMin: Rational;
  readonly #index: number;
  readonly #record: PhaseRecord;
  readonly #context: PhaseContext;
  readonly #repetition: Repetition | null;
  #fromMin: Rational | undefined;
  #madeBefore: Rational | undefined;

  constructor(index: number, record: PhaseRecord, context: PhaseContext, repetition: Repetition | null = null) {
    this.events = record.events;
    this.outputPerMin = rationalOf(record.output);
    this.#index = index;
    this.#record = record;
    this.#context = context;
    this.#repetition = repetition;
  }

  /** The same phase, come back later. */
  repeated(laterMin: Rational, madeMore: Rational): FlowPhase {
    return new FlowPhase(this.#index, this.#record, this.#context, { laterMin, madeMore });
  }

  get fromMin(): Rational {
    this.#fromMin ??= laterBy(reduced(this.#record.from), this.#repetition?.laterMin);
    return this.#fromMin;
  }

  /** The plant's output from the start of the solution to the start of the phase. */
  get madeBefore(): Rational {
    this.#madeBefore ??= laterBy(reduced(this.#record.made), this.#repetition?.madeMore);
    return this.#madeBefore;
  }

  /** The nearest number of minutes to `fromMin`, of which nothing long is worked out. */
  get fromMinNearly(): number {
    const { numerator, denominator } = this.#record.from;
    return quotientOf(numerator, denominator) + approximate(this.#repetition?.laterMin ?? ZERO);
  }

  /** Shares of the time that machines run, as the nearest numbers. */
  runningNearly(): [id: string, share: number][] {
    const { graph } = this.#context;
    const { running } = ratesIn(graph, this.#record.situation, this.#record.guess);
    return graph.network.machines.map(({ id }, machine) => {
      const { n, d } = running[machine] ?? ALL;
      return [id, quotientOf(n, d)];
    });
  }

  /** Every buffer whose level changes, in the network's order. */
  get moving(): readonly MovingBuffer[] {
    const { graph } = this.#context;
    return this.#record.moving.flatMap(({ buffer, net }) => {
      const name = bufferName(graph, buffer);
      return name === null ? [] : [{ ...name, netPerMin: rationalOf(net) }];
    });
  }

  /** Everything about the phase; worked out again on every call. */
  detail(): FlowDetail {
    const { graph } = this.#context;
    const { connections, feeds, machines } = graph.network;
    const rates = ratesIn(graph, this.#record.situation, this.#record.guess);
    const nets = netsOf(rates);
    const products = productFlows(graph, rates.running);
    const flowOf = (index: number) => rationalOf(plus(rates.flows[index] ?? NONE, products[index] ?? NONE));
    const details = (buffers: readonly number[]) => buffers.map((index) => this.#bufferDetail(index, rates, nets));
    const surges = [...graph.buffers.keys()].filter((index) => graph.buffers[index]?.side === "surge");
    return {
      machines: machines.map(({ id }, machine) => ({
        id,
        running: rationalOf(rates.running[machine] ?? ALL),
        makesPerMin: rationalOf(times(graph.machines[machine]?.makes ?? NONE, rates.running[machine] ?? ALL)),
        infeed: details(graph.machines[machine]?.infeed ?? []),
        outfeed: details(graph.machines[machine]?.outfeed ?? []),
      })),
      connections: new Map(connections.map(({ id }, index) => [id, flowOf(index)])),
      feeds: new Map(feeds.map(({ id }, index) => [id, rationalOf(rates.accepted[index] ?? NONE)])),
      surges: new Map(
        surges.map((index) => [
          feeds[graph.buffers[index]?.owner ?? -1]?.id ?? "",
          this.#bufferDetail(index, rates, nets),
        ]),
      ),
    };
  }

  #bufferDetail(index: number, { inflows, outflows }: Rates, nets: readonly Amount[]): FlowBufferDetail {
    const { item, capacity } = this.#context.graph.buffers[index] ?? { item: "", capacity: 0n };
    return {
      item,
      capacity: Number(capacity),
      levelAtStart: this.#levelAtStart(index),
      inflowPerMin: rationalOf(inflows[index] ?? NONE),
      outflowPerMin: rationalOf(outflows[index] ?? NONE),
      netPerMin: rationalOf(nets[index] ?? NONE),
    };
  }

  /** From the last time the buffer was full or empty, or the start, on. */
  #levelAtStart(buffer: number): Rational {
    const { graph, phases, initialLevels } = this.#context;
    let risen = ZERO;
    let end = phases[this.#index] ?? this;
    while (end.#record.situation.states[buffer] === BETWEEN) {
      const corrected = end.#record.corrected?.get(buffer);
      if (corrected !== undefined) return sum([risen, rationalOf(corrected)]);
      const phase = phases[end.#index - 1];
      if (phase === undefined) return sum([risen, initialLevels[buffer] ?? ZERO]);
      const movement = phase.#record.moving.find((one) => one.buffer === buffer);
      if (movement !== undefined) {
        risen = sum([risen, multiplied(rationalOf(movement.net), minus(end.fromMin, phase.fromMin))]);
      }
      end = phase;
    }
    const isFull = end.#record.situation.states[buffer] === FULL;
    return isFull ? sum([risen, ratio(graph.buffers[buffer]?.capacity ?? 0n, 1n)]) : risen;
  }
}

/** `null` for a vehicle, which is not a buffer of the plant. */
export function bufferName({ network, buffers }: FlowGraph, index: number): BufferName | null {
  const { side, owner, item } = buffers[index] ?? { side: "vehicle", owner: -1, item: "" };
  if (side === "vehicle") return null;
  return { machine: (side === "surge" ? network.feeds : network.machines)[owner]?.id ?? "", item, side };
}

function reduced({ numerator, denominator }: Unreduced): Rational {
  return ratio(numerator, denominator);
}

function laterBy(value: Rational, more: Rational | undefined): Rational {
  return more === undefined ? value : sum([value, more]);
}

/** The first of those phases at the end that all fulfil a condition; undefined if the last one does not. */
export function firstOfLast(phases: readonly FlowPhase[], holds: (phase: FlowPhase) => boolean): FlowPhase | undefined {
  return phases[phases.findLastIndex((phase) => !holds(phase)) + 1];
}
