/** The core (core/): the engine's inner loop, compiled to WebAssembly, one instance for each run. */
import type { Numbers } from "./core-arrays.ts";
import { CORE_BASE64 } from "./core-binary.ts";
import type { CoreMemory } from "./core-memory.ts";

/** A number of the core's. (A type of its own, since TypeScript knows WebAssembly's where a browser is supposed only.) */
export interface CoreNumber {
  value: number;
}

/** What the core offers (core/index.ts). */
export interface Core {
  /**
   * Tick after tick up to `to`, or until an awaited buffer is full, or there may be no room left for the cycles that finish in
   * the next, or for its sample.
   * @param isWatching stop, too, as soon as the state is one of the two kept ones again
   * @returns which kept state, -2 after a tick in which an awaited buffer got full, or -1
   */
  readonly advance: (to: number, isWatching: boolean) => number;
  /** Puts an item into a buffer; `born` is the tick at which it was fed or made. */
  readonly put: (buffer: number, born: number) => void;
  /** The fewest and the most items held count from now on. */
  readonly resetHoldUp: () => void;
  readonly changeHoldUp: (item: number, by: number) => void;
  /** Remembers the present state as one of two, and says whether the present state is that one again. */
  readonly keep: (which: number) => void;
  readonly isSame: (which: number) => boolean;
  /** All elements may act in the next tick: after whatever they don't know of. */
  readonly wakeAll: () => void;
  /** Sets the clock, at the start and where ticks are leapt over; all elements may act in the next one. */
  readonly startFrom: (tick: number) => void;
  /** All samples are taken over; so many more are wanted, the first after tick `next`. */
  readonly sampleFrom: (next: number, everyTicks: number, count: number) => void;
  readonly takeSample: () => void;
  /** Before the first tick, where anything is left to chance. */
  readonly startChance: () => void;
  /** Of the next `count` uniform numbers u of a stream of draws, 16 at most: the product of 1 - u. */
  readonly productOf: (stream: number, count: number) => number;
  /** Clock and counts as at the start, once the memory is. */
  readonly restart: () => void;

  readonly tick: CoreNumber;
  readonly nextStep: CoreNumber;
  readonly holdUpInAll: CoreNumber;
  readonly lowHoldUp: CoreNumber;
  readonly highHoldUp: CoreNumber;
  readonly peakHoldUp: CoreNumber;
  readonly peakTick: CoreNumber;
  readonly longestDwell: CoreNumber;
  /** Finished cycles in `completionMachine` and `completionTick`. */
  readonly completions: CoreNumber;
  /** Samples to be taken over. */
  readonly sampled: CoreNumber;
}

/** Draws of a run's streams, by their numbers. */
export interface CoreDraws {
  /** Fills up the draws made ahead. */
  readonly refill: (stream: number) => void;
  /** A draw of a stream of shares, of so many ticks. */
  readonly drawOf: (stream: number, ticks: number) => number;
}

let compiled: WebAssembly.Module | undefined;

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

/**
 * @param memory with all arrays (core-arrays.ts)
 * @param draws what the core asks for where anything is left to chance
 */
export function startCore(memory: CoreMemory, numbers: Numbers, draws: CoreDraws): Core {
  compiled ??= new WebAssembly.Module(bytesOf(CORE_BASE64));
  const { exports } = new WebAssembly.Instance(compiled, {
    env: { memory: memory.memory },
    at: memory.at,
    length: memory.lengths,
    memory: { ...numbers },
    chance: { ...draws },
  });
  const call = (name: string): ((...args: number[]) => unknown) => exported(exports, name, isFunction);
  const global = (name: string): CoreNumber => exported(exports, name, isGlobal);
  const counts = {
    tick: global("tick"),
    nextStep: global("nextStep"),
    holdUpInAll: global("holdUpInAll"),
    lowHoldUp: global("lowHoldUp"),
    highHoldUp: global("highHoldUp"),
    peakHoldUp: global("peakHoldUp"),
    peakTick: global("peakTick"),
    longestDwell: global("longestDwell"),
    completions: global("completions"),
    sampled: global("sampled"),
  };
  const [advance, isSame, productOf] = [call("advance"), call("isSame"), call("productOf")];
  return {
    advance: (to, isWatching) => Number(advance(to, isWatching ? 1 : 0)),
    put: call("put"),
    changeHoldUp: call("changeHoldUp"),
    resetHoldUp: call("resetHoldUp"),
    keep: call("keep"),
    isSame: (which) => isSame(which) === 1,
    wakeAll: call("wakeAll"),
    startFrom: call("startFrom"),
    sampleFrom: call("sampleFrom"),
    takeSample: call("takeSample"),
    startChance: call("startChance"),
    productOf: (stream, count) => Number(productOf(stream, count)),
    restart: () => {
      for (const count of Object.values(counts)) count.value = 0;
    },
    ...counts,
  };
}

function exported<T>(exports: Readonly<Record<string, unknown>>, name: string, is: (value: unknown) => value is T): T {
  const value = exports[name];
  if (!is(value)) throw new Error(`the core has no ${name}`);
  return value;
}

function isFunction(value: unknown): value is (...args: number[]) => unknown {
  return typeof value === "function";
}

function isGlobal(value: unknown): value is CoreNumber {
  return value instanceof WebAssembly.Global;
}
