/** All streams of a run, by their numbers in the program. */
import type { RandomProgram } from "../../network/random-program.ts";
import { isDrawnOfProducts, type Sampler, sampler } from "./distributions.ts";
import { namedStream, startOfStream } from "./stream.ts";

/** Draws made ahead at a time: what a stream gives is the same, but it is called for less often. */
export const AHEAD = 16;

export interface Draws {
  /** Puts the stream's next AHEAD whole numbers, in its own unit, into its part of a ring. */
  refill(stream: number, ring: Int32Array): void;
  /**
   * The next of a stream of shares, of a whole that is known only when the draw is made. A stream is drawn from by one of
   * the two, never by both.
   */
  nextOf(stream: number, whole: number): number;
}

/**
 * @param seed the run's: replications differ by it alone
 * @param productOf of a stream's next numbers, where something else than the stream itself has them faster
 */
export function createDraws(
  { streams }: Pick<RandomProgram, "streams">,
  seed: string,
  productOf?: (stream: number, count: number) => number,
): Draws {
  const sources: readonly WholeDraws[] = streams.map(({ element, purpose, distribution }, stream) =>
    wholeDraws(
      sampler(distribution, namedStream(seed, element, purpose), productOf && ((count) => productOf(stream, count))),
    ),
  );
  return {
    refill: (stream, ring) => sources[stream]!.fill(ring, stream * AHEAD, (stream + 1) * AHEAD),
    nextOf: (stream, whole) => sources[stream]!.next(whole),
  };
}

/** Where all streams of which products are asked for stand at their beginning: four words each (core/uniform.ts). */
export function startOfStreams({ streams }: Pick<RandomProgram, "streams">, seed: string, into: Int32Array): void {
  for (const [stream, { element, purpose, distribution }] of streams.entries()) {
    if (isDrawnOfProducts(distribution)) into.set(startOfStream(seed, element, purpose), 4 * stream);
  }
}

/** A greater draw is cut to this: longer than the longest run, and small enough for 32 bits. */
export const MOST_DRAWN = 2 ** 30;

export interface WholeDraws {
  /** Never negative; the draw times `scale`, as a whole number. */
  next(scale: number): number;
  /** Puts the next draws of scale 1 into `ring[start] … ring[end - 1]`. */
  fill(ring: Int32Array, start: number, end: number): void;
}

export function wholeDraws(sample: Sampler): WholeDraws {
  /** What the draws so far add up to beyond the whole numbers given, from -1/2 up to but not including 1/2. */
  let owed = 0;

  function next(scale: number): number {
    const wanted = owed + sample() * scale;
    if (wanted >= MOST_DRAWN) {
      owed = 0;
      return MOST_DRAWN;
    }
    const given = Math.floor(wanted + 0.5);
    owed = wanted - given;
    return given;
  }

  return {
    next,
    fill(ring, start, end) {
      for (let i = start; i < end; i++) ring[i] = next(1);
    },
  };
}
