/**
 * Comparison on the same luck: what the same seeds are worth, when a winner is called one, and what is said where none is. All
 * seeds are fixed. Common random numbers: A. M. Law, Simulation Modeling and Analysis, section 11.2 (from memory).
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { standardDeviation } from "../../src/analysis/statistics/moments.ts";
import { prepare } from "../../src/network/prepare.ts";
import { rational } from "../../src/quantity/rational.ts";
import { layoutsTold } from "../../src/report/layouts/because-text.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { comparisonOnLuck } from "../../src/study/luck/luck-comparison.ts";
import { layoutsOnLuck } from "../../src/study/luck/luck-layouts.ts";
import { layoutVariants } from "../../src/study/luck/luck-variants.ts";
import { playVariants } from "../../src/study/luck/play-variants.ts";
import { luckGrid, playVariant } from "../../src/study/luck/variant-run.ts";
import type { LuckFigureName, SameLuck } from "../../src/study/luck-results.ts";
import { NO_TACTIC } from "../../src/study/play.ts";
import type { Comparison } from "../../src/study/results.ts";
import type { VariantRun } from "../../src/study/variant-outcome.ts";

const TACTICS = `
means: { hands: { items: 9999, rate: 60/min, while: before } }
tactics:
  stocked: { prefill: full }
  stocked-too: { prefill: full }
  half: { prefill: { wrapper: 40 } }
  late: { prefill: full, by-hand: 60/min }
  in-turn: { stagger: { first: tail, every: 15 s } }
`;

/** With spreads that are quickly drawn. */
const LINE = scenarioFrom(
  readFileSync(new URL("../../scenarios/unreliable-chain.yaml", import.meta.url), "utf8")
    .replace("cycle: { erlang: 100 %, stages: 20 }", "cycle: { uniform: [60 %, 140 %] }")
    .replace("interval: { erlang: 100 %, stages: 2 }", "interval: { exponential: 100 % }") + TACTICS,
);

function scenarioFrom(text: string): Scenario {
  const read = readScenario(text, { name: "line" });
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return { ...read.scenario, horizonMin: rational("120") };
}

function gridOf(scenario: Scenario) {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error("not to be prepared");
  return luckGrid(scenario, prepared);
}

const GRID = gridOf(LINE);

function tacticOf(id: string) {
  return LINE.tactics.find((one) => one.id === id) ?? NO_TACTIC;
}

function runsOf(id: string, replications: number, scenario = LINE): VariantRun[] {
  return Array.from({ length: replications }, (_, i) => playVariant(scenario, tacticOf(id), i + 1, GRID));
}

function compared(ids: readonly string[], replications: number): { comparison: Comparison; luck: SameLuck } {
  const played = ["none", ...ids].map((id) => ({ tactic: tacticOf(id), runs: runsOf(id, replications) }));
  const { comparison } = comparisonOnLuck(LINE, played, GRID);
  const { replications: luck } = comparison;
  if (luck === undefined) throw new Error("nothing of luck");
  return { comparison, luck };
}

