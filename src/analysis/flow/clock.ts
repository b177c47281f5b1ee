/**
 * Time, levels and products made so far, as whole numbers over common denominators that grow from event to event: no
 * long fractions are ever reduced while the solution runs.
 */
import { gcd } from "../../quantity/gcd.ts";
import type { Rational } from "../../quantity/rational.ts";
import { type Amount, over } from "./number.ts";

/** numerator/denominator, not in lowest terms. */
export interface Unreduced {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

export interface Movement {
  /** Index of the buffer. */
  readonly buffer: number;
  /** Items/min, not zero. */
  readonly net: Amount;
}

export interface Step {
  /** Buffers that became full or empty, in order. */
  readonly reached: readonly number[];
  /** Whether the time asked for has come. */
  readonly onTime: boolean;
}

export class FlowClock {
  readonly #capacities: readonly bigint[];
  /** Denominator of time and levels. */
  #scale = 1n;
  #time = 0n;
  /** Of buffers that are neither full nor empty. */
  readonly #levels = new Map<number, bigint>();
  /** Over #scale × #madeScale. */
  #made = 0n;
  #madeScale = 1n;

  /** @param levels of the buffers that are neither full nor empty at the start */
  constructor(capacities: readonly bigint[], levels: ReadonlyMap<number, Rational>) {
    this.#capacities = capacities;
    for (const level of levels.values()) this.#scale = (this.#scale / gcd(this.#scale, level.d)) * level.d;
    for (const [buffer, level] of levels) this.#levels.set(buffer, level.n * (this.#scale / level.d));
  }

  get timeMin(): Unreduced {
    return { numerator: this.#time, denominator: this.#scale };
  }

  /** Products made since the start. */
  get made(): Unreduced {
    return { numerator: this.#made, denominator: this.#scale * this.#madeScale };
  }

  /** Binary digits of its longest common denominator, which tell how long all its fractions are. */
  get digits(): number {
    return this.#scale.toString(16).length * 4;
  }

  /** Levels of the buffers that are neither full nor empty, by index, in that order. */
  get levels(): ReadonlyMap<number, Amount> {
    const scale: Amount = { n: this.#scale, d: 1n };
    return new Map(
      [...this.#levels].sort(([a], [b]) => a - b).map(([buffer, level]) => [buffer, over({ n: level, d: 1n }, scale)]),
    );
  }

  /** Puts these buffers at other levels, neither full nor empty. */
  set levels(levels: ReadonlyMap<number, Amount>) {
    let growth = 1n;
    for (const { d } of levels.values()) growth *= d / gcd(this.#scale * growth, d);
    this.#scale *= growth;
    this.#time *= growth;
    this.#made *= growth;
    for (const [buffer, level] of this.#levels) this.#levels.set(buffer, level * growth);
    for (const [buffer, { n, d }] of levels) this.#levels.set(buffer, n * (this.#scale / d));
  }

  /**
   * Goes on to the next event.
   *
   * @param moving every buffer whose level changes
   * @param outputPerMin of the plant meanwhile
   * @param nextStepMin when a feed steps, later than now; `null`: never again
   * @returns `null` if nothing ever happens again
   */
  advance(moving: readonly Movement[], outputPerMin: Amount, nextStepMin: Rational | null): Step | null {
    // Waits are wait / (#scale × rate), so that two compare by cross products of a long and a short number.
    const arrivals = moving.map(({ buffer, net }) => {
      const distance = net.n > 0n ? this.#capacityOf(buffer) - this.#levelOf(buffer, net) : this.#levelOf(buffer, net);
      return { buffer, wait: distance * net.d, rate: net.n > 0n ? net.n : -net.n };
    });
    const step =
      nextStepMin === null
        ? null
        : { wait: nextStepMin.n * this.#scale - this.#time * nextStepMin.d, rate: nextStepMin.d };
    let first = step;
    for (const arrival of arrivals) {
      if (first === null || arrival.wait * first.rate < first.wait * arrival.rate) first = arrival;
    }
    if (first === null) return null;
    const { wait, rate } = first;
    const isNow = (other: { wait: bigint; rate: bigint }) => other.wait * rate === wait * other.rate;
    const reached = arrivals.filter(isNow).map(({ buffer }) => buffer);
    this.#pass(wait, rate, moving, outputPerMin);
    for (const buffer of reached) this.#levels.delete(buffer);
    return { reached, onTime: step !== null && isNow(step) };
  }

  #capacityOf(buffer: number): bigint {
    return (this.#capacities[buffer] ?? 0n) * this.#scale;
  }

  /** A buffer not between its ends leaves the one that its movement leads away from. */
  #levelOf(buffer: number, net: Amount): bigint {
    return this.#levels.get(buffer) ?? (net.n > 0n ? 0n : this.#capacityOf(buffer));
  }

  /** Lets wait / (#scale × rate) minutes pass. */
  #pass(wait: bigint, rate: bigint, moving: readonly Movement[], outputPerMin: Amount): void {
    const common = gcd(wait, rate);
    const minutes = wait / common;
    let finer = 1n;
    for (const { net } of moving) {
      const part = net.d / gcd(net.d, minutes);
      finer *= part / gcd(finer, part);
    }
    const growth = (rate / common) * finer;
    const madeScale = (this.#madeScale / gcd(this.#madeScale, outputPerMin.d)) * outputPerMin.d;
    for (const { buffer, net } of moving) this.#levels.set(buffer, this.#levelOf(buffer, net));
    for (const [buffer, level] of this.#levels) this.#levels.set(buffer, level * growth);
    for (const { buffer, net } of moving) {
      this.#levels.set(buffer, this.#levelOf(buffer, net) + (net.n * minutes * finer) / net.d);
    }
    this.#made =
      this.#made * growth * (madeScale / this.#madeScale) +
      outputPerMin.n * (madeScale / outputPerMin.d) * minutes * finer;
    this.#madeScale = madeScale;
    this.#time = this.#time * growth + minutes * finer;
    this.#scale *= growth;
    this.#trim(growth);
  }

  /** Takes out what the last growth has put in without need. */
  #trim(growth: bigint): void {
    let spare = gcd(gcd(this.#scale, growth), gcd(this.#time, growth));
    spare = gcd(this.#made, spare);
    for (const level of this.#levels.values()) {
      if (spare === 1n) return;
      spare = gcd(level, spare);
    }
    this.#scale /= spare;
    this.#time /= spare;
    this.#made /= spare;
    for (const [buffer, level] of this.#levels) this.#levels.set(buffer, level / spare);
  }
}
