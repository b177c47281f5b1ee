/** Answers come first: at most ten lines, one table beside them, 80 columns; all else where it is asked for, and in report.md. */

import { expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { comparisonAnswer } from "../../src/report/comparison/comparison-answer.ts";
import { comparisonText } from "../../src/report/comparison/comparison-text.ts";
import { growthText } from "../../src/report/growth/growth-report.ts";
import { layoutsText } from "../../src/report/layouts/layouts-text.ts";
import { primeText } from "../../src/report/prime/prime-text.ts";
import { reportMarkdown } from "../../src/report/run/run-report.ts";
import { summary } from "../../src/report/run/summary.ts";
import { messagesTogether, together } from "../../src/report/run/warnings.ts";
import { dipText } from "../../src/report/shortage/dip-report.ts";
import { shortageText } from "../../src/report/shortage/shortage-report.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import { layoutsSample } from "./layouts-sample.ts";
import { sample } from "./sample.ts";
import { dipSample, shortageSample } from "./shortage-sample.ts";
import { comparisonSample, growthSample, primeSample } from "./study-sample.ts";

/** Of title, answer, table and what follows; their lines. */
function parts(text: string): string[][] {
  for (const line of text.split("\n")) expect(textWidth(line), line).toBeLessThanOrEqual(80);
  return text
    .trimEnd()
    .split("\n\n")
    .map((part) => part.split("\n"));
}

const { comparison } = comparisonSample();

/** So many, half of them beaten, all with names and phrases as long as they come. */
function many(count: number) {
  const [first, ...others] = comparison.tactics;
  if (first === undefined) throw new Error("the sample has tactics");
  const more = Array.from({ length: count - comparison.tactics.length }, (_, i) => ({
    ...first,
    id: `a-tactic-with-a-long-name-${i}`,
    undominated: i % 2 === 0,
    ramp_up_loss: 500 + i,
    notes: [{ note: "boost-limited" as const, belt: `main.through-${i}`, factor: rational(BigInt(100 + i)).div(100n) }],
  }));
  return { ...comparison, tactics: [first, ...others, ...more] };
}

test.each([
  ["run, eight machines", summary(sample({ machines: 8 }).result), 24],
  ["compare, twenty tactics", comparisonText(many(20)), 30],
  ["compare, six", comparisonText(comparison), 30],
  ["layouts", layoutsText(layoutsSample().study), 35],
  ["shortage", shortageText(shortageSample()), 30],
  ["dip", dipText(dipSample().dip), 24],
  ["grow, to two hundred", growthText(growthSample(1, 200)), 35],
  ["prime", primeText(primeSample()), 30],
])("%s", (_, text, most) => {
  const [title = [], answer = []] = parts(text);
  expect(title.length + answer.length).toBeLessThanOrEqual(12);
  expect(answer.length).toBeLessThanOrEqual(10);
  expect(parts(text).flat().length + parts(text).length - 1).toBeLessThanOrEqual(most);
});

test("what is not shown of many tactics is counted; what is told of has a row; details have them all", () => {
  const all = many(20);
  const brief = comparisonText({ ...all, best_with_hands: "a-tactic-with-a-long-name-7" });
  const rows = (text: string): string[] => text.split("\n").filter((line) => /^[ *] \S+ .*\d$/.test(line));
  expect(rows(brief)).toHaveLength(11);
  expect(brief).toContain("… 9 more, beaten or no better: --details, or comparison.csv");
  expect(rows(brief).some((row) => /name-7 /.test(row))).toBe(true);
  expect(rows(comparisonText(all, PLAIN_STYLE, { details: true })).length).toBeGreaterThanOrEqual(20);
});

test("hands in the line are warned of in one line, with the report's place, and at length in details", () => {
  const shown = { place: "reports/long-chain-compare" };
  const brief = comparisonText(comparison, PLAIN_STYLE, shown);
  expect(brief.trimEnd().split("\n").at(-1)).toBe(
    "Hands: stop, isolate, lock out first. See reports/long-chain-compare/report.md",
  );
  expect(comparisonText(comparison, PLAIN_STYLE, { ...shown, details: true })).toContain("29 CFR 1910.147");
});

test("report.md begins with the very answer", () => {
  const { result } = sample({ machines: 8 });
  const report = reportMarkdown(result, []);
  const [, answer = []] = parts(summary(result));
  const [label = ""] = /^\w+/.exec(answer[0] ?? "") ?? [];
  expect(report.split("\n\n")[1]).toContain(`| **${label}** | ${answer[0]?.slice(label.length).trim()} |`);
  expect(report.indexOf("| **Lost** |")).toBeLessThan(report.indexOf("## Findings"));
});

test("the answer says what doing so gives up, and what would do better at which price", () => {
  const told = comparisonAnswer({ ...comparison, winner: "low-level", best_with_hands: "stocked" });
  const text = (what: string): string | undefined =>
    told.find((line) => line.what === what)?.text.replaceAll("\u00a0", " ");
  expect(text("Against it")).toBe("28 % of the stock is left; a feed stop is bridged for 2.4 min less");
  expect(text("With hands")).toBe(
    "stocked: 120 items lost, 95 % from 52.8 s and 1920 items handled; it asks for hands for 1920 items beside the running line, 8 min at 240/min".replace(
      "52.8 s",
      "53 s",
    ),
  );
});

test("a warning that comes again is told once, with its places", () => {
  const all = [8, 9, 12, 13, 14].map((line) => `a.yaml:${line}:5: warning: belt "b-${line}" carries ${line}/min`);
  expect(together(all)).toEqual(['belt "b-8" carries 8/min (a.yaml:8:5; likewise lines 9, 12, 13 and 1 more)']);
  expect(messagesTogether(all.slice(0, 2))).toEqual(['a.yaml:8:5: warning: belt "b-8" carries 8/min; likewise line 9']);
  expect(together(["one thing", ...all.slice(0, 1)])).toEqual(["one thing", 'belt "b-8" carries 8/min (a.yaml:8:5)']);
});