function figureOf({ figures }: SameLuck, name: LuckFigureName) {
  const found = figures.find(({ figure }) => figure === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
}

function differenceOf(luck: SameLuck, name: LuckFigureName, id: string) {
  const paired = figureOf(luck, name).variants.find((variant) => variant.id === id)?.from_baseline ?? null;
  if (paired === null) throw new Error(`no difference of ${id}`);
  return paired;
}

test("the same luck makes differences many times as sure as separate luck of the same size", () => {
  const n = 20;
  const at = 60;
  const madeBy = (runs: readonly VariantRun[]) => runs.map(({ made }) => made[(at / 120) * GRID.points - 1] ?? 0);
  const none = madeBy(runsOf("none", n));
  const stocked = madeBy(runsOf("stocked", n));
  const elsewhere = madeBy(runsOf("stocked", n, { ...LINE, seed: "another" }));
  const spread = (a: readonly number[], b: readonly number[]) =>
    standardDeviation(a.map((x, i) => x - (b[i] ?? 0))) ?? 0;
  const ratio = (spread(elsewhere, none) / spread(stocked, none)) ** 2;
  // As many times as many replications would be needed.
  expect(ratio).toBeGreaterThan(10);
  // The luck itself is that of the other seed, no more and no less even.
  const alike = (standardDeviation(elsewhere) ?? 0) / (standardDeviation(stocked) ?? 1);
  expect(alike).toBeGreaterThan(0.5);
  expect(alike).toBeLessThan(2);
});

test("two that are the same differ by exactly nothing, and are not told apart", () => {
  const { comparison, luck } = compared(["stocked", "stocked-too"], 4);
  for (const { figure, variants, leader } of luck.figures) {
    const [one, two] = ["stocked", "stocked-too"].map((id) => variants.find((variant) => variant.id === id));
    expect(one?.value, figure).toEqual(two?.value);
    expect(one?.from_baseline, figure).toEqual(two?.from_baseline);
    if (leader !== "stocked" || two?.from_leader === null) continue;
    const nothing = { mean: 0, interval: [0, 0], told: null, about: null, gain: null };
    expect(two?.from_leader, figure).toMatchObject(nothing);
  }
  expect(figureOf(luck, "ramp_up_loss")).toMatchObject({
    leader: "stocked",
    told_apart: false,
    not_told_apart: ["stocked-too"],
    about: null,
  });
  expect(comparison.winner).toBeNull();
});

test("a clear winner is called one, and told apart from every other by its interval", () => {
  const { comparison, luck } = compared(["stocked", "half", "late"], 8);
  const loss = figureOf(luck, "ramp_up_loss");
  expect(loss).toMatchObject({ leader: "stocked", told_apart: true, not_told_apart: [], about: null });
  expect(comparison.winner).toBe("stocked");
  for (const { id, from_leader: paired } of loss.variants) {
    if (id === "stocked") expect(paired).toBeNull();
    else expect(paired).toMatchObject({ n: 8, told: "more" });
    if (paired !== null) expect(paired.interval[0]).toBeGreaterThan(0);
  }
  expect(differenceOf(luck, "ramp_up_loss", "stocked").told).toBe("less");
  expect(differenceOf(luck, "ramp_up_loss", "late").told).toBe("more");
  // Three comparisons with the leader, all at 97.5 % together at a first look.
  expect(loss.variants.find(({ id }) => id === "half")?.from_leader?.level).toBeCloseTo(1 - 0.025 / 3, 12);
});

test("what the floor does not grant is compared and named, and does not win", () => {
  const played = ["none", "stocked"].map((id) => ({ tactic: tacticOf(id), runs: runsOf(id, 8) }));
  const { comparison } = comparisonOnLuck({ ...LINE, means: PLAIN_MEANS }, played, GRID);
  expect(comparison).toMatchObject({ winner: "none", nothing_qualifies: true, best_with_hands: "stocked" });
  expect(comparisonOnLuck(LINE, played, GRID).comparison).toMatchObject({ winner: "stocked", best_with_hands: null });
});

test("what its stock is worth is told by what it makes on the same luck, whatever it loses on the way", () => {
  const low = {
    ...tacticOf("none"),
    id: "low",
    lowLevel: { level: 2, among: { which: "all" }, forMin: null },
  } as const;
  const granted = { ...LINE, means: { ...PLAIN_MEANS, levels: true } };
  const played = [NO_TACTIC, low].map((tactic) => ({
    tactic,
    runs: Array.from({ length: 6 }, (_, i) => playVariant(granted, tactic, i + 1, GRID)),
  }));
  const { comparison } = comparisonOnLuck(granted, played, GRID);
  const [own, none] = ["low", "none"].map((id) => comparison.tactics.find((one) => one.id === id));
  expect(own?.granted).toBe(true);
  expect(own?.ramp_up_loss).toBeLessThan((none?.ramp_up_loss ?? 0) / 2);
  expect(comparison).toMatchObject({ winner: "none", best_without_reserve: "low" });
});

test("what is not told apart says with how many replications, and about as many as it says would do", () => {
  const { comparison, luck } = compared(["in-turn"], 4);
  const loss = figureOf(luck, "ramp_up_loss");
  expect({ n: luck.n, winner: comparison.winner, told: loss.told_apart }).toEqual({ n: 4, winner: null, told: false });
  const about = loss.about ?? 0;
  expect(about).toBeGreaterThan(4);
  // A guess from four runs; twice as many as it says are enough here.
  const more = compared(["in-turn"], 2 * about);
  expect(figureOf(more.luck, "ramp_up_loss").told_apart).toBe(true);
});

test("losses differ by what one has made by the common end and the other not", () => {
  const { luck } = compared(["stocked", "late"], 3);
  const point = Math.round(luck.counted_from_min / GRID.stepMin) - 1;
  const [none, late] = ["none", "late"].map((id) => runsOf(id, 3).map(({ made }) => made[point] ?? 0));
  const missing = (none ?? []).map((made, i) => made - (late?.[i] ?? 0));
  const mean = missing.reduce((sum, items) => sum + items, 0) / missing.length;
  expect(differenceOf(luck, "ramp_up_loss", "late").mean).toBeCloseTo(mean, 6);
  // 10 machines of 75 at 60/min put the start off by 12 1/2 min, in which nothing is made.
  const before = Math.floor((750 / 60 / 120) * GRID.points) - 1;
  expect(runsOf("late", 1)[0]?.made[before]).toBe(0);
});

test("the same whatever comes first, and whole replications alone where it is stopped", async () => {
  const ids = ["none", "stocked", "half"];
  const play = async (variant: number, replication: number, delay: number): Promise<VariantRun> => {
    await new Promise((resolve) => setTimeout(resolve, delay));
    return playVariant(LINE, tacticOf(ids[variant] ?? ""), replication, GRID);
  };
  const asked = { variants: 3, replications: 3 };
  const inOrder = await playVariants(asked, (v, r) => play(v, r, 0), { jobs: 1 });
  const mixed = await playVariants(asked, (v, r) => play(v, r, (7 * v + 5 * r) % 4), { jobs: 4 });
  expect(mixed).toEqual(inOrder);

  const stop = new AbortController();
  const stopped = await playVariants(asked, (v, r) => play(v, r, 0), {
    jobs: 1,
    stop: stop.signal,
    onDone: (runs) => {
      if (runs === 5) stop.abort();
    },
  });
  // Five of nine runs: one whole replication, and two of the second.
  expect(stopped.map((runs) => runs.length)).toEqual([1, 1, 1]);
  expect(stopped).toEqual(inOrder.map((runs) => runs.slice(0, 1)));
});

test("layouts: one that makes no difference in what is wanted is not recommended for it; what is built decides alone", () => {
  const found = layoutVariants({ ...LINE, tactics: [] }, {});
  if (!found.ok) throw new Error(found.why);
  const runs = found.variants.map(({ play }) => [1, 2, 3, 4].map(play));
  const fast = layoutsOnLuck(LINE, found, runs, { priority: "fast" }).study;
  const { replications: luck } = fast;
  if (luck === undefined) throw new Error("nothing of luck");
  expect(luck.figures.map(({ figure }) => figure)).toContain("evenness_at_half_feed");
  const loss = figureOf(luck, "ramp_up_loss");
  expect(fast.recommended).toBe(loss.told_apart ? loss.leader : null);
  if (!loss.told_apart) {
    const isOpen = loss.leader === fast.today || loss.not_told_apart.some((id) => id === fast.today);
    expect(layoutsTold(fast).recommended_because).toContain(
      isOpen ? "nothing is told to do better than the line" : "not told apart",
    );
  }
  const cheap = layoutsOnLuck(LINE, found, runs, { priority: "cheap" }).study;
  const elements = cheap.layouts.flatMap(({ id, feasible, dividers, merges }) =>
    feasible ? [{ id, count: (dividers ?? 0) + (merges ?? 0) }] : [],
  );
  const fewest = Math.min(...elements.map(({ count }) => count));
  expect(elements.find(({ id }) => id === cheap.recommended)?.count).toBe(fewest);
  const small = layoutsOnLuck(LINE, found, runs, { priority: "small" }).study;
  const floors = small.layouts.filter(({ feasible }) => feasible).map(({ id, floor_m2: floor }) => ({ id, floor }));
  const least = Math.min(...floors.map(({ floor }) => floor ?? Infinity));
  expect(floors.find(({ id }) => id === small.recommended)?.floor).toBe(least);
  // None is primed: which tactic comes first is for replications of its own.
  expect(small.layouts.every(({ primed }) => primed === null)).toBe(true);
});
