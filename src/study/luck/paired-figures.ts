/** One figure of all variants on the same luck: who leads, whether the interval says so, and how far the others are off. */
import type { NoInterval } from "../../analysis/chance-results.ts";
import { bestOf, levelForEach } from "../../analysis/statistics/best-of.ts";
import { USUAL_LEVEL } from "../../analysis/statistics/interval.ts";
import { type PairedDifference, pairedDifference } from "../../analysis/statistics/paired.ts";
import type { LuckFigure, LuckFigureName, PairedFigure } from "../luck-results.ts";
import { replicated } from "../replications/replications-figures.ts";

/** From each replication; `null` where the variant has none in it. */
export type Values = readonly (number | null)[];

export interface Entrant {
  readonly id: string;
  readonly values: Values;
  /** Whether it can lead, if it has the figure. */
  readonly leads: boolean;
  /** Why its figure has no interval, whatever the values. */
  readonly noInterval: NoInterval | null;
}

export interface Compared {
  readonly figure: LuckFigureName;
  readonly better: LuckFigure["better"];
  readonly baseline: string | null;
}

/**
 * Those that have the figure in fewer than half of the replications don't stand for the lead: the few that have it are the
 * lucky ones. The others are compared in the replications in which all of them have it.
 */
export function compareFigure(
  entrants: readonly Entrant[],
  { figure, better, baseline }: Compared,
  level = USUAL_LEVEL,
): LuckFigure {
  const standing = entrants.filter(({ leads, values }) => leads && known(values) >= Math.max(2, values.length / 2));
  const common = complete(standing.map(({ values }) => values));
  const best =
    standing.length > 1 && (common[0]?.length ?? 0) > 1
      ? bestOf(common, better === "less" ? "least" : "most", level)
      : null;
  const leader = best === null ? null : (standing[best.leader]?.id ?? null);
  const base = entrants.find(({ id }) => id === baseline) ?? null;
  const baseLevel = levelForEach(level, entrants.length - 1);
  const idOf = (place: number): string => standing[place]?.id ?? "";
  return {
    figure,
    better,
    leader,
    told_apart: best?.isBest ?? false,
    not_told_apart: best?.notToldApart.map(idOf) ?? [],
    about: best?.about ?? null,
    variants: entrants.map(({ id, values, noInterval }) => {
      const against = best?.against.find(({ variant }) => idOf(variant) === id);
      return {
        id,
        value: replicated(values, noInterval),
        // The leader's less this one's there; this one's less the leader's here.
        from_leader: against === undefined ? null : pairedFigure(against.paired, -1),
        from_baseline: base === null || base.id === id ? null : paired(values, base.values, baseLevel),
      };
    }),
  };
}

/** Of a less b in the replications in which both have the figure; `null` where those are fewer than two. */
export function paired(a: Values, b: Values, level: number): PairedFigure | null {
  const [ofA = [], ofB = []] = complete([a, b]);
  return ofA.length < 2 ? null : pairedFigure(pairedDifference(ofA, ofB, level), 1);
}

function pairedFigure({ difference, verdict, about, gain }: PairedDifference, sign: 1 | -1): PairedFigure | null {
  const { n, low, high, level } = difference;
  if (low === null || high === null) return null;
  const less = sign === 1 ? "a is less" : "b is less";
  return {
    n,
    // No minus before a zero.
    mean: sign * difference.mean + 0,
    interval: sign === 1 ? [low, high] : [0 - high, 0 - low],
    level,
    told: verdict === "not told apart" ? null : verdict === less ? "less" : "more",
    about,
    gain,
  };
}

/** The replications in which all have the figure. */
function complete(all: readonly Values[]): number[][] {
  const length = all[0]?.length ?? 0;
  const places = Array.from({ length }, (_, i) => i).filter((i) => all.every((values) => (values[i] ?? null) !== null));
  return all.map((values) => places.map((i) => values[i] ?? 0));
}

function known(values: Values): number {
  return values.filter((value) => value !== null).length;
}
