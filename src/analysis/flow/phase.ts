/** A phase of the flow solution: from one event to the next, with every rate constant. */
import { type Rational, ratio, ZERO } from "../../quantity/rational.ts";
import type { Movement, Unreduced } from "./clock.ts";
import type { FlowBuffer, FlowGraph } from "./graph.ts";
import { ALL, type Amount, NONE, plus, rationalOf, times } from "./number.ts";
import { productFlows } from "./products.ts";
import { BETWEEN, type BufferState, FULL, type Rates, ratesIn } from "./rates.ts";

export type FlowEvent =
  | { readonly what: "full" | "empty"; readonly machine: string; readonly item: string }
  | { readonly what: "feed"; readonly feed: string; readonly ratePerMin: Rational };

/** A buffer whose level changes during a phase. */
export interface MovingBuffer {
  readonly machine: string;
  readonly item: string;
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
}

export interface FlowMachineDetail {
  readonly id: string;
  /** Share of the time that it runs, 0 to 1. */
  readonly running: Rational;
  /** Products/min, all kinds. */
  readonly makesPerMin: Rational;
  readonly infeed: readonly FlowInfeedDetail[];
}

export interface FlowInfeedDetail {
  readonly item: string;
  readonly capacity: number;
  /** Items at the start of the phase. */
  readonly levelAtStart: Rational;
  readonly inflowPerMin: Rational;
  readonly netPerMin: Rational;
}

/** What a phase is made from, in the solver's own numbers. */
export interface PhaseRecord {
  readonly events: readonly FlowEvent[];
  readonly from: Unreduced;
  readonly made: Unreduced;
  readonly output: Amount;
  readonly states: readonly BufferState[];
  /** Items/min on offer, by index of feed. */
  readonly feedRates: readonly Amount[];
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

/**
 * Long fractions are reduced when first asked for, and the rates of single machines are solved again rather than kept:
 * a chain of a thousand machines has a thousand phases of two thousand connections.
 */
export class FlowPhase {
  /** What began the phase, buffers in the network's order, then feeds; nothing for the first. */
  readonly events: readonly FlowEvent[];
  /** Products/min of all machines. */
  readonly outputPerMin: Rational;
  readonly #index: number;
  readonly #record: PhaseRecord;
  readonly #context: PhaseContext;
  #fromMin: Rational | undefined;
  #madeBefore: Rational | undefined;

  constructor(index: number, record: PhaseRecord, context: PhaseContext) {
    this.events = record.events;
    this.outputPerMin = rationalOf(record.output);
    this.#index = index;
    this.#record = record;
    this.#context = context;
  }

  get fromMin(): Rational {
    this.#fromMin ??= reduced(this.#record.from);
    return this.#fromMin;
  }

  /** Products of all machines from the start of the solution to the start of the phase. */
  get madeBefore(): Rational {
    this.#madeBefore ??= reduced(this.#record.made);
    return this.#madeBefore;
  }

  /** Every buffer whose level changes, in the network's order. */
  get moving(): readonly MovingBuffer[] {
    return this.#record.moving.map(({ buffer, net }) => ({
      ...this.#nameOf(buffer),
      netPerMin: rationalOf(net),
    }));
  }

  /** Everything about the phase; worked out again on every call. */
  detail(): FlowDetail {
    const { graph } = this.#context;
    const { connections, feeds, machines } = graph.network;
    const rates = ratesIn(graph, this.#record.states, this.#record.feedRates);
    if (rates === null) throw new Error("rates that were solved once cannot be solved again");
    const products = productFlows(graph, rates.running);
    const flowOf = (index: number) => rationalOf(plus(rates.flows[index] ?? NONE, products[index] ?? NONE));
    return {
      machines: machines.map(({ id }, machine) => ({
        id,
        running: rationalOf(rates.running[machine] ?? ALL),
        makesPerMin: rationalOf(times(graph.machines[machine]?.makes ?? NONE, rates.running[machine] ?? ALL)),
        infeed: (graph.machines[machine]?.buffers ?? []).flatMap((index) => {
          const buffer = graph.buffers[index];
          return buffer === undefined ? [] : [this.#infeedDetail(buffer, index, rates)];
        }),
      })),
      connections: new Map(connections.map(({ id }, index) => [id, flowOf(index)])),
      feeds: new Map(feeds.map(({ id }, index) => [id, rationalOf(rates.accepted[index] ?? NONE)])),
    };
  }

  #infeedDetail(buffer: FlowBuffer, index: number, rates: Rates): FlowInfeedDetail {
    return {
      item: buffer.item,
      capacity: Number(buffer.capacity),
      levelAtStart: this.#levelAtStart(index),
      inflowPerMin: rationalOf(rates.inflows[index] ?? NONE),
      netPerMin: rationalOf(rates.nets[index] ?? NONE),
    };
  }

  /** From the last time the buffer was full or empty, or the start, on. */
  #levelAtStart(buffer: number): Rational {
    const { graph, phases, initialLevels } = this.#context;
    let risen = ZERO;
    let end: FlowPhase = this;
    while (end.#record.states[buffer] === BETWEEN) {
      const phase = phases[end.#index - 1];
      if (phase === undefined) return risen.add(initialLevels[buffer] ?? ZERO);
      const movement = phase.#record.moving.find((one) => one.buffer === buffer);
      if (movement !== undefined) risen = risen.add(rationalOf(movement.net).mul(end.fromMin.sub(phase.fromMin)));
      end = phase;
    }
    const isFull = end.#record.states[buffer] === FULL;
    return isFull ? risen.add(ratio(graph.buffers[buffer]?.capacity ?? 0n, 1n)) : risen;
  }

  #nameOf(buffer: number): { machine: string; item: string } {
    const { network, buffers } = this.#context.graph;
    const { machine, item } = buffers[buffer] ?? { machine: -1, item: "" };
    return { machine: network.machines[machine]?.id ?? "", item };
  }
}

function reduced({ numerator, denominator }: Unreduced): Rational {
  return ratio(numerator, denominator);
}

/** The first of those phases at the end that all fulfil a condition; undefined if the last one does not. */
export function firstOfLast(phases: readonly FlowPhase[], holds: (phase: FlowPhase) => boolean): FlowPhase | undefined {
  return phases[phases.findLastIndex((phase) => !holds(phase)) + 1];
}
