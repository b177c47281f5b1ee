/** The memory that a core works on, into which the arrays of the program and of the state are moved. */

type TypedArray = Int32Array | Uint8Array | Float64Array;

/** A WebAssembly.Memory. */
interface Memory {
  readonly buffer: ArrayBuffer;
  grow(pages: number): number;
}

/** Where the first array lies: an address of 0 is none. */
export const FIRST_BYTE = 8;

const PAGE_BYTES = 1 << 16;
const WORD_BYTES = 8;
/** Arrays lie one after the other in the order in which they are moved here. */
export class CoreMemory {
  readonly memory: Memory;
  /** Where arrays begin. */
  readonly at: Record<string, number> = {};
  /** What only a core asks for that looks at every index. */
  readonly lengths: Record<string, number> = {};
  /** Where the next array begins. */
  nextByte = FIRST_BYTE;

  /**
   * @param bytes for all that will be moved here or skipped
   * @param old one that is done with. An engine sets aside gigabytes of addresses for each, so that making one takes longer
   *   than a short run, and thousands of them run out of addresses before they are collected
   */
  constructor(bytes: number, old: CoreMemory | null) {
    this.memory = roomFor(FIRST_BYTE + bytes, old?.memory ?? null);
  }

  /** Each array is replaced by one of the same values here. */
  move(arrays: Record<string, TypedArray>): void {
    for (const [name, old] of Object.entries(arrays)) {
      const moved = arrayAt(this.memory.buffer, this.nextByte, old);
      moved.set(old);
      arrays[name] = moved;
      this.#place(name, moved);
    }
  }

  /** An array of zeros. */
  ints(name: string, length: number): Int32Array {
    const array = new Int32Array(this.memory.buffer, this.nextByte, length);
    this.#place(name, array);
    return array;
  }

  #place(name: string, array: TypedArray): void {
    this.#name(name, array);
    this.nextByte += roundedUp(array.byteLength);
  }

  #name(name: string, { byteOffset, length }: TypedArray): void {
    this.at[name] = byteOffset;
    this.lengths[name] = length;
  }

  /** Leaves room for what the core copies. */
  skip(bytes: number): void {
    this.nextByte += bytes;
  }

  /** Names arrays within what has been moved. */
  nameParts(arrays: Readonly<Record<string, Float64Array>>): void {
    for (const [name, array] of Object.entries(arrays)) this.#name(name, array);
  }

  /** All that lies here so far. */
  image(): Uint8Array {
    return new Uint8Array(this.memory.buffer, 0, this.nextByte).slice();
  }

  /** Lays it here again. */
  restore(image: Uint8Array): void {
    new Uint8Array(this.memory.buffer).set(image);
  }
}

/** Of the same kind and length. */
function arrayAt(buffer: ArrayBuffer, at: number, { BYTES_PER_ELEMENT, length }: TypedArray): TypedArray {
  switch (BYTES_PER_ELEMENT) {
    case Int32Array.BYTES_PER_ELEMENT:
      return new Int32Array(buffer, at, length);
    case Uint8Array.BYTES_PER_ELEMENT:
      return new Uint8Array(buffer, at, length);
    default:
      return new Float64Array(buffer, at, length);
  }
}

function roomFor(bytes: number, memory: Memory | null): Memory {
  try {
    if (memory === null) return new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE_BYTES) });
    const missing = Math.ceil((bytes - memory.buffer.byteLength) / PAGE_BYTES);
    if (missing > 0) memory.grow(missing);
  } catch (cause) {
    throw new NoRoomError(bytes, { cause });
  }
  new Uint8Array(memory.buffer, 0, bytes).fill(0);
  return memory;
}

/** The system gives a run no memory. */
class NoRoomError extends Error {
  constructor(bytes: number, options: ErrorOptions) {
    const need = `a run needs ${Math.ceil(bytes / 2 ** 20)} MiB of memory, and the system gives none`;
    const remedy = "lift the limit of addresses (ulimit -v unlimited), use fewer --jobs, or make the plant smaller";
    super(`${need}; ${remedy}; as a library, start node with --disable-wasm-trap-handler`, options);
    this.name = "NoRoomError";
  }
}

/** Bytes that arrays take in a core's memory. */
export function bytesOf(...all: readonly Readonly<Record<string, TypedArray>>[]): number {
  let sum = 0;
  for (const arrays of all) for (const name in arrays) sum += roundedUp(arrays[name]?.byteLength ?? 0);
  return sum;
}

/** The same of whole numbers, so many in each array. */
export function bytesForInts(lengths: Readonly<Record<string, number>>): number {
  return Object.values(lengths).reduce((sum, length) => sum + roundedUp(length * Int32Array.BYTES_PER_ELEMENT), 0);
}

/** Every array begins at a multiple of 8 bytes. */
export function roundedUp(bytes: number): number {
  return Math.ceil(bytes / WORD_BYTES) * WORD_BYTES;
}
