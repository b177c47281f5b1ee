/**
 * Parts of replications and of comparisons on the same luck, run apart from one another: what each has played, and all that is
 * needed to make of them together what one run would have made. The scenario goes along, since some of it is played again.
 */
import type { StoppedRun } from "../../analysis/chance-results.ts";
import type { LayoutsOptions } from "../layouts/layouts.ts";
import type { Shard } from "../sweep/sweep.ts";
import type { VariantOutcome, VariantRun } from "../variant-outcome.ts";
import type { Replication } from "./replication.ts";

/** The same in all parts of a study. */
export interface PartHead {
  /** The program and its version. */
  readonly made_by: string;
  /** The scenario file without its folder, its name without ending, and what it holds. */
  readonly file: string;
  readonly scenario: string;
  readonly text: string;
  /** Stated in place of the file's. */
  readonly seed?: string | undefined;
  readonly horizon?: string | undefined;
  /** In all parts together. */
  readonly replications: number;
  readonly study: PartStudy;
}

/** What is played, and with what options. */
export type PartStudy =
  | { readonly of: "run" }
  /** Without doing nothing, which is always played. */
  | { readonly of: "compare"; readonly tactics: readonly string[]; readonly look: number }
  | ({ readonly of: "layouts"; readonly look: number } & PartLayouts);

export type PartLayouts = {
  readonly [K in "line" | "ways" | "priority" | "lengths" | "growTo"]?: LayoutsOptions[K] | undefined;
};

export interface Part extends PartHead {
  /** "2/4": the second of four. */
  readonly shard: string;
  /** Of `run`: a replication each, and items in infeed buffers at each point added up over all of them. */
  readonly runs?: readonly PartRun[] | undefined;
  readonly levels?: readonly number[] | undefined;
  /** Of comparisons: each variant, replication by replication. */
  readonly variants?: readonly PartVariants[] | undefined;
}

export interface PartRun {
  readonly replication: number;
  /** In each step. */
  readonly made: readonly number[];
  readonly made_in_all: number;
  readonly held: readonly number[];
  readonly running_min: readonly number[];
  readonly stops: readonly number[];
  readonly stopped: StoppedRun | null;
}

export interface PartVariants {
  readonly replication: number;
  /** In the order of the variants. */
  readonly runs: readonly PartVariant[];
}

export interface PartVariant {
  readonly made: readonly number[];
  readonly held: readonly number[];
  readonly stops: readonly number[];
  readonly outcome: VariantOutcome;
  readonly evenness: number | null;
}

/** The replications of a part: every n-th. */
export function replicationsOfShard(replications: number, { part, of }: Shard): number[] {
  return Array.from({ length: replications }, (_, i) => i + 1).filter((replication) => (replication - part) % of === 0);
}

/** @param played in any order; all of one plant */
export function runsPart(played: readonly Replication[]): Pick<Part, "runs" | "levels"> {
  const levels = new Float64Array(played[0]?.levels.length ?? 0);
  for (const one of played) for (const [i, level] of one.levels.entries()) levels[i] = (levels[i] ?? 0) + level;
  return {
    runs: played.map(({ replication, made, madeInAll, held, runningMin, stops, stopped }) => ({
      replication,
      made: steps(made),
      made_in_all: madeInAll,
      held: Array.from(held),
      running_min: Array.from(runningMin),
      stops,
      stopped,
    })),
    levels: Array.from(levels),
  };
}

/** @param runs by variant, then in the order of the replications */
export function variantsPart(
  replications: readonly number[],
  runs: readonly (readonly VariantRun[])[],
): Pick<Part, "variants"> {
  const count = runs[0]?.length ?? 0;
  return {
    variants: replications.slice(0, count).map((replication, r) => ({
      replication,
      runs: runs.flatMap((own) => {
        const run = own[r];
        return run === undefined ? [] : [{ ...run, made: steps(run.made), held: Array.from(run.held) }];
      }),
    })),
  };
}

/** Products step by step, which takes fewer digits than products up to each. */
function steps(made: Float64Array): number[] {
  return Array.from(made, (upTo, i) => upTo - (made[i - 1] ?? 0));
}

export function upToEach(inEach: readonly number[]): Float64Array {
  const made = new Float64Array(inEach.length);
  let sum = 0;
  for (const [i, step] of inEach.entries()) {
    sum += step;
    made[i] = sum;
  }
  return made;
}
