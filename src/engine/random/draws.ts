/** All streams of a run, by their numbers in the program. */
import type { RandomProgram } from "../../network/random-program.ts";
import { sampler } from "./distributions.ts";
import { namedStream } from "./stream.ts";
import { type WholeDraws, wholeDraws } from "./whole-draws.ts";

/** Draws made ahead at a time: what a stream gives is the same, but it is called for less often. */
const AHEAD = 16;

export interface Draws {
  /** The stream's next whole number, in its own unit. */
  next(stream: number): number;
  /**
   * The same of a stream of shares, of a whole that is known only when the draw is made. A stream is drawn from by one of
   * the two, never by both.
   */
  nextOf(stream: number, whole: number): number;
}

/** @param seed the run's: replications differ by it alone */
export function createDraws({ streams }: Pick<RandomProgram, "streams">, seed: string): Draws {
  const sources: readonly WholeDraws[] = streams.map(({ element, purpose, distribution }) =>
    wholeDraws(sampler(distribution, namedStream(seed, element, purpose))),
  );
  const ring = new Int32Array(streams.length * AHEAD);
  const used = new Uint8Array(streams.length).fill(AHEAD);
  return {
    next(stream) {
      if (used[stream] === AHEAD) {
        sources[stream]!.fill(ring, stream * AHEAD, (stream + 1) * AHEAD);
        used[stream] = 0;
      }
      return ring[stream * AHEAD + used[stream]!++]!;
    },
    nextOf: (stream, whole) => sources[stream]!.next(whole),
  };
}
