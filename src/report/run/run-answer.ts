/** What a run answers: how much, from when, what is lost, the tightest belt, limits, what lies there, and what to do. */

import type { LimitResult } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { tightestBelts } from "../../quantity/tightest.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { lossMoneyAnswer } from "../answer/money-answer.ts";
import { replicationAnswer } from "../replications/replication-answer.ts";
import { singleRunAnswer } from "../replications/single-run-findings.ts";
import {
  approximately,
  below,
  duration,
  fromStart,
  items,
  listedShort,
  longRun,
  number,
  percent,
  rate,
} from "../text/figures.ts";
import { levelText } from "../text/level-text.ts";
import { CHANGE_FIRST, nothingMade, standsStill } from "../text/standstill.ts";
import { oneLine } from "../text/text-width.ts";
import { notYet, times } from "./findings.ts";
import { whereLost } from "./lost.ts";
import { brokenInBrief, isBroken, kept } from "./plant-findings.ts";
import { sensitivityFinding } from "./sensitivity-finding.ts";
import { heldBack, whyShort } from "./shortfall.ts";
import { together } from "./warnings.ts";

export function runAnswer(result: Result): AnswerLine[] {
  const { replications, chance } = result;
  const answer = [
    ...(replications !== undefined
      ? replicationAnswer(result, replications)
      : chance !== undefined
        ? singleRunAnswer(chance, result)
        : standsStill(result)
          ? [stopped(result)]
          : [makes(result), from(result), lost(result)]),
    ...lossMoneyAnswer(result.money),
    ...whyLess(result),
    ...tightest(result),
    limitsAnswer(result.limits),
    ...(replications === undefined ? [onTheLine(result)] : []),
    ...warnings(result),
    ...toDo(result),
    ...matters(result),
  ];
  return [...answer.filter(({ what }) => !LAST.has(what)), ...answer.filter(({ what }) => LAST.has(what))];
}

const TO_DO = "To do";
const LAST: ReadonlySet<string> = new Set([TO_DO, "Counts"]);

function stopped(result: Result): AnswerLine {
  return {
    what: "Makes",
    text: `nothing for good: ${nothingMade(result).replace(/^[NI]/, (first) => first.toLowerCase())}`,
    isBad: true,
  };
}

const KNOWN = { recurrence: "proved", flow: "exact by the flow solution", measured: "measured, not proved" } as const;

function makes({ settling, output, horizon_min: horizon }: Result): AnswerLine {
  const level = levelText(output);
  return settling.time_min === null
    ? { what: "Makes", text: `not settled within ${duration(horizon)}; ${notYet(settling, level)}`, isBad: true }
    : { what: "Makes", text: `${level}${ofFull(output)} (${KNOWN[settling.basis]})` };
}

/** ", 82.3 % of its full 23.08/min" */
function ofFull(output: Result["output"]): string {
  const [at, full] = [longRun(output), approximately(output.full_per_min)];
  return at === null || !below(at, full) ? "" : `, ${percent(at / full)} of its full ${rate(full)}`;
}

function from({ settling }: Result): AnswerLine {
  const told = times(settling);
  return told === "" ? { what: "From", text: "not known: it has not settled" } : { what: "From", text: told };
}

function lost({ output }: Result): AnswerLine {
  const { ramp_up_loss: count, ramp_up_loss_min: minutes } = output;
  if (count === null || minutes === null) return { what: "Lost", text: "not known: it has not settled" };
  const worth = `, ${duration(Math.abs(minutes))} of output`;
  if (Math.round(count) === 0) return { what: "Lost", text: "nothing in the ramp-up" };
  return count < 0
    ? { what: "Gained", text: `${items(-count)} in the ramp-up${worth}` }
    : { what: "Lost", text: `${items(count)} in the ramp-up${worth}` };
}

/** Where it stays below its full output, or stands still. */
function whyLess(result: Result): AnswerLine[] {
  if (standsStill(result)) return [];
  const place = whereLost(result)
    .find(({ code }) => code === "bottleneck")
    ?.text.split(/^The bottleneck is /)[1];
  const text = place ?? whyShort(result);
  return text === null ? [] : [{ what: "Why less", text: text.replace(/\.$/, ""), isBad: true }];
}

