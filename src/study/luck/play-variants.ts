/**
 * Every variant with the seed of every replication. Runs may be played several at a time and come back in any order; what counts
 * are the replications that all variants have been played with, 1 to n without a gap.
 */
export interface VariantsAsked {
  readonly variants: number;
  readonly replications: number;
}

export interface VariantsOptions {
  /** How many are played at a time. */
  readonly jobs: number;
  /** No more are begun after it; what has come by then counts. */
  readonly stop?: { readonly aborted: boolean };
  readonly onDone?: (runs: number) => void;
}

/**
 * @param play variants from 0, replications from 1
 * @returns by variant, then by replication: as many of each as are complete
 * @throws whatever playing throws, unless it was told to stop before
 */
export async function playVariants<Run>(
  { variants, replications }: VariantsAsked,
  play: (variant: number, replication: number) => Promise<Run>,
  { jobs, stop, onDone }: VariantsOptions,
): Promise<readonly (readonly Run[])[]> {
  const runs: Run[][] = Array.from({ length: variants }, () => []);
  let begun = 0;
  let done = 0;
  const playSome = async (): Promise<void> => {
    // Replication by replication, so that what is stopped has whole ones.
    while (begun < variants * replications && !stop?.aborted) {
      const next = begun++;
      const [variant, replication] = [next % variants, Math.floor(next / variants)];
      const own = runs[variant];
      const run = await play(variant, replication + 1);
      if (own !== undefined) own[replication] = run;
      onDone?.(++done);
    }
  };
  try {
    await Promise.all(Array.from({ length: jobs }, playSome));
  } catch (error) {
    if (!stop?.aborted) throw error;
  }
  const complete = Math.min(...runs.map(withoutGap));
  return runs.map((own) => own.slice(0, complete));
}

function withoutGap(runs: readonly unknown[]): number {
  let count = 0;
  while (runs[count] !== undefined) count++;
  return count;
}
