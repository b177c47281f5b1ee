/** All streams of a run, by their numbers in the program. */
import type { RandomProgram } from "../../network/random-program.ts";
import { sampler } from "./distributions.ts";
import { namedStream } from "./stream.ts";
import { type WholeDraws, wholeDraws } from "./whole-draws.ts";

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

/** @param seed the run's: replications differ by it alone */
export function createDraws({ streams }: Pick<RandomProgram, "streams">, seed: string): Draws {
  const sources: readonly WholeDraws[] = streams.map(({ element, purpose, distribution }) =>
    wholeDraws(sampler(distribution, namedStream(seed, element, purpose))),
  );
  return {
    refill: (stream, ring) => sources[stream]!.fill(ring, stream * AHEAD, (stream + 1) * AHEAD),
    nextOf: (stream, whole) => sources[stream]!.next(whole),
  };
}
