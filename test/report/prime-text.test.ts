import { expect, test } from "vitest";
import { primeText as briefly } from "../../src/report/prime/prime-text.ts";
import { PLAIN_STYLE } from "../../src/report/text/terminal-lines.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import { primeSample } from "./study-sample.ts";

const study = primeSample();
const primeText = (of: typeof study): string => briefly(of, PLAIN_STYLE, { details: true });
const flowing = (text: string): string => text.replaceAll(/\s+/g, " ");

test("goal, who reaches it, what is worth doing first, then the least loss", () => {
  const text = flowing(primeText(study));
  expect(text).toContain("Goal 95 % within 5 min Do stocked, 76 items in every buffer");
  expect(text).toContain(
    "3 of 5 tactics reach it; stocked is worth doing: it loses 130 items, has 95 % from 4.9 min on and has 608 items handled. With nothing done the line loses 720 items and has 95 % from 16.8 min on.",
  );
  expect(text.indexOf("- stocked, 76")).toBeLessThan(
    text.indexOf("- metered, 0 % over the need on every branch, the weakest there is:"),
  );
});

test("the least dose with what it gives, and what one less gives, as proof", () => {
  expect(flowing(primeText(study))).toContain(
    "- stocked, 76 items in every buffer: 95 % from 4.9 min on, 130 items lost, 608 items handled. One less, 75 items in every buffer, gives: 95 % from 5.1 min on, 142 items lost.",
  );
});

test("the next weaker dose is one less only where it is", () => {
  const [first] = study.tactics;
  if (first === undefined) throw new Error("the sample has tactics");
  const room = { ...first, id: "low-level", dose: 5, unit: { counts: "items-of-room" } as const };
  const weaker = { dose: 6, stops_at_min: null, settling_min: 6, to_95_min: 5.2, ramp_up_loss: 50 };
  const said = (one_less: typeof weaker, dose = 5): string =>
    flowing(primeText({ ...study, tactics: [{ ...room, dose, one_less }] }));
  expect(said(weaker)).toContain("One step weaker, 6 items of room in every buffer, gives: 95 % from 5.2 min on");
  expect(said(weaker, 11)).toContain("One step weaker, 6 items of room in every buffer, gives");
  expect(said(weaker, 7)).toContain("One less, 6 items of room in every buffer, gives");
});

test("a near miss is not rounded into the goal", () => {
  expect(flowing(primeText(study))).toContain("79 items of room in every buffer, gives: 95 % from 5.04 min on");
});

test("no dose does: said, with how near it gets", () => {
  const text = flowing(primeText(study));
  expect(text).toContain(
    "- boosted: no dose reaches it, of those looked at. The nearest is 12 % more feed for 10 min: 95 % from 13.9 min on",
  );
  expect(text).toContain("- far-end-first does not reach it: not settled yet");
  const none = { ...study, tactics: study.tactics.filter(({ reaches }) => !reaches) };
  expect(flowing(primeText(none))).toContain("None of the 2 tactics reaches it.");
});

test("other goals, and a budget", () => {
  const text = primeText({ ...study, goals: { within_min: 6, loss_below: 200, handled_below: 500 } });
  expect(flowing(text)).toContain("Goal 95 % within 6 min, a loss below 200 items and fewer than 500 items handled Do");
});

test("cautions with hands only; 80 columns", () => {
  const text = primeText(study);
  expect(flowing(text)).toContain("with stocked: - Before hands go in: stop, isolate and lock out");
  expect(Math.max(...text.split("\n").map((line) => textWidth(line)))).toBeLessThanOrEqual(80);
  const without = { ...study, tactics: study.tactics.map((tactic) => ({ ...tactic, by_hand: false })) };
  expect(primeText(without)).not.toContain("lock out");
});
