/** What replications answer: likely figures, how sure they are, and what to do for more. */
import type { ReplicatedFigure, Replications } from "../../analysis/chance-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { approximately, duration, number, percent, rate } from "../text/figures.ts";
import { ofWhat } from "../text/level-text.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";
import { inItems, inRate } from "./replication-figures.ts";
import { allStopped, replicationFindings, whenAllStopped, whyTooShort } from "./replication-findings.ts";

export function replicationAnswer(result: Result, replications: Replications): AnswerLine[] {
  const { n, settled_output_per_min: settled, to_95_min: at, ramp_up_loss: loss, hold_up_settled: held } = replications;
  const told = replicationFindings(result, replications);
  const said = (code: string): string | undefined => told.find((one) => one.code === code)?.text.replace(/\.$/, "");
  const stopped = said("stopped");
  const until = said("until");
  const full = approximately(result.output.full_per_min);
  if (allStopped(replications))
    return [
      { what: "Makes", text: `nothing in the long run: ${whenAllStopped(replications)}`, isBad: true },
      { what: "To do", text: CHANGE_FIRST },
    ];
  return [
    settled === null
      ? {
          what: "Makes",
          text: `not known: the horizon is too short, ${whyTooShort(replications.ramp_up_end)}`,
          isBad: true,
        }
      : {
          what: "Makes",
          text: `likely ${rate(settled.mean)}${ofWhat(result.output)}${full > 0 ? `, ${percent(settled.mean / full)} of its full ${rate(full)}` : ""} (mean of ${number(n)} runs)`,
        },
    ...(settled === null ? [] : [sure(said("sure"), settled)]),
    {
      what: "From",
      text: at === null ? "95\u00a0% not within half of the horizon" : `95\u00a0% of it from ${duration(at)} on`,
    },
    {
      what: "Lost",
      text: loss === null ? "not known" : `${inItems(loss.mean)} in the ramp-up${spread(loss, inItems)}`,
    },
    ...(held === null
      ? []
      : [{ what: "On line", text: `${inItems(held.mean)} once settled${spread(held, inItems)}`, isMore: true }]),
    ...(until === undefined ? [] : [{ what: "Until", text: until }]),
    ...(stopped === undefined ? [] : [{ what: "Stopped", text: stopped, isBad: true }]),
    { what: "To do", text: forMore(result, replications, said("more")) },
  ];
}

function sure(text: string | undefined, { p5, p95, ci95 }: ReplicatedFigure): AnswerLine {
  const runs = p5 === p95 ? "" : `; nine runs in ten make ${inRate(p5)} to ${inRate(p95)}`;
  return ci95 === null
    ? {
        what: "Sure",
        text: `${(text ?? "").replace(/^How sure that is can't be told( yet)?: /, "not told$1: ")}${runs}`,
      }
    : { what: "Sure", text: `${inRate(ci95[0])} to ${inRate(ci95[1])} (95\u00a0% interval)${runs}` };
}

function spread({ ci95, p5, p95 }: ReplicatedFigure, said: (value: number) => string): string {
  if (ci95 !== null) return ` (95\u00a0% interval ${said(ci95[0])} to ${said(ci95[1])})`;
  return p5 === p95 ? "" : ` (nine runs in ten ${said(p5)} to ${said(p95)})`;
}

function forMore(
  { horizon_min: horizon }: Result,
  { run_at_least_min: least }: Replications,
  text: string | undefined,
): string {
  if (text !== undefined) return text.charAt(0).toLowerCase() + text.slice(1);
  return `run at least ${duration(least ?? 2 * horizon)} (--horizon)`;
}