function tightest(result: Result): AnswerLine[] {
  const [first, ...others] = tightestBelts(result.belts, result.cuts);
  if (first === undefined || result.belts.every((belt) => longRun(belt) === 0)) return [];
  const also = others.length === 0 ? "" : `, and ${number(others.length)} more like it`;
  const carries = `carries ${rate(longRun(first.belt) ?? 0)}`;
  const left = first.headroomPerMin <= 0 ? "no headroom" : `headroom ${rate(first.headroomPerMin)}`;
  return [{ what: "Tightest", text: `belt ${oneLine(first.belt.id)} ${carries}, ${left}${also}` }];
}

function onTheLine({ hold_up: holdUp, dwell, settling }: Result): AnswerLine {
  const when = settling.proved ? "once settled" : "at the end";
  const stays = dwell.mean_min === null ? "" : `; on average for ${duration(dwell.mean_min)}`;
  return {
    what: "On line",
    text: `${items(holdUp.settled)} ${when}, ${number(holdUp.peak)} at most${stays}`,
    isMore: true,
  };
}

function warnings({ warnings: all }: Result): AnswerLine[] {
  return together(all).map((text) => ({ what: "Warning", text: oneLine(text), isBad: true }));
}

function toDo(result: Result): AnswerLine[] {
  const { chance, replications, settling, limits } = result;
  const text =
    cured(result) ??
    (standsStill(result)
      ? standing(result)
      : chance !== undefined || replications !== undefined
        ? null
        : settling.time_min === null
          ? longer(result)
          : limits.some(({ over_min: min, over_items: count }) => (min ?? 0) + (count ?? 0) > 0)
            ? "fillfront compare and fillfront layouts weigh what keeps the limits"
            : whyShort(result) !== null
              ? "fillfront size works out what a wanted output takes"
              : "nothing for the output; fillfront compare: what shortens the ramp-up");
  return text === null ? [] : [{ what: TO_DO, text }];
}

/** What further runs tried. */
function cured(result: Result): string | null {
  const text = whereLost(result).find(({ code }) => code === "cure")?.text;
  return text === undefined ? null : text.replace(/^Tried by itself, /, "").replace(/\.$/, "");
}

function standing({ feeds, jams }: Result): string {
  const ended = feeds.every((feed) => approximately(feed.rate_per_min) === 0);
  if (ended) return "nothing: no feed offers anything any more";
  const [jam] = jams ?? [];
  const where = jam === undefined ? "" : `${oneLine(jam.item)} stands at the end of ${oneLine(jam.belt)}: `;
  return `${where}${CHANGE_FIRST}`;
}

function longer({ settling, horizon_min: horizon, feeds }: Result): string {
  const { flow_time_min: flow } = settling;
  const at = flow === null ? null : fromStart(settling, approximately(flow));
  const held = feeds.filter(heldBack).map(({ id }) => oneLine(id));
  const why = held.length === 0 ? "" : `; the line takes less than ${listedShort(held)} offers`;
  return at === null || at <= horizon
    ? `run it for longer, such as --horizon "${duration(2 * horizon)}"${why}`
    : `run it for longer than ${duration(at)} (--horizon), or take the rate of the flow solution${why}`;
}

function matters(result: Result): AnswerLine[] {
  if (standsStill(result)) return [];
  return sensitivityFinding(result).map(({ text }) => ({
    what: "Counts",
    text: text.replace(/^What matters most: /, "most: ").replace(/\.$/, ""),
    isMore: true,
  }));
}

/** Limits kept or not, in a line. */
function limitsAnswer(limits: readonly LimitResult[]): AnswerLine {
  if (limits.length === 0) return { what: "Limits", text: "none stated", isMore: true };
  const broken = limits.filter(isBroken);
  if (broken.length === 0) return { what: "Limits", text: `kept: ${kept(limits)}` };
  const told = broken.map((one) =>
    brokenInBrief({ ...one, over_items: (one.over_items ?? 0) + (one.lying_over ?? 0) }),
  );
  return { what: "Limits", text: `broken: ${listedShort(told, 2)}`, isBad: true };
}
