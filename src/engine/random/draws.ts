/** All streams of a run, by their numbers in the program. */
import type { RandomProgram } from "../../network/random-program.ts";
import { sampler } from "./distributions.ts";
import { namedStream, startOfStream } from "./stream.ts";
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
    if (distribution.family === "erlang") into.set(startOfStream(seed, element, purpose), 4 * stream);
  }
}
