/** What a study of short feeds says of what is worth having, held to its table. */
import { expect } from "vitest";
import type { LevelResult, Shortage, ShortageLevel } from "../../src/study/shortage/shortage-results.ts";
import { expectLoss, PLAIN, type Readers } from "./reader.ts";

const NAMES: readonly (readonly [string, string])[] = [
  ["as-written", "as written"],
  ["even", "even dividers"],
  ["branch-first", "branch first"],
  ["through-first", "through first"],
  ["tree", "even tree"],
];

const rate = (one: LevelResult): number => {
  const [over = "0", under = "1"] = (one.settled_per_min ?? String(one.measured_per_min ?? 0)).split("/");
  return Number(over) / Number(under);
};

function levelAt({ levels }: Shortage, percent: string | undefined): ShortageLevel {
  const found = levels.find(({ level }) => {
    const [over = "", under = "1"] = level.split("/");
    return Math.abs((100 * Number(over)) / Number(under) - Number(percent)) < 0.06;
  });
  if (found === undefined) throw new Error(`no level ${percent}`);
  return found;
}

function own(level: ShortageLevel, id: string | null | undefined): LevelResult {
  const found = level.variants.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no variant ${id}`);
  return found;
}

const keeps = (one: LevelResult): boolean => (one.over_limit_min ?? 0) + (one.over_limit_items ?? 0) === 0;

/** Sound and with the stock; whether it is better than as written is for the loss. */
function qualifies(one: LevelResult): boolean {
  return one.settling_min !== null && !one.slower_for_good && rate(one) > 0 && (one.reserve_kept ?? 0) >= 0.9;
}

export const SHORTAGE_READERS: Readers<Shortage> = {
  worth: (text, study) => {
    const later: string[] = [];
    for (const level of study.levels) {
      const chosen = level.recommended;
      if (chosen === null) continue;
      const written = own(level, "as-written");
      if (chosen !== "as-written") {
        expect(qualifies(own(level, chosen)), `${chosen} at ${level.level}`).toBe(true);
        expect(rate(own(level, chosen))).toBeGreaterThanOrEqual(rate(written) * (1 - 1e-3));
        expect(text).not.toContain("at every level");
      }
      const best = own(level, chosen);
      const ideals = new Set(study.variants.flatMap(({ id, ideal_ways: ways }) => (ways.length > 0 ? [id] : [])));
      for (const one of level.variants.filter((variant) => qualifies(variant) && !ideals.has(variant.id))) {
        if (keeps(one) && !keeps(best)) throw new Error(`${one.id} keeps the limits at ${level.level}`);
        if (!keeps(one) || !keeps(best)) continue;
        const less = (best.ramp_up_loss ?? Infinity) - (one.ramp_up_loss ?? Infinity);
        // One that makes more for good may have made less when both have settled; it is named.
        if (rate(one) > rate(best) * (1 + 1e-6)) {
          const named = NAMES.find(([id]) => id === one.id)?.[1] ?? "";
          if (less > level.equal_within_items * 1.001 + 0.01) later.push(named);
          continue;
        }
        expect(less, `${one.id} at ${level.level}`).toBeLessThanOrEqual(level.equal_within_items * 1.001 + 0.01);
      }
    }
    if (!study.levels.some(({ recommended }) => recommended !== "as-written")) {
      for (const name of later) expect(text).toContain(`${name} makes more for good`);
      if (later.length === 0) expect(text).not.toContain("more for good");
    }
    const at = /: at ([\d.]+) % it/.exec(text)?.[1];
    const name = NAMES.find(([, told]) => text.includes(`${told} is worth having`))?.[0];
    if (at !== undefined && name !== undefined) expectLoss(text, own(levelAt(study, at), name).ramp_up_loss);
  },
  limits: (text, { levels: [highest] }) => {
    for (const [id, name] of NAMES) {
      const one = highest?.variants.find((variant) => variant.id === id);
      if (one !== undefined) expect(text.includes(`${name}: `)).toBe(one.limits_broken.length > 0);
    }
    expect(text.includes("all are kept by")).toBe(highest?.variants.some(keeps));
  },
  "without-reserve": (text, study) => {
    const level = levelAt(study, /at ([\d.]+) %/.exec(text)?.[1]);
    const bare = own(level, level.best_without_reserve);
    expect(bare.reserve_kept).toBeLessThan(0.9);
    expectLoss(text, bare.ramp_up_loss);
  },
  slower: (text, study) => {
    for (const [id, name] of NAMES) {
      const at = study.levels.filter((level) => {
        const one = level.variants.find((variant) => variant.id === id);
        return (
          one !== undefined &&
          rate(one) > 0 &&
          rate(one) < rate(own(level, "as-written")) * (1 - 1e-3) &&
          one.settling_min !== null
        );
      });
      expect(text.includes(`${name} at`), `${name}: ${text}`).toBe(at.length > 0);
    }
  },
  output: (text, { levels }) => {
    const spread = (level: ShortageLevel): number => {
      const rates = level.variants.map(rate);
      return 1 - Math.min(...rates) / Math.max(...rates, 1e-9);
    };
    const widest = Math.max(...levels.map(spread));
    if (text.startsWith("Every variant makes the same")) expect(widest).toBeLessThan(1e-3);
    else expect(spread(levelAt({ levels } as Shortage, /at ([\d.]+) %/.exec(text)?.[1]))).toBeCloseTo(widest, 6);
  },
  stopped: (_, { levels }) => expect(levels.some(({ variants }) => variants.some((one) => rate(one) === 0))).toBe(true),
  unsettled: (_, { levels }) =>
    expect(levels.some(({ variants }) => variants.some((one) => one.settling_min === null))).toBe(true),
  steady: (_, { levels }) =>
    expect(levels.some(({ variants }) => variants.some(({ fluctuation }) => fluctuation.swings))).toBe(false),
  swing: (_, { levels }) =>
    expect(levels.some(({ variants }) => variants.some(({ fluctuation }) => fluctuation.swings))).toBe(true),
  ideal: (text, study) => {
    const level = levelAt(study, /at ([\d.]+) %/.exec(text)?.[1]);
    const short = (one: ShortageLevel): number => rate(own(one, "as-written")) / one.ideal_per_min;
    expect(short(level)).toBeCloseTo(Math.min(...study.levels.map(short)), 6);
  },
  ramp: (text, study) => {
    const at = (level: ShortageLevel): number => {
      const one = own(level, "as-written");
      return rate(one) === 0 ? 0 : (one.settling_min ?? 0);
    };
    expect(at(levelAt(study, /at ([\d.]+) %/.exec(text)?.[1]))).toBeCloseTo(Math.max(...study.levels.map(at)), 6);
  },
  "tree-ideal": (_, { variants }) => expect(variants.some(({ ideal_ways: ways }) => ways.length > 0)).toBe(true),
  held: PLAIN,
  who: PLAIN,
  evenness: PLAIN,
  starving: PLAIN,
  unproved: PLAIN,
  batch: PLAIN,
  "no-chain": PLAIN,
  products: PLAIN,
  "tree-needs": PLAIN,
  "tree-kept": PLAIN,
  "tree-ends": PLAIN,
};
