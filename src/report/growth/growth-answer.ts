/** What a growth study answers: how far the chain can grow, and what growing costs. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { approximately, below, fromTime, items, longRun, number, rate } from "../text/figures.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";
import { oneLine } from "../text/text-width.ts";
import { growthFindings, machines } from "./growth-findings.ts";

export function growthAnswer(growth: Growth): AnswerLine[] {
  const { sizes } = growth;
  const [first, last] = [sizes[0], sizes.at(-1)];
  if (first === undefined || last === undefined) return [];
  const ends = first === last ? [first] : [first, last];
  const each = (of: (step: GrowthStep) => string): string => {
    const [least = "", most = least] = ends.map(of);
    return least === most
      ? `${least} with ${ends.map((step) => number(step.machines)).join(" to ")}\u00a0machines`
      : `${least} with ${machines(first.machines)}, ${most} with ${number(last.machines)}`;
  };
  return [
    ...farEnd(growth),
    { what: "Makes", text: each((step) => (longRun(step) === null ? "not known" : rate(longRun(step) ?? 0))) },
    { what: "From", text: `95\u00a0% ${each((step) => timeText(step.within_tolerance_min))}` },
    { what: "", text: `all of it ${each((step) => timeText(step.settling_min))}` },
    { what: "Lost", text: each((step) => (step.ramp_up_loss === null ? "not known" : items(step.ramp_up_loss))) },
    { what: "Tightest", text: tightestText(ends, each) },
    ...open(growth),
    { what: "To do", text: advice(growth) },
  ];
}

function farEnd({ too_small: small, sizes }: Growth): AnswerLine[] {
  const enough = sizes.filter((step) => !isShort(step)).at(-1);
  const grows =
    enough === undefined ? "no size gets what it needs" : `up to ${machines(enough.machines)} get what they need`;
  const why =
    small === null
      ? ""
      : `; from ${number(small.from_machines)} on belt ${oneLine(small.belt)} (${rate(approximately(small.rate_per_min))}) is too small`;
  return [{ what: "Grows", text: `${grows}${why}`, isBad: small !== null }];
}

function isShort(step: GrowthStep): boolean {
  return below(longRun(step) ?? Infinity, approximately(step.needs_per_min));
}

function timeText(minutes: number | null): string {
  return minutes === null ? "not by the end" : fromTime(minutes);
}

/** Its name once where it is the same at both ends. */
function tightestText(ends: readonly GrowthStep[], each: (of: (step: GrowthStep) => string) => string): string {
  const [belt = null, ...others] = new Set(ends.map(({ tightest_belt: name }) => name));
  return belt !== null && others.length === 0
    ? `${oneLine(belt)}, ${each(headroomText)}`
    : each((step) =>
        step.tightest_belt === null ? "no belt" : `${oneLine(step.tightest_belt)} ${headroomText(step)}`,
      );
}

function headroomText({ headroom_per_min: exact }: GrowthStep): string {
  const headroom = exact === null ? null : approximately(exact);
  if (headroom === null) return "headroom not known";
  return headroom < 0 ? `${rate(-headroom)} too little` : `headroom ${rate(headroom)}`;
}

function open(growth: Growth): AnswerLine[] {
  return growthFindings(growth)
    .filter(({ code }) => code === "unsettled")
    .map(({ text }) => ({ what: "Mind", text: text.replace(/\.$/, ""), isBad: true }));
}

function advice({ too_small: small, sizes }: Growth): string {
  if (sizes.every((step) => longRun(step) === 0)) {
    const isFed = sizes.some(({ feed_per_min: fed }) => approximately(fed) > 0);
    return isFed ? CHANGE_FIRST : "nothing: no feed offers anything any more";
  }
  return small === null
    ? "nothing: every belt carries what is needed"
    : `a faster ${oneLine(small.belt)}, or another layout (fillfront layouts), before there are ${number(small.from_machines)}`;
}
