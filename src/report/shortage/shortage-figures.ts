/** Figures and names that all reports of short feeds use. */
import type {
  LevelResult,
  LineShares,
  MachineShare,
  Shortage,
  VariantId,
  VariantResult,
} from "../../study/shortage/shortage-results.ts";
import { approximately, longRun, percent } from "../text/figures.ts";

const NAMES: Readonly<Record<VariantId, string>> = {
  "as-written": "as written",
  even: "even dividers",
  "branch-first": "branch first",
  "through-first": "through first",
  tree: "even tree",
  loop: "return loop",
};

export function variantName(id: VariantId): string {
  return NAMES[id];
}

type Rule = NonNullable<VariantResult["does"]>;

const RULES: Readonly<Record<Rule, string>> = {
  even: "even dividers",
  weighted: "dividers weighted by needs",
  "branch-first": "the branch first at every divider",
  "through-first": "the through belt first at every divider",
};

/** In a phrase, such as "even dividers, as written". */
export function variantText({ id, does }: Pick<VariantResult, "id" | "does">): string {
  const trees = "even trees for the chains";
  if (id === "tree") return trees;
  if (id === "loop") return `${trees}, with a return loop where dividers of two and three ways make no equal shares`;
  const rule = does === null ? [] : [RULES[does]];
  return [...rule, ...(id === "as-written" ? ["as written"] : [])].join(", ");
}

/** What `shortage --json` prints. */
export function variantsTold<Study extends Pick<Shortage, "variants">>(study: Study) {
  return { ...study, variants: study.variants.map((one) => ({ ...one, does: variantText(one) })) };
}

/** A share of the full feed, such as "50 %". */
export function levelText(level: string): string {
  return percent(approximately(level));
}

export function settledOf(result: LevelResult): number {
  return longRun(result) ?? 0;
}

/** Of the least evenly served line; `null` where no line divides or nobody there has anything. */
export function jainOf({ jain, measured_jain: measured }: LevelResult | LineShares): number | null {
  return jain === null ? (measured ?? null) : approximately(jain);
}

export function shareOf({ share, measured_share: measured }: MachineShare): number {
  return share === null ? (measured ?? 0) : approximately(share);
}

/** Shares of a line's machines, in feeding order. */
export function sharesOn(result: LevelResult, line: LineShares): number[] {
  const byId = new Map(result.machines.map((machine) => [machine.id, shareOf(machine)]));
  return line.machines.map((id) => byId.get(id) ?? 0);
}

/** Equal but for rounding. */
export function same(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b)) + 1e-9;
}

/** The one with the highest figure, of those that are equal but for rounding the first; `null` of none. */
export function topOf<T>(all: readonly T[], figureOf: (one: T) => number): T | null {
  return all.reduce<T | null>((top, one) => {
    if (top === null) return one;
    const [figure, most] = [figureOf(one), figureOf(top)];
    return figure > most && !same(figure, most) ? one : top;
  }, null);
}

/** The least of some values and the most, `null` of none. */
export function extremes(values: readonly number[]): { readonly low: number; readonly high: number } | null {
  return values.length === 0 ? null : { low: Math.min(...values), high: Math.max(...values) };
}

/** The level below full feed that is nearest to half of it: where layouts differ plainly. */
export function middleLevel({ levels }: Shortage): Shortage["levels"][number] | null {
  const away = ({ level }: { readonly level: string }): number => Math.abs(approximately(level) - 0.5);
  const short = levels.filter(({ level }) => level !== "1");
  return short.reduce<Shortage["levels"][number] | null>(
    (best, one) => (best === null || away(one) < away(best) ? one : best),
    null,
  );
}

/** When a variant settles; one that makes nothing in the long run does not settle, it stops. */
export function settlesCell(result: LevelResult, write: (minutes: number | null) => string): string {
  return result.stops_at_min === null ? write(result.settling_min) : `stops ${write(result.stops_at_min)}`;
}
