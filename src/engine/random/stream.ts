/** Named streams of random numbers: what one element draws for one purpose, whoever else draws and when. */
import alea from "seedrandom/lib/alea.js";

/** The next number of a stream, from 0 up to but not including 1, in steps of 2^-53. */
export type Uniform = () => number;

/**
 * The stream of an element for a purpose. Its seed is made of the three texts in JSON, so that no two triples make the same
 * text, whatever the user's seed holds. Alea is the fastest generator of seedrandom (J. Baagøe; multiply with carry, period
 * 2^116). It is asked for doubles: its plain call gives 32 bits only, of which 2^-32 is the least, so that an exponential
 * draw would never be longer than 22 means and two of a long run's draws would often be equal.
 */
export function namedStream(seed: string, element: string, purpose: string): Uniform {
  return alea(nameOf(seed, element, purpose)).double;
}

/** Where it stands at its beginning, as core/uniform.ts has it. */
export function startOfStream(seed: string, element: string, purpose: string): readonly number[] {
  const { s0, s1, s2, c } = alea(nameOf(seed, element, purpose), { state: true }).state();
  return [s0 * 2 ** 32, s1 * 2 ** 32, s2 * 2 ** 32, c];
}

function nameOf(seed: string, element: string, purpose: string): string {
  return JSON.stringify([seed, element, purpose]);
}
