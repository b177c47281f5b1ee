/** Layouts weighed against one another: which of them nothing beats. */
import type { ElementCounts, LayoutResult, Reason, WeightName } from "./layout-results.ts";
import type { Unweighed } from "./layout-runs.ts";

export interface Weight {
  readonly name: WeightName;
  readonly better: "more" | "less";
  /** `null` is worse than any. */
  readonly of: (layout: Unweighed) => number | null;
}

/** What counts, each by itself: no sum of them means anything. */
export const WEIGHED: readonly Weight[] = [
  { name: "output", better: "more", of: ({ settled_per_min: settled }) => settled },
  { name: "limits", better: "more", of: (layout) => (keepsLimits(layout) ? 1 : 0) },
  { name: "settling", better: "less", of: ({ settling_min: settling }) => settling },
  { name: "loss", better: "less", of: ({ ramp_up_loss: loss }) => loss },
  { name: "hold-up", better: "less", of: ({ hold_up_settled: holdUp }) => holdUp },
  { name: "reserve", better: "more", of: ({ reserve_kept: kept }) => kept },
  { name: "evenness", better: "more", of: ({ evenness_at_half_feed: evenness }) => evenness },
  { name: "junctions", better: "less", of: junctions },
  { name: "floor", better: "less", of: ({ floor_m2: floor }) => floor },
  { name: "torn-out", better: "less", of: ({ one_more: more }) => more && elementsIn(more.torn_out) },
];

/** Where the plant states none, too. */
export function keepsLimits(layout: Pick<LayoutResult, "over_limit_min" | "over_limit_items">): boolean {
  return (layout.over_limit_min ?? 0) === 0 && (layout.over_limit_items ?? 0) === 0;
}

export function junctions({ dividers, merges }: Pick<LayoutResult, "dividers" | "merges">): number | null {
  return dividers === null || merges === null ? null : dividers + merges;
}

export function elementsIn({ dividers, merges, belts }: ElementCounts): number {
  return dividers + merges + belts;
}

/** Beyond it a difference is only rounding. */
const DIGITS = 9;

export function rounded(value: number): number {
  return Number(value.toPrecision(DIGITS));
}

/** Each the less the better. */
function weightsOf(layout: Unweighed): number[] {
  return WEIGHED.map(({ better, of }) => {
    const value = of(layout);
    if (value === null) return Infinity;
    return better === "less" ? rounded(value) : -rounded(value);
  });
}

/** One that comes to a standstill is beaten by any that goes on, whatever it takes. */
export function beats(a: Unweighed, b: Unweighed): boolean {
  if (standsStill(a) || standsStill(b)) return !standsStill(a) && standsStill(b);
  const [ofA, ofB] = [weightsOf(a), weightsOf(b)];
  return ofA.every((value, i) => value <= (ofB[i] ?? 0)) && ofA.some((value, i) => value < (ofB[i] ?? 0));
}

export interface WeighedBy {
  readonly beats: (a: Unweighed, b: Unweighed) => boolean;
  readonly isLess: (a: Unweighed, best: Unweighed) => boolean;
}

export function standsStill({ settled_per_min: settled }: Unweighed): boolean {
  return settled === null || settled === 0;
}

/**
 * Feasible ones alone are weighed; what makes less than another in the long run is told so.
 * @param by what beating and making less are
 */
export function weighed(
  layouts: readonly Unweighed[],
  by: WeighedBy = { beats, isLess: (a, b) => makes(a) < makes(b) },
): LayoutResult[] {
  const feasible = layouts.filter(isWeighed);
  const best = feasible.reduce<Unweighed | null>(
    (most, one) => (makes(one) > (most ? makes(most) : 0) ? one : most),
    null,
  );
  return layouts.map((layout) => {
    const isFeasible = layout.feasible;
    const better = isWeighed(layout) ? feasible.filter((other) => by.beats(other, layout)) : [];
    const unbeaten = better.find((one) => !feasible.some((other) => by.beats(other, one)));
    return {
      ...layout,
      reason: isFeasible ? madeLess(layout, best, by.isLess) : layout.reason,
      undominated: isWeighed(layout) && better.length === 0 && !standsStill(layout),
      beaten_by: unbeaten?.id ?? null,
      file: isFeasible ? `${layout.id}.yaml` : null,
    };
  });
}

/** It can be built, with nothing assumed. */
export function isWeighed({ feasible, assuming }: Pick<LayoutResult, "feasible" | "assuming">): boolean {
  return feasible && assuming === null;
}

/** What one may have: a layout that is weighed, or the line as it stands, on whatever lengths that is written with. */
export function isToChoose(layout: Pick<LayoutResult, "id" | "feasible" | "assuming">, today: string | null): boolean {
  return isWeighed(layout) || (layout.feasible && layout.id === today);
}

/** Output in the long run. */
export function makes({ settled_per_min: settled }: Unweighed): number {
  return rounded(settled ?? 0);
}

function madeLess(layout: Unweighed, best: Unweighed | null, isLess: WeighedBy["isLess"]): Reason | null {
  if (best === null || !isLess(layout, best)) return null;
  return { why: "makes-less", makes: makes(layout), best: best.id, best_makes: makes(best) };
}
