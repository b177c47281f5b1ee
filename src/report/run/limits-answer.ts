/** Limits kept or not, in a line. */
import type { LimitResult } from "../../analysis/plant-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { duration, items, listedShort, number } from "../text/figures.ts";
import { isBroken, kept, kind, place } from "./plant-findings.ts";

export function limitsAnswer(limits: readonly LimitResult[]): AnswerLine {
  if (limits.length === 0) return { what: "Limits", text: "none stated", isMore: true };
  const broken = limits.filter(isBroken);
  if (broken.length === 0) return { what: "Limits", text: `kept: ${kept(limits)}` };
  return { what: "Limits", text: `broken: ${listedShort(broken.map(overText), 2)}`, isBad: true };
}

function overText(limit: LimitResult): string {
  const { peak, limit: most, over_min: minutes, over_items: taken, lying_over: lying } = limit;
  if (limit.what === "hold-up") {
    return `${number(peak)} of at most ${number(most)} ${kind(limit)}${place(limit)}, over for ${duration(minutes ?? 0)}`;
  }
  const count = (taken ?? 0) + (lying ?? 0);
  const what = limit.item === null ? items(count) : `${number(count)} ${kind(limit)}`;
  return `${what} longer than ${duration(most)}, up to ${duration(peak)}`;
}
