/** What a single run under chance says: what is likely, how sure that is or why that can't be told, and what to do for more. */
import type { Chance, StoppedRun } from "../../analysis/chance-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { approximately, duration, percent, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { ofWhat } from "../text/level-text.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";
import { standing, whyTooShort } from "./replication-findings.ts";
import { seenSoFar, stopsWanted } from "./stops-text.ts";

/** The same in brief: how much, how sure, and what to do for more. */
export function singleRunAnswer(chance: Chance, result: Result): AnswerLine[] {
  const { output, horizon_min: horizon } = result;
  const { settled_output_per_min: found, counted_from_min: from, run_at_least_min: least, stopped } = chance;
  const { mean, ci95 } = found;
  if (stopped !== null)
    return [
      { what: "Makes", text: `nothing any more: at its end the line ${hadStopped(stopped)}`, isBad: true },
      { what: "To do", text: `${CHANGE_FIRST}; --replications 100 tells how often it stops` },
    ];
  if (least !== null) {
    const text = `${rate(mean)}${ofWhat(output)} over its last half; the horizon of ${duration(horizon)} is too short for the long run`;
    return [
      { what: "Makes", text, isBad: true },
      { what: "From", text: `not known: ${whyTooShort(chance.ramp_up_end)}` },
      { what: "To do", text: `run at least ${duration(least)} (--horizon)` },
    ];
  }
  const [, sure, more] = settledByChance(chance, result);
  const share = percent(mean / approximately(output.full_per_min));
  const interval =
    ci95 === null
      ? (sure?.text ?? "").replace(/^How sure that is (can't be told|this run can't tell): /, "not told: ")
      : `${rate(ci95[0])} to ${rate(ci95[1])} (95\u00a0% interval of this one run)`;
  return [
    {
      what: "Makes",
      text: `likely ${rate(mean)}${ofWhat(output)}, ${share} of its full output, as in this one run; chance plays a part`,
    },
    { what: "From", text: `counted from ${duration(from)} on; the 95\u00a0% time and the loss take --replications` },
    { what: "Sure", text: interval.replace(/\.$/, "") },
    {
      what: "To do",
      text: (more?.text ?? "")
        .replace(/^For more, and for what other runs would give: /, "for more: ")
        .replace(/\.$/, ""),
    },
  ];
}

/** One run's worth: what is likely, what is sure, what to do for more. */
export function settledByChance(chance: Chance, { output, horizon_min: horizon, flow: solution }: Result): Finding[] {
  const { settled_output_per_min: found, counted_from_min: from, run_at_least_min: least, stops, stopped } = chance;
  if (stopped !== null) return [];
  const { mean, ci95, why, batches, batch_min: each } = found;
  if (least !== null) {
    const guide =
      solution === null
        ? ""
        : ` As a guide: if nothing were left to chance it would make ${rate(approximately(solution.settled_per_min))}.`;
    const text = `Chance plays a part, and the horizon of ${duration(horizon)} is too short to tell what the line makes in the long run: ${whyTooShort(chance.ramp_up_end)}; over its last half it makes ${rate(mean)}. Run at least ${duration(least)}.${guide}`;
    return [{ code: "settled", text }];
  }
  const share = percent(mean / approximately(output.full_per_min));
  const likely = `Chance plays a part: in this one run the line makes ${rate(mean)} from ${duration(from)} on, ${share} of its full output.`;
  const sure =
    ci95 !== null
      ? `Sure, but for one study in twenty, is a long-run mean between ${rate(ci95[0])} and ${rate(ci95[1])}, by ${batches ?? 0} batch means of ${duration(each ?? 0)}.`
      : why === "too few stops"
        ? `How sure that is can't be told: ${seenSoFar(stops, 1)}, and an interval takes fifty.`
        : `How sure that is this run can't tell: ${UNSURE[why ?? "too few values"]}.`;
  const more = `For more, and for what other runs would give: ${stopsWanted(stops, 1) ?? "--replications 100"}.`;
  return [
    { code: "settled", text: likely },
    { code: "sure", text: sure },
    { code: "more", text: more },
  ];
}

const UNSURE = {
  "still ramping up": "it is still ramping up",
  "too few stops": "it has seen too few stops",
  "too few values": "it is too short",
  "batches still correlated": "batches of it are still correlated",
  "no variation": "nothing in it varied",
} as const;

export function stoppedByChance({ chance }: Result): Finding[] {
  const stopped = chance?.stopped ?? null;
  if (stopped === null) return [];
  return [{ code: "stopped", text: `At its end the line ${hadStopped(stopped)}.` }];
}

function hadStopped({ since_min: since, stands: [head] }: StoppedRun): string {
  return `had stopped, from ${duration(since)} on${standing(head)}`;
}
