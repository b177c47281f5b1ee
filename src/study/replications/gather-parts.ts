/** Parts of replications or comparisons joined to what one run would have had. */
import type { VariantRun } from "../variant-outcome.ts";
import { type Part, type PartHead, type PartRun, type PartVariant, upToEach } from "./part.ts";
import type { Replication, ReplicationGrid } from "./replication.ts";
import { type Collected, collectedOf } from "./replications.ts";
import type { Kept } from "./replications-figures.ts";

export type PartsProblem =
  /** Parts of different studies: the first that differs from the first one, counted from 0, and in what. */
  | { readonly why: "differing"; readonly part: number; readonly what: keyof PartHead }
  /** A replication that a part before it has, too. */
  | { readonly why: "twice"; readonly part: number; readonly replication: number }
  | { readonly why: "missing"; readonly replications: readonly number[]; readonly shards: readonly string[] }
  /** Not what such a run has: of another machine, program or scenario. */
  | { readonly why: "unlike"; readonly replication: number };

const HEAD: readonly (keyof PartHead)[] = [
  "study",
  "text",
  "file",
  "scenario",
  "horizon",
  "seed",
  "replications",
  "made_by",
];

/** @returns `null` where they are parts of one study, and all of it */
export function partsProblem(parts: readonly Part[]): PartsProblem | null {
  const [first] = parts;
  const found = new Set<number>();
  for (const [index, part] of parts.entries()) {
    const what = HEAD.find((key) => JSON.stringify(part[key]) !== JSON.stringify(first?.[key]));
    if (what !== undefined) return { why: "differing", part: index, what };
    for (const { replication } of part.runs ?? part.variants ?? []) {
      if (found.has(replication)) return { why: "twice", part: index, replication };
      found.add(replication);
    }
  }
  const all = Array.from({ length: first?.replications ?? 0 }, (_, i) => i + 1);
  const missing = all.filter((replication) => !found.has(replication));
  return missing.length === 0 ? null : { why: "missing", replications: missing, shards: missingShards(parts) };
}

/** Of parts that were all made for the same number of parts. */
function missingShards(parts: readonly Part[]): string[] {
  const ofs = new Set(parts.map(({ shard }) => shard.split("/")[1]));
  const [of] = ofs;
  if (of === undefined || ofs.size > 1) return [];
  const there = new Set(parts.map(({ shard }) => shard));
  return Array.from({ length: Number(of) }, (_, i) => `${i + 1}/${of}`).filter((shard) => !there.has(shard));
}

/**
 * @param parts all of one study of `run`
 * @param first the first replication, played again
 */
export function gatheredRuns(parts: readonly Part[], first: Replication): Collected | PartsProblem {
  const { grid, levels } = first;
  const kept = parts.flatMap(({ runs }) => runs ?? []).toSorted((a, b) => a.replication - b.replication);
  const unlike = kept.find((run) => !isLike(run, first));
  if (unlike !== undefined) return { why: "unlike", replication: unlike.replication };
  const levelSum = new Float64Array(levels.length);
  for (const part of parts) {
    if (part.levels?.length !== levels.length && (part.runs?.length ?? 0) > 0) {
      return { why: "unlike", replication: part.runs?.[0]?.replication ?? 0 };
    }
    for (const [i, level] of (part.levels ?? []).entries()) levelSum[i] = (levelSum[i] ?? 0) + level;
  }
  return collectedOf(kept.map(keptOf), grid, levelSum);
}

function keptOf({ replication, made, made_in_all, held, running_min, stops, stopped }: PartRun): Kept {
  return {
    replication,
    made: upToEach(made),
    madeInAll: made_in_all,
    held: Float64Array.from(held),
    runningMin: Float64Array.from(running_min),
    stops,
    stopped,
  };
}

/** As long as the one that is played again; the first is the same. */
function isLike(run: PartRun, first: Replication): boolean {
  const isAsLong =
    run.made.length === first.made.length &&
    run.held.length === first.held.length &&
    run.running_min.length === first.runningMin.length &&
    run.stops.length === first.stops.length;
  if (!isAsLong || run.replication !== first.replication) return isAsLong;
  const { levels: _, grid: __, ...own } = first;
  return JSON.stringify(plain(keptOf(run))) === JSON.stringify(plain(own));
}

function plain({ made, held, runningMin, ...others }: Kept) {
  return { ...others, arrays: [made, held, runningMin].map((list) => Array.from(list)) };
}

/**
 * @param parts all of one comparison
 * @returns by variant, then by replication
 */
export function gatheredVariants(
  parts: readonly Part[],
  variants: number,
  { points, markEvery, stops }: ReplicationGrid,
): readonly (readonly VariantRun[])[] | PartsProblem {
  const all = parts.flatMap((part) => part.variants ?? []).toSorted((a, b) => a.replication - b.replication);
  const isWhole = ({ made, held, stops: seen }: PartVariant): boolean =>
    made.length === points && held.length === Math.floor(points / markEvery) && seen.length === stops.length;
  const unlike = all.find(({ runs }) => runs.length !== variants || !runs.every(isWhole));
  if (unlike !== undefined) return { why: "unlike", replication: unlike.replication };
  return Array.from({ length: variants }, (_, v) =>
    all.flatMap(({ runs }): VariantRun[] => {
      const run = runs[v];
      return run === undefined ? [] : [{ ...run, made: upToEach(run.made), held: Float64Array.from(run.held) }];
    }),
  );
}
