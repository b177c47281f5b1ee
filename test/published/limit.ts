/** Figures of a plant at two lengths of a tick, and their limit for short ones: what is proportional to the tick cancels. */
import type { Known, Study } from "./study.ts";

export interface Limited {
  readonly figure: string;
  readonly value: number;
}

/**
 * @param lengths ticks to a unit of time, the second twice the first
 * @param figuresOf with a seed, at the length of that place in the list
 */
export function inTheLimit(
  limited: readonly Limited[],
  lengths: readonly [number, number],
  figuresOf: (length: 0 | 1, seed: string) => readonly number[],
): Pick<Study, "known" | "replicate"> {
  const [rough, fine] = lengths;
  if (fine !== 2 * rough) throw new Error(`${fine} ticks are not twice ${rough}`);
  return {
    known: limited.flatMap(({ figure, value }): Known[] => [
      { figure: `${figure}, ${rough} ticks`, value, isOnTheWay: true },
      { figure: `${figure}, ${fine} ticks`, value, isOnTheWay: true },
      { figure: `${figure}, ${rough}, ${fine} → ∞ ticks`, value },
    ]),
    replicate: (seed) => {
      const atFine = figuresOf(1, seed);
      return figuresOf(0, seed).flatMap((a, i) => {
        const b = atFine[i] ?? Number.NaN;
        return [a, b, 2 * b - a];
      });
    },
  };
}
