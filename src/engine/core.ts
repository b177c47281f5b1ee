/**
 * The core (core/): the engine's inner loop, compiled to WebAssembly. It works on a memory of its own, one for each run, into
 * which the arrays of the program and of the state are moved; from here they are typed arrays as any others.
 */
import { CORE_BASE64 } from "./core-binary.ts";
import { FIRST_BYTE } from "./records.ts";

/** What the core offers (core/index.ts). */
export interface Core {
  /**
   * Tick after tick up to `to`, or until there may be no room left for the cycles that finish in the next.
   * @param isWatching stop, too, as soon as the state is one of the two kept ones again
   * @returns which kept state, or -1
   */
  readonly advance: (to: number, isWatching: boolean) => number;
  /** Puts an item into a buffer; `born` is the tick at which it was fed or made. */
  readonly put: (buffer: number, born: number) => void;
  readonly changeHeld: (item: number, by: number) => void;
  /** Remembers the present state as one of two, and says whether the present state is that one again. */
  readonly keep: (which: number) => void;
  readonly isSame: (which: number) => boolean;
  /** All elements may act in the next tick: after whatever they don't know of, and after the clock has been moved on. */
  readonly wakeAll: () => void;
  readonly startCalendar: () => void;
  readonly startChance: () => void;

  readonly tick: WebAssembly.Global;
  readonly nextStep: WebAssembly.Global;
  readonly heldInAll: WebAssembly.Global;
  readonly peakHeld: WebAssembly.Global;
  readonly peakTick: WebAssembly.Global;
  readonly longestDwell: WebAssembly.Global;
  /** Finished cycles in `completionMachine` and `completionTick`. */
  readonly completions: WebAssembly.Global;
}

/** Draws of a run's streams, by their numbers. */
export interface CoreDraws {
  /** Fills up the draws made ahead. */
  readonly refill: (stream: number) => void;
  /** A draw of a stream of shares, of so many ticks. */
  readonly drawOf: (stream: number, ticks: number) => number;
}

export type Numbers = Int32Array | Uint8Array | Float64Array;

const PAGE_BYTES = 1 << 16;
const WORD_BYTES = 8;

let compiled: WebAssembly.Module | undefined;

/** Room for arrays, one after the other in the order in which they are moved there, and for what the core copies. */
export class CoreMemory {
  readonly #memory: WebAssembly.Memory;
  readonly #imports: Record<string, number> = {};
  /** Where the next array begins. */
  nextByte = FIRST_BYTE;

  constructor(bytes: number) {
    this.#memory = new WebAssembly.Memory({ initial: Math.ceil((FIRST_BYTE + bytes) / PAGE_BYTES) });
  }

  /** Each array is replaced by one of the same values that the core sees under the same name. */
  moveInts<Name extends string>(arrays: Record<Name, Int32Array>): void {
    for (const name in arrays) {
      const old = arrays[name];
      arrays[name] = new Int32Array(this.#memory.buffer, this.#place(name, old), old.length);
      arrays[name].set(old);
    }
  }

  moveBytes<Name extends string>(arrays: Record<Name, Uint8Array>): void {
    for (const name in arrays) {
      const old = arrays[name];
      arrays[name] = new Uint8Array(this.#memory.buffer, this.#place(name, old), old.length);
      arrays[name].set(old);
    }
  }

  moveSums<Name extends string>(arrays: Record<Name, Float64Array>): void {
    for (const name in arrays) {
      const old = arrays[name];
      arrays[name] = new Float64Array(this.#memory.buffer, this.#place(name, old), old.length);
      arrays[name].set(old);
    }
  }

  #place(name: string, { byteLength }: Numbers): number {
    const at = this.nextByte;
    this.name({ [`${name}At`]: at });
    this.nextByte += roundedUp(byteLength);
    return at;
  }

  /** Arrays within what has been moved. */
  nameArrays(arrays: Readonly<Record<string, Numbers>>): void {
    for (const [name, { byteOffset }] of Object.entries(arrays)) this.name({ [`${name}At`]: byteOffset });
  }

  /** Numbers that the core knows by these names. */
  name(numbers: Readonly<Record<string, number>>): void {
    Object.assign(this.#imports, numbers);
  }

  /** @param draws what the core asks for where anything is left to chance */
  start(draws: CoreDraws): Core {
    compiled ??= new WebAssembly.Module(Buffer.from(CORE_BASE64, "base64"));
    const { exports } = new WebAssembly.Instance(compiled, {
      env: { memory: this.#memory },
      memory: { ...this.#imports, ...draws },
    });
    const call = (name: string): ((...args: number[]) => unknown) => exported(exports, name, isFunction);
    const global = (name: string): WebAssembly.Global => exported(exports, name, isGlobal);
    const [advance, put, changeHeld] = [call("advance"), call("put"), call("changeHeld")];
    const [keep, isSame] = [call("keep"), call("isSame")];
    const [wakeAll, startCalendar, startChance] = [call("wakeAll"), call("startCalendar"), call("startChance")];
    return {
      advance: (to, isWatching) => Number(advance(to, isWatching ? 1 : 0)),
      put,
      changeHeld,
      keep,
      isSame: (which) => isSame(which) === 1,
      wakeAll,
      startCalendar,
      startChance,
      tick: global("tick"),
      nextStep: global("nextStep"),
      heldInAll: global("heldInAll"),
      peakHeld: global("peakHeld"),
      peakTick: global("peakTick"),
      longestDwell: global("longestDwell"),
      completions: global("completions"),
    };
  }
}

/** Bytes that arrays take in a core's memory. */
export function bytesOf(arrays: Readonly<Record<string, Numbers>>): number {
  return Object.values(arrays).reduce((sum, { byteLength }) => sum + roundedUp(byteLength), 0);
}

function roundedUp(bytes: number): number {
  return Math.ceil(bytes / WORD_BYTES) * WORD_BYTES;
}

function exported<T>(exports: Readonly<Record<string, unknown>>, name: string, is: (value: unknown) => value is T): T {
  const value = exports[name];
  if (!is(value)) throw new Error(`the core has no ${name}`);
  return value;
}

function isFunction(value: unknown): value is (...args: number[]) => unknown {
  return typeof value === "function";
}

function isGlobal(value: unknown): value is WebAssembly.Global {
  return value instanceof WebAssembly.Global;
}
