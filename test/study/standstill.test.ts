/** A line that stops for good has settled at nothing, which no study takes for success. */

import { describe, expect, test } from "vitest";
import { ONE, rational } from "../../src/quantity/rational.ts";
import { comparisonFindings, winnerInBrief } from "../../src/report/comparison/comparison-findings.ts";
import { comparisonText } from "../../src/report/comparison/comparison-text.ts";
import { winnerSentence } from "../../src/report/comparison/recommended-findings.ts";
import { growthFindings } from "../../src/report/growth/growth-findings.ts";
import { primeText } from "../../src/report/prime/prime-text.ts";
import { dipFindings } from "../../src/report/shortage/dip-findings.ts";
import { dipText } from "../../src/report/shortage/dip-report.ts";
import { plain } from "../../src/report/text/figures.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { standardTactics } from "../../src/study/comparison/standard-tactics.ts";
import { growChain, growingGroup } from "../../src/study/growth/grow.ts";
import { leastDoses } from "../../src/study/prime/prime.ts";
import { NO_GOALS } from "../../src/study/recommended/goals.ts";
import type { Comparison, TacticResult } from "../../src/study/results.ts";
import { studyDip } from "../../src/study/shortage/dip.ts";
import { studyShortage } from "../../src/study/shortage/shortage.ts";
import { ENDING, KITS, scenarioIn, socks } from "./standing-plants.ts";

function compared(text: string): Comparison {
  const scenario = scenarioIn(text);
  return compareTactics(scenario, standardTactics(scenario)).comparison;
}

