/** What a study of layouts says, held to its table. */
import { expect } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import type { LayoutResult, LayoutStudy } from "../../src/study/layouts/layout-results.ts";
import { between, expectList, named, PLAIN, type Readers } from "./reader.ts";

const weighed = ({ layouts }: LayoutStudy): LayoutResult[] =>
  layouts.filter(({ feasible, assuming }) => feasible && assuming === null);
const keeps = (one: LayoutResult): boolean =>
  one.limits_broken.length === 0 && (one.over_limit_min ?? 0) === 0 && (one.over_limit_items ?? 0) === 0;
const leaves = (one: LayoutResult): boolean => (one.reserve_kept ?? 1) >= 0.9;
const ids = ({ layouts }: LayoutStudy): string[] => layouts.map(({ id }) => id);

function row({ layouts }: LayoutStudy, id: string | null): LayoutResult {
  const found = layouts.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no layout ${id}`);
  return found;
}

/** What the priority asks for; the less the better. */
const FIRST: Readonly<Record<LayoutStudy["priority"], (one: LayoutResult) => number | null>> = {
  fast: ({ settling_min: at }) => at,
  small: ({ floor_m2: floor }) => floor,
  money: ({ money }) => (money?.over_years == null ? null : rational(money.over_years).valueOf()),
  cheap: ({ dividers, merges }) => (dividers ?? 0) + (merges ?? 0),
  even: ({ evenness_at_half_feed: even }) => (even === null ? null : -even),
  grow: ({ growth, one_more: more }) => {
    const step = (growth.at(-1) ?? more)?.torn_out;
    return step === undefined ? null : step.dividers + step.merges + step.belts;
  },
};

function most(those: readonly LayoutResult[]): LayoutResult[] {
  const made = Math.max(...those.map(({ settled_per_min: rate }) => rate ?? 0));
  return those.filter(({ settled_per_min: rate }) => (rate ?? 0) >= made * (1 - 1e-8));
}

export const LAYOUT_READERS: Readers<LayoutStudy> = {
  recommended: (text, study) => {
    if (study.recommended === null) return;
    const chosen = row(study, study.recommended);
    expect(named(between(text, "): "), ids(study))[0]).toBe(chosen.id);
    const all = weighed(study);
    const kept = all.some((one) => keeps(one) && (one.settled_per_min ?? 0) > 0) ? all.filter(keeps) : all;
    const able = kept.some((one) => leaves(one) && (one.settled_per_min ?? 0) > 0) ? kept.filter(leaves) : kept;
    const making = most(able);
    expect(making.map(({ id }) => id)).toContain(chosen.id);
    expect(text.includes("the only one")).toBe(making.length === 1);
    if (making.length === 1) return;
    const of = FIRST[study.priority];
    // Within a cycle of each machine, no more than a minute here, times are equal.
    const apart = study.priority === "fast" ? 1 : 1e-6;
    const least = Math.min(...making.map((one) => of(one) ?? Infinity));
    expect((of(chosen) ?? Infinity) - least).toBeLessThanOrEqual(apart);
  },
  "without-reserve": (text, study) => {
    const bare = row(study, study.best_without_reserve);
    expect(named(text, ids(study))[0]).toBe(bare.id);
    expect([leaves(bare), leaves(row(study, study.recommended))]).toEqual([false, true]);
  },
  limits: (_, study) => expect(weighed(study).every(keeps)).toBe(true),
  "over-limits": (text, study) => {
    const kept = weighed(study).filter(keeps);
    if (text.startsWith("None")) expect(kept).toEqual([]);
    else
      expectList(
        between(text, "kept by ", "; not by"),
        ids(study),
        kept.map(({ id }) => id),
      );
  },
  choice: (text, study) => {
    const others = weighed(study).filter(({ id, undominated }) => undominated && id !== study.recommended);
    if (text.startsWith("There is nothing")) expect(others).toEqual([]);
    else expect(text.split("; ")).toHaveLength(others.length);
  },
  beaten: (text, study) => {
    const told = between(text, "in something: ")
      .split("; ")
      .flatMap((part) => named(part, ids(study)).slice(0, -1));
    expect(told.toSorted()).toEqual(
      weighed(study)
        .flatMap(({ id, beaten_by: by }) => (by === null ? [] : [id]))
        .toSorted(),
    );
  },
  infeasible: (text, study) => expect(row(study, named(text, ids(study))[0] ?? null).feasible).toBe(false),
  output: (text, study) => {
    const own = row(study, named(text, ids(study))[0] ?? null);
    expect(own.settled_per_min).toBeLessThan(Math.max(...weighed(study).map(({ settled_per_min: rate }) => rate ?? 0)));
  },
  stopped: (text, study) => expect(row(study, named(text, ids(study))[0] ?? null).settled_per_min).toBe(0),
  unsettled: (text, study) => {
    for (const id of named(text, ids(study))) expect(row(study, id).settling_min).toBeNull();
  },
  unproved: PLAIN,
  primed: PLAIN,
  lengths: PLAIN,
  if: PLAIN,
};
