/** Number, mean and spread of figures, one pass over them (B. P. Welford, Technometrics 4, 1962). */

/** A list of figures, or a curve. */
export type Numbers = readonly number[] | Float64Array;

export interface Moments {
  readonly n: number;
  readonly mean: number;
  /** Standard deviation with n − 1; `null` for fewer than two figures. */
  readonly sd: number | null;
}

/** Figures that are all alike have exactly their own value as mean, and a standard deviation of exactly 0. */
export function moments(figures: Numbers): Moments {
  const running = runningMoments();
  for (const figure of figures) running.add(figure);
  return running.now();
}

export interface RunningMoments {
  readonly add: (figure: number) => void;
  /** @throws RangeError before the first figure */
  readonly now: () => Moments;
}

export function runningMoments(): RunningMoments {
  let n = 0;
  let mean = 0;
  let squares = 0;
  return {
    add: (figure) => {
      n++;
      const fromMean = figure - mean;
      mean += fromMean / n;
      squares += fromMean * (figure - mean);
    },
    now: () => {
      if (n === 0) throw new RangeError("no figures");
      return { n, mean, sd: n > 1 ? Math.sqrt(squares / (n - 1)) : null };
    },
  };
}

export function mean(figures: Numbers): number {
  return moments(figures).mean;
}

/** Standard deviation with n − 1; `null` for fewer than two figures. */
export function standardDeviation(figures: Numbers): number | null {
  return moments(figures).sd;
}