function own({ tactics }: Comparison, id: string): TacticResult {
  const found = tactics.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no tactic ${id}`);
  return found;
}

const isStill = ({ settled_per_min: rate }: TacticResult): boolean => rate === 0;
const codes = (comparison: Comparison): string[] => comparisonFindings(comparison).map(({ code }) => code);

describe("tactics compared", () => {
  const kits = compared(KITS);
  const even = compared(socks("even"));
  const branchFirst = compared(socks("branch-first"));

  test.each([
    ["kits", kits],
    ["even dividers", even],
    ["branch first", branchFirst],
  ])("%s: what stops has no settling and no loss, is last, never the choice and beats nothing", (_, comparison) => {
    const { tactics, winner } = comparison;
    const still = tactics.filter(isStill);
    expect(still.length).toBeGreaterThan(0);
    expect(tactics.slice(-still.length)).toEqual(still);
    for (const one of still) {
      expect(one).toMatchObject({ settling_min: null, to_95_min: null, ramp_up_loss: null, undominated: false });
      expect(one.stops_at_min).not.toBeNull();
      // It makes no more from then on.
      if ((one.stops_at_min ?? 0) < 10) expect(one.made.min_60).toBe(one.made.min_10);
      expect(one.id).not.toBe(winner);
    }
    const stillIds = still.map(({ id }) => id);
    for (const { beaten_by: by } of tactics) expect(stillIds).not.toContain(by);
    const times = still.map(({ stops_at_min: stop }) => stop ?? Infinity);
    expect(times).toEqual(times.toSorted((a, b) => b - a));
  });

  test("where every one stops there is no winner, and what is to be changed is said", () => {
    expect(kits.tactics.every(isStill)).toBe(true);
    expect([kits.winner, kits.feed_ends]).toEqual([null, false]);
    const sentence = plain(winnerSentence(kits));
    expect(sentence).toBe(
      "The line comes to a standstill whatever is done: the mix, the take-off at the far end or the dividers are to be changed first.",
    );
    expect(winnerInBrief(kits)).toBe(sentence);
    expect(codes(kits)).toEqual(["winner", "same", "stopped", "baseline"]);
    expect(own(kits, "fill-then-go")).toMatchObject({ first_product_min: null, stops_at_min: 0 });
    expect(plain(comparisonFindings(kits).find(({ code }) => code === "stopped")?.text ?? "")).toContain(
      "; it never makes anything with fill-then-go.",
    );
  });

  test("where the line stops as it is and a tactic keeps it going, both are said", () => {
    expect(isStill(own(even, "none"))).toBe(true);
    expect(even.winner).toBe("tail-starts-first");
    const sentence = plain(winnerSentence(even));
    expect(sentence).toMatch(
      /^tail-starts-first is worth doing: loses 55 items, and has 95 % from .* on, with nothing handled/,
    );
    expect(sentence).toContain("Without a tactic the line comes to a standstill, at 5.4 min.");
    expect(sentence).not.toMatch(/instead of|fill-then-go/);
    // Against what the line can make, since it makes nothing as it is.
    expect(own(even, "second-feed")).toMatchObject({ slower_for_good: true, undominated: false });
    expect(own(even, "stocked").slower_for_good).toBe(false);
  });

  test("where the line goes on as it is, no sentence praises what stops or what is slower for good", () => {
    expect(isStill(own(branchFirst, "boosted"))).toBe(true);
    const names = branchFirst.tactics.filter(isStill).map(({ id }) => id);
    const still = new RegExp(`(?<![\\w-])(?:${names.join("|")})(?![\\w-])`);
    for (const { code, text } of comparisonFindings(branchFirst)) {
      if (!["stopped", "note", "beaten", "same"].includes(code)) expect(text).not.toMatch(still);
      if (code !== "stopped" && code !== "note" && code !== "beaten" && code !== "slower")
        expect(text).not.toContain("second-feed");
      expect(text).not.toContain("settles at 0/min");
    }
    expect(comparisonFindings(branchFirst).filter(({ code }) => code === "stopped")).toMatchObject([
      {
        text: expect.stringMatching(
          /^The line stops for good with boosted at 5\.6.min, .*; it never makes anything with fill-then-go\.$/,
        ),
      },
    ]);
    const rows = comparisonText(branchFirst, PLAIN_STYLE, { details: true }).split("\n");
    expect(rows.find((row) => row.startsWith("  boosted "))).toContain("stops 5.6");
    expect(rows.find((row) => row.startsWith("  fill-then-go "))).toContain("stops 0.0");
  });

  test("a feed that ends is no jam", () => {
    const ending = compared(ENDING);
    expect([ending.feed_ends, ending.winner]).toEqual([true, null]);
    expect(winnerSentence(ending)).toContain("No feed offers anything in the end");
    expect(winnerSentence(ending)).not.toContain("dividers");
  });
});

describe("least doses", () => {
  test.each([
    { ...NO_GOALS, withinMin: 5 },
    { ...NO_GOALS, lossBelow: 10 },
  ])("a standstill does not reach %j", (goal) => {
    const study = leastDoses(scenarioIn(KITS), goal);
    expect(study.baseline_stops_at_min).toBeGreaterThan(4);
    for (const one of study.tactics) expect(one).toMatchObject({ reaches: false, settling_min: null });
    const text = primeText(study, PLAIN_STYLE, { details: true }).replaceAll(/\s+/g, " ");
    expect(text).toContain("As it is, the line comes to a standstill: it makes nothing from 4.5 min on.");
    expect(text).toContain("the dividers are to be changed first. None of the 9 tactics reaches it.");
    expect(text).toContain("- stocked: no dose reaches it, of those looked at. With 0 items in every buffer: stops");
    expect(text).not.toContain("The nearest is");
  });

  test("what keeps the line going reaches it, and one step weaker it stops", () => {
    const study = leastDoses(scenarioIn(socks("even")), { ...NO_GOALS, withinMin: 5 });
    const stagger = study.tactics.find(({ id }) => id === "tail-starts-first");
    expect(stagger).toMatchObject({ reaches: true, stops_at_min: null });
    expect(stagger?.one_less).toMatchObject({ settling_min: null, ramp_up_loss: null });
    expect(stagger?.one_less?.stops_at_min).toBeGreaterThan(0);
    expect(primeText(study, PLAIN_STYLE, { details: true })).toMatch(/^As it is, the line comes to a standstill/m);
  });

  test("a line that goes on has nothing said of standing still", () => {
    const study = leastDoses(scenarioIn(socks("branch-first")), { ...NO_GOALS, withinMin: 3 });
    expect([study.baseline_stops_at_min, study.feed_ends]).toEqual([null, false]);
    expect(primeText(study, PLAIN_STYLE, { details: true })).not.toContain("standstill");
  });
});

describe("a dip", () => {
  const given = (from: string) => ({ level: rational("1/2"), fromMin: rational(from), forMin: rational("30") });
  const dipOf = (text: string, from = "120") => studyDip(scenarioIn(text), given(from)).dip;

  test("a variant that stands still before it has nothing to lose and recovers from nothing", () => {
    const dip = dipOf(socks("branch-first"));
    const even = dip.results.find(({ id }) => id === "even");
    expect(even).toMatchObject({ recovery_min: null, within_tolerance_min: null, lost: 0 });
    expect(even?.stops_without_min).toBeLessThan(6);
    expect(even?.stops_at_min).toBe(even?.stops_without_min);
    const all = dipFindings(dip).map(({ text }) => plain(text));
    expect(all[0]).toBe("Stands still before the dip: even dividers from 5.4 min on and through first from 36 s on.");
    expect(all.some((text) => text.includes("about 1500 in every other variant"))).toBe(true);
    for (const text of all.slice(1)) expect(text).not.toMatch(/even dividers|through first|not feel/);
    expect(dipText(dip)).toMatch(/^even dividers +0 +– /m);
  });

  test("where all do, that is all there is to say", () => {
    const found = dipFindings(dipOf(KITS));
    expect(found.map(({ code }) => code)).toEqual(["stopped", "lost"]);
    expect(plain(found[1]?.text ?? "")).toBe("The feed at 50 % for 30 min is 1500 items short.");
  });

  test("one that comes before the standstill", () => {
    const found = dipFindings(dipOf(socks("even"), "1"));
    const stopped = found.filter(({ code }) => code === "stopped").map(({ text }) => plain(text));
    expect(stopped.length).toBeGreaterThan(0);
    expect(stopped.join(" ")).toContain("Stands still before the dip: through first from 36 s on.");
  });
});

test("chains that stop have no settling and no loss at any size or level of the feed, and it is said that they stop", () => {
  const scenario = scenarioIn(KITS);
  const chain = growingGroup(scenario);
  if (typeof chain === "string") throw new Error(chain);
  const growth = growChain(scenario, chain, [2, 4]);
  const still = { settled_per_min: "0", settling_min: null, within_tolerance_min: null, ramp_up_loss: null };
  expect(growth.sizes).toEqual([still, still].map((one) => expect.objectContaining(one)));
  expect(growth.sizes.every(({ stops_at_min: at }) => at !== null)).toBe(true);
  const said = growthFindings(growth).map(({ code }) => code);
  expect(said).toContain("stopped");
  for (const code of ["settling", "items", "unsettled"]) expect(said).not.toContain(code);
  for (const { variants } of studyShortage(scenario, [ONE, rational("1/2")]).levels) {
    for (const one of variants.filter(({ settled_per_min: rate }) => rate === "0")) {
      expect([one.settling_min, typeof one.stops_at_min]).toEqual([null, "number"]);
    }
  }
});
