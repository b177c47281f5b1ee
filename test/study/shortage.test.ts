/** The feed lowered step by step. */
import { describe, expect, test } from "vitest";
import { ONE, ratio, rational, whole } from "../../src/quantity/rational.ts";
import { shortageFindings } from "../../src/report/shortage/shortage-findings.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { jainIndex } from "../../src/study/shortage/shares.ts";
import { studyShortage } from "../../src/study/shortage/shortage.ts";
import type { LevelResult, Shortage } from "../../src/study/shortage/shortage-results.ts";
import { textOf } from "../examples/examples.ts";
import { chainOf } from "./chains.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

function atPercent(scenario: Scenario, ...percents: readonly number[]): Shortage {
  return studyShortage(
    scenario,
    percents.map((percent) => ratio(BigInt(percent), 100n)),
  );
}

function variant(study: Shortage, id: string, level = 0): LevelResult {
  const found = study.levels[level]?.variants.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no variant ${id}`);
  return found;
}

function shares({ machines }: LevelResult): (string | null)[] {
  return machines.map(({ share }) => share);
}

// CHECKS, section A (own derivation; verified by stepping): with y times one machine's need, machine k < N of an even
// chain has all it needs while y − (k − 1) > 2; what is left then halves from machine to machine, the last two equal.
describe("an even chain of four on a short feed", () => {
  test.each([
    ["7/2", ["1", "1", "3/4", "3/4"]],
    ["3", ["1", "1", "1/2", "1/2"]],
    ["2", ["1", "1/2", "1/4", "1/4"]],
  ])("of %s machines' needs has exactly these shares", (y, expected) => {
    const study = studyShortage(chainOf({ count: 4, room: 20, minutes: "120" }), [rational(y).div(4n)]);
    expect(shares(variant(study, "as-written"))).toEqual(expected);
    expect(variant(study, "as-written").proved).toBe(true);
  });

  test("of 24 machines with 108/5 machines' needs too", () => {
    const study = studyShortage(chainOf({ count: 24, room: 20, minutes: "240" }), [ratio(9n, 10n)]);
    const expected = [...Array.from({ length: 20 }, () => "1"), "4/5", "2/5", "1/5", "1/5"];
    expect(shares(variant(study, "as-written"))).toEqual(expected);
  });
});

// R. Jain, D. Chiu, W. Hawe, "A quantitative measure of fairness and discrimination for resource allocation in shared
// computer systems", DEC-TR-301, 1984: if k of n have the same and the others nothing, the index is k/n.
describe("Jain's index", () => {
  test("of k equal shares among n is k/n, whatever the share", () => {
    for (const [k, n] of [
      [1, 1],
      [1, 8],
      [3, 8],
      [8, 8],
    ] as const) {
      const given = Array.from({ length: n }, (_, i) => (i < k ? ratio(2n, 7n) : whole(0)));
      expect(jainIndex(given)?.equals(ratio(BigInt(k), BigInt(n)))).toBe(true);
    }
    expect(jainIndex([whole(0), whole(0)])).toBeNull();
  });

  test("of a chain that serves the branches first on half the feed is 1/2: half of the machines have all", () => {
    const study = atPercent(chainOf({ count: 6, room: 20 }), 50);
    expect(shares(variant(study, "branch-first"))).toEqual(["1", "1", "1", "0", "0", "0"]);
    expect(variant(study, "branch-first").jain).toBe("1/2");
    expect(shares(variant(study, "through-first"))).toEqual(["0", "0", "0", "1", "1", "1"]);
    // 1, 1, 1/2, 1/4, 1/8, 1/8 (as above): (3)² / (6 · (1 + 1 + 1/4 + 1/16 + 1/64 + 1/64)) = 9 / (6 · 75/32).
    expect(variant(study, "as-written").jain).toBe("16/25");
  });
});

describe("short-chain.yaml", () => {
  const study = atPercent(read(textOf("short-chain.yaml")), 100, 90, 70, 50, 20);

  test("is compared as written, with ordered dividers and as a tree", () => {
    expect(study.variants.map(({ id }) => id)).toEqual(["as-written", "branch-first", "through-first", "tree"]);
    expect(study).toMatchObject({ feeds: [{ id: "blender", rate_per_min: "192", batch_items: null }] });
    expect(study).toMatchObject({ full_per_min: "192", products: ["carton"], unequal_needs: [] });
  });

  test("makes of every feed exactly what it brings, however it is divided", () => {
    for (const [l, expected] of ["192", "864/5", "672/5", "96", "192/5"].entries()) {
      const { variants, ideal_per_min: ideal } = study.levels[l] ?? { variants: [], ideal_per_min: null };
      expect(variants.map(({ settled_per_min: settled }) => settled)).toEqual(Array(4).fill(expected));
      expect(variants.map(({ feeds: [feed] }) => feed?.settled_per_min)).toEqual(Array(4).fill(expected));
      expect(ideal).toBeCloseTo(rational(expected).valueOf(), 9);
    }
  });

  test("as an even tree runs every machine at exactly the feed's share", () => {
    for (const [l, expected] of ["1", "9/10", "7/10", "1/2", "1/5"].entries()) {
      const tree = variant(study, "tree", l);
      expect(shares(tree)).toEqual(Array(8).fill(expected));
      expect(tree).toMatchObject({ jain: "1", proved: true, fluctuation: { swings: false } });
    }
  });

  test("says who starves, and nobody at full feed", () => {
    expect(study.levels[0]?.variants.map(({ starving }) => starving.length)).toEqual([0, 0, 0, 0]);
    expect(variant(study, "as-written", 1).starving).toEqual(["cartoner-7", "cartoner-8"]);
    expect(variant(study, "through-first", 1).starving).toEqual(["cartoner-1"]);
    expect(variant(study, "tree", 1).starving).toHaveLength(8);
  });

  test("fluctuates by no more than whole cycles, around the settled rate", () => {
    for (const { variants } of study.levels) {
      for (const { settled_per_min: settled, fluctuation } of variants) {
        expect(fluctuation.low_per_min).toBeLessThanOrEqual(rational(settled ?? "").valueOf() + 1e-9);
        expect(fluctuation.high_per_min).toBeGreaterThanOrEqual(rational(settled ?? "").valueOf() - 1e-9);
        expect(fluctuation.swings).toBe(false);
      }
    }
  });
});

test("a feed beyond the need can be lowered by as much before anything is lost", () => {
  const study = atPercent(chainOf({ count: 4, room: 20, feed: whole(120), minutes: "120" }), 90, 80, 60);
  // Four machines of 24/min: 96 of the 120.
  expect(study.levels.map(({ ideal_per_min: ideal }) => ideal)).toEqual([96, 96, 72]);
  expect(study.levels.map((_, l) => variant(study, "as-written", l).settled_per_min)).toEqual(["96", "96", "72"]);
});

test("only the feeds that are named are lowered, and what they cannot reach does not count", () => {
  const scenario = read(`
feeds: { silo: { item: pouch, rate: 40/min }, store: { item: lid, rate: 40/min } }
horizon: 2 h
machines:
  filler: { count: 2, cycle: 3 s, takes: { pouch: 1 }, makes: { can: 1 }, infeed: 10 }
  lidder: { count: 2, cycle: 3 s, takes: { lid: 1 }, makes: { closed: 1 }, infeed: 10 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: none }
  other: { layout: chain, from: store, to: lidder, belt: none }
`);
  const study = studyShortage(scenario, [ratio(1n, 2n)], { feeds: ["store"] });
  expect(study.feeds.map(({ id }) => id)).toEqual(["store"]);
  const written = variant(study, "as-written");
  expect(written.settled_per_min).toBe("60");
  expect(written.lines).toEqual([{ id: "other", machines: ["lidder-1", "lidder-2"], jain: "1" }]);
  expect(written.feeds).toEqual([{ id: "store", offered_per_min: "20", settled_per_min: "20" }]);
});

test("within a horizon too short to settle, rates and shares are measured and said to be", () => {
  const study = atPercent(chainOf({ count: 8, room: 400, minutes: "1" }), 90);
  const written = variant(study, "as-written");
  expect(written).toMatchObject({ basis: "measured", settled_per_min: null, settling_min: null, jain: null });
  expect(written.measured_per_min).toBeGreaterThan(50);
  const measured = written.machines.map(({ measured_share: share }) => share ?? NaN);
  const squares = measured.reduce((total, share) => total + share * share, 0);
  const total = measured.reduce((all, share) => all + share, 0);
  expect(written.measured_jain).toBeCloseTo((total * total) / (8 * squares), 9);
  expect(written.fluctuation.period_min).toBeNull();
  // With twenty minutes the flow solution can be told to be right, but not yet to be reached.
  const longer = variant(atPercent(chainOf({ count: 8, room: 400, minutes: "20" }), 90), "as-written");
  expect(longer).toMatchObject({ basis: "flow", settled_per_min: "864/5", settling_min: null });
  expect(longer.fluctuation.swings).toBe(false);
});

test("vehicles bring fewer items, whole ones", () => {
  const scenario = read(`
feeds: { dock: { item: sack, batch: { every: 10 min, items: 45, rate: 60/min }, surge: 60 } }
horizon: 4 h
machines: { roaster: { count: 3, cycle: 30 s, takes: { sack: 1 }, makes: { tray: 1 }, infeed: 4 } }
lines: { main: { layout: chain, from: dock, to: roaster, belt: { rate: 60/min, capacity: 6 } } }
`);
  const study = atPercent(scenario, 100, 50, 1);
  expect(study.levels.map(({ batches }) => batches)).toEqual([
    [{ feed: "dock", items: 45 }],
    [{ feed: "dock", items: 23 }],
    [{ feed: "dock", items: 1 }],
  ]);
  expect(study.levels.map((_, l) => variant(study, "tree", l).settled_per_min)).toEqual(["9/2", "23/10", "1/10"]);
  // Between two vehicles of 23 sacks the line runs dry, and with three ways the turns recur after three vehicles.
  const { fluctuation } = variant(study, "tree", 1);
  expect(fluctuation).toMatchObject({ swings: true, period_min: 30 });
  expect(fluctuation.low_per_min).toBeLessThan(2.3 * 0.8);
});

test("the variants are those that differ from what is written; a custom line has none", () => {
  const ordered = read(textOf("short-chain.yaml").replace("dividers: even", "dividers: branch-first"));
  expect(atPercent(ordered, 50).variants.map(({ id }) => id)).toEqual(["as-written", "even", "through-first", "tree"]);
  const custom = atPercent(read(textOf("custom-network.yaml")), 50);
  expect(custom.variants.map(({ id }) => id)).toEqual(["as-written"]);
});

test("on a chain of unequal machines a tree is even in flow, not in shares", () => {
  const study = atPercent(read(textOf("unequal-chain.yaml")), 50);
  expect(study.unequal_needs).toEqual(["main"]);
  expect(study.products.toSorted()).toEqual(["bag", "crate", "sliced-loaf"]);
  const { machines, jain } = variant(study, "tree");
  // 51 loaves/min over six machines; each has 8.5/min of its need of 14.4 to 24.
  const flows = machines.map(({ share, needs_per_min: needs }) =>
    rational(share ?? "0")
      .mul(rational(needs))
      .toFraction(),
  );
  expect(flows).toEqual(Array(6).fill("17/2"));
  expect(jain).not.toBe("1");
});

describe("a plant of two stages", () => {
  const study = atPercent(read(TWO_STAGES()), 100, 60, 50);

  test("makes in the long run what the blanks are enough for, two a bracket, in every variant", () => {
    for (const [l, expected] of ["60", "36", "30"].entries()) {
      const made = study.levels[l]?.variants.map(({ settled_per_min: settled }) => settled);
      expect(made).toEqual(["60", "60", "60", "60"].map(() => expected));
    }
  });

  test("swings as a chain where it does not as a tree", () => {
    const { fluctuation } = variant(study, "branch-first", 1);
    expect(fluctuation.swings).toBe(true);
    expect(fluctuation.period_min).toBeGreaterThan(fluctuation.window_min);
    expect(fluctuation.low_per_min).toBeLessThan(36 * 0.9);
    expect(fluctuation.high_per_min).toBeGreaterThan(36 * 1.1);
    expect(variant(study, "tree", 1).fluctuation.swings).toBe(false);
  });

  test("is judged by its least evenly served line", () => {
    const written = variant(study, "as-written", 2);
    expect(written.lines.map(({ id }) => id)).toEqual(["raw", "rods", "plates", "bolts"]);
    const least = Math.min(...written.lines.map(({ jain }) => rational(jain ?? "1").valueOf()));
    expect(rational(written.jain ?? "1").valueOf()).toBe(least);
    expect(written.lines.find(({ id }) => id === written.jain_line)?.jain).toBe(written.jain);
  });
});

/** Blanks become plates and rods, rods become bolts, a plate and a bolt a bracket. In a plant of our own. */
function TWO_STAGES(): string {
  const belt = "belt: { rate: 140/min, capacity: 20, transit: 4 s }";
  return `
horizon: 4 h
feeds: { stock: { item: blank, rate: 120/min } }
machines:
  presser: { count: 2, cycle: 2 s, takes: { blank: 1 }, makes: { plate: 1 }, infeed: 40, outfeed: 40 }
  cutter: { count: 4, cycle: 4 s, takes: { blank: 1 }, makes: { rod: 1 }, infeed: 40, outfeed: 40 }
  threader: { count: 2, cycle: 2 s, takes: { rod: 1 }, makes: { bolt: 1 }, infeed: 40, outfeed: 40 }
  joiner: { count: 4, cycle: 4 s, takes: { plate: 1, bolt: 1 }, makes: { bracket: 1 }, infeed: 40, outfeed: 20 }
lines:
  raw: { layout: chain, from: stock, to: [presser, cutter], ${belt}, dividers: even }
  rods: { layout: chain, from: cutter, to: threader, ${belt} }
  plates: { layout: chain, from: presser, to: joiner, ${belt} }
  bolts: { layout: chain, from: threader, to: joiner, ${belt} }
`;
}

test("five machines are compared with a loop of twos and threes, or, where belts cannot carry it, with what is said to be an ideal", () => {
  const belts = (perMin: string): string => FIVE.replaceAll("RATE", perMin);
  const studied = (text: string) => studyShortage(read(text), [ONE, ratio(1n, 2n)]);
  const fast = studied(belts("200/min"));
  expect(fast.variants.at(-1)).toMatchObject({ id: "loop", trees: ["main"], loops: ["main"], ideal_ways: [] });
  expect(shortageFindings(fast).map(({ code }) => code)).not.toContain("tree-ideal");
  // Every machine has half of what it needs, as by a tree of five ways.
  for (const level of fast.levels) {
    const loop = level.variants.at(-1);
    expect(loop?.machines.map(({ share }) => share)).toEqual(Array.from({ length: 5 }, () => level.level));
  }
  // Six parts for five go round: 144/min.
  const slow = studied(belts("140/min"));
  expect(slow.variants.at(-1)).toMatchObject({ id: "tree", loops: [], ideal_ways: [5] });
  expect(shortageFindings(slow)[0]?.code).toBe("tree-ideal");
});

/** Five machines of 24/min. */
const FIVE = `
horizon: 2 h
feeds: { stock: { item: blank, rate: 120/min } }
machines: { press: { count: 5, cycle: 2.5 s, takes: { blank: 1 }, makes: { plate: 1 }, infeed: 20 } }
lines:
  main:
    layout: chain
    from: stock
    to: press
    belt: { rate: RATE, capacity: 20, transit: 3 s }
    branch: { rate: RATE, capacity: 10, transit: 2 s }
`;
