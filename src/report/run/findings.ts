/**
 * What a result says, in a few plain sentences, for the terminal and the report alike. Each finding has a code, so that
 * programs need not read prose. Spaces within a figure and its unit are no-break ones (see `plain` in figures.ts).
 */
import type { FlowResult, PlantSettling, Result } from "../../analysis/result.ts";
import { gates, replicationFindings } from "../replications/replication-findings.ts";
import { settledByChance, stoppedByChance } from "../replications/single-run-findings.ts";
import {
  approximately,
  duration,
  fromStart,
  fromTime,
  items,
  listedShort,
  longRun,
  number,
  percent,
  rate,
  ratesApart,
} from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { levelText } from "../text/level-text.ts";
import { standsStill, standstill } from "../text/standstill.ts";
import { oneLine } from "../text/text-width.ts";
import { fragileFindings } from "./fragile-findings.ts";
import { jamsAndMixes } from "./jams-text.ts";
import { lineFindings } from "./line-findings.ts";
import { whereLost } from "./lost.ts";
import { batchFindings, cutFindings, limitFindings, outletFindings } from "./plant-findings.ts";
import { sensitivityFinding } from "./sensitivity-finding.ts";
import { hasNoHeadroom, heldBack, limitingBelts, shortfall } from "./shortfall.ts";

export function findings(result: Result): Finding[] {
  const { replications } = result;
  if (replications !== undefined) return [...replicationFindings(result, replications), ...warnings(result)];
  return standsStill(result)
    ? [
        standstill(result),
        ...warnings(result),
        ...jamsAndMixes(result),
        ...flow(result),
        ...lineFindings(result),
        ...onTheLine(result),
      ]
    : [
        ...(result.chance === undefined ? [settled(result)] : settledByChance(result.chance, result)),
        ...stoppedByChance(result),
        ...warnings(result),
        ...gates(result),
        ...shortfall(result),
        ...whereLost(result),
        ...jamsAndMixes(result),
        ...fragileFindings(result),
        ...loss(result),
        ...stretches(result),
        ...flow(result),
        ...last(result),
        ...changing(result),
        ...lineFindings(result),
        ...feedsHeld(result),
        ...headroom(result),
        ...onTheLine(result),
        ...sensitivityFinding(result),
      ];
}

/** What is taken out, comes and lies there, whether the line runs or stands. */
function onTheLine(result: Result): Finding[] {
  return [
    ...cutFindings(result),
    ...outletFindings(result),
    ...batchFindings(result),
    holdUp(result),
    ...dwell(result),
    ...limitFindings(result),
  ];
}

/** Those of the reading stand as "file:line:column: warning: …", and everything here is said to be a warning anyway. */
function warnings(result: Result): Finding[] {
  return result.warnings.map((text): Finding => {
    const [, position, what] = /^(.+:\d+:\d+): warning: (.*)$/.exec(oneLine(text)) ?? [];
    return { code: "warning", text: what === undefined ? oneLine(text) : `${what} (${position})` };
  });
}

function settled({ settling, output, horizon_min }: Result): Finding {
  const level = levelText(output);
  const horizon = `the horizon of ${duration(horizon_min)}`;
  const text =
    settling.time_min === null
      ? `The output has not settled within ${horizon}; ${notYet(settling, level)}.`
      : `The line settles at ${level}${after(": ", times(settling))}. ${basisOf(settling, horizon)}`;
  return { code: "settled", text };
}

function after(lead: string, text: string): string {
  return text === "" ? "" : `${lead}${text}`;
}

export function notYet({ basis, flow_time_min: flowTime }: PlantSettling, level: string): string {
  if (basis === "measured") return `over its last part the line makes ${level}`;
  const when = flowTime === null ? "" : ` from about ${duration(approximately(flowTime))}`;
  return `by the exact flow solution the line makes ${level} in the long run${when}`;
}

/** From when the line keeps up with its settled output for good: "95 % of it from 11.6 min, all of it from 21.7 min". */
export function times(settling: PlantSettling): string {
  const { to_95_min: most, to_99_min: nearly, time_min: full, counted_from_min: counted, full_share: share } = settling;
  if (most === null || full === null) return "";
  const since = counted === 0 ? "" : `, counted from the last change of the feed at ${duration(counted)}`;
  if (fromTime(most) === fromTime(full)) return `95\u00a0% and ${all(share)} ${fromTime(full)}${since}`;
  // Where the last hundredth takes longest, it is no part of the answer.
  const named = nearly !== null && most < nearly && nearly < full / 2 ? `, 99\u00a0% from ${duration(nearly)}` : "";
  return `95\u00a0% of it ${fromTime(most)}${named}, ${all(share)} ${fromTime(full)}${since}`;
}

function all(share: number): string {
  return share === 1 ? "all of it" : percent(share);
}

function basisOf({ basis, period_min: period, full_share: share }: PlantSettling, horizon: string): string {
  switch (basis) {
    case "recurrence":
      return `This is proved: its whole state recurs${period === null ? "" : ` every ${duration(period)}`}.`;
    case "flow":
      return share === 1
        ? `The rate is exact by the flow solution, with which the simulation agrees; no state recurred within ${horizon}.`
        : `The rate is exact by the flow solution; buffers fill or drain for longer, and that hardly moves the output.`;
    case "measured":
      return `The rate is measured over the last half of ${horizon}; nothing is proved.`;
  }
}

function loss({ output, settling }: Result): Finding[] {
  const { ramp_up_loss: lost, ramp_up_loss_min: minutes } = output;
  if (lost === null || minutes === null) return [];
  const start = settling.counted_from_min === 0 ? "the start" : "the last change of the feed";
  const worth = `, ${duration(Math.abs(minutes))} of settled output`;
  const text =
    Math.round(lost) === 0
      ? `The ramp-up costs nothing: the line makes what it would at its settled output from ${start}.`
      : lost < 0
        ? `The ramp-up brings ${items(-lost)} more than running at the settled output from ${start}${worth}.`
        : `The ramp-up costs ${items(lost)} against running at the settled output from ${start}${worth}.`;
  return [{ code: "loss", text }];
}

/** A profile's earlier parts, each by itself. */
function stretches({ settling }: Result): Finding[] {
  return settling.stretches.map(
    ({ from_min, until_min, to_95_min, time_min, ramp_up_loss: lost, ...rates }): Finding => {
      const at = longRun(rates);
      const when =
        to_95_min === null || time_min === null
          ? ""
          : `, 95\u00a0% ${fromTime(to_95_min)}, all ${fromTime(time_min)} after that`;
      const cost =
        lost === null || Math.round(lost) === 0 ? "" : lost < 0 ? `; ${items(-lost)} gained` : `; ${items(lost)} lost`;
      const text = `Before that, from ${duration(from_min)} to ${duration(until_min)}: ${rate(at ?? 0)}${when}${cost}.`;
      return { code: "stretch", text };
    },
  );
}

function flow({ settling, flow: solution, no_flow: reason, chance }: Result): Finding[] {
  if (chance !== undefined) return solution === null ? [] : [flowOfMeans(solution)];
  if (solution === null) {
    return reason === null ? [] : [{ code: "flow", text: `There is no flow solution beside it: ${oneLine(reason)}.` }];
  }
  const flowMin = settling.flow_time_min ?? solution.settling_min;
  const beside = "The flow solution beside it, in which belts take no time and items are a fluid,";
  if (flowMin === null) return [{ code: "flow", text: `${beside} does not settle.` }];
  const flowTime = approximately(flowMin);
  const has = `${beside} settles at ${duration(flowTime)}`;
  if (settling.time_min === null) return [{ code: "flow", text: `${has}.` }];
  const difference = fromStart(settling, settling.time_min) - flowTime;
  if (Math.abs(difference) <= Math.max(0.05 * flowTime, 0.1)) return [{ code: "flow", text: `${has}.` }];
  const text = difference > 0 ? `${has}, ${duration(difference)} earlier.` : `${has}, ${duration(-difference)} later.`;
  return [{ code: "flow", text }];
}

function flowOfMeans({ settled_per_min: settledRate, settling_min: at }: FlowResult): Finding {
  const when = at === null ? "" : `, settled at ${duration(approximately(at))}`;
  const text = `If nothing were left to chance, as the flow solution has it, the line would make ${rate(approximately(settledRate))}${when}.`;
  return { code: "flow", text };
}

function last({ machines }: Result): Finding[] {
  const never = machines.filter((machine) => machine.full_rate_from_min === null).map(({ id }) => oneLine(id));
  const latest = Math.max(...machines.map((machine) => machine.full_rate_from_min ?? -1));
  if (latest < 0) return [];
  const who = machines.filter((machine) => machine.full_rate_from_min === latest).map(({ id }) => oneLine(id));
  const yet = never.length === 0 ? "" : ` ${listedShort(never)} ${never.length === 1 ? "does" : "do"} not by the end.`;
  const their = who.length === 1 ? "its" : "their";
  const text = `Last to run at ${their} long-run rate for good: ${listedShort(who)}, from ${duration(latest)} on.${yet}`;
  return [{ code: "last", text }];
}

function changing({ settling }: Result): Finding[] {
  return settling.still_changing.map(({ buffer, rate_per_min, done_at_min }): Finding => {
    const perMin = approximately(rate_per_min);
    const [does, done] = perMin < 0 ? ["drains", "empty"] : ["fills", "full"];
    const when =
      done_at_min === null
        ? "it is never done before something else changes it"
        : `${done} at ${duration(done_at_min)}`;
    return {
      code: "changing",
      text: `At the end of the horizon the buffer of ${oneLine(buffer)} still ${does} by ${rate(Math.abs(perMin))}; ${when}.`,
    };
  });
}

function feedsHeld(result: Result): Finding[] {
  const { feeds, chance } = result;
  // Under chance a feed's own gaps and outages count too.
  if (chance !== undefined) return [];
  // Of a single one it is said where a belt is named as the cause.
  if (feeds.length === 1 && saysBelts(result)) return [];
  return feeds.filter(heldBack).map((feed): Finding => {
    const [offered, accepted] = ratesApart(approximately(feed.rate_per_min), longRun(feed) ?? 0);
    const text = `Of the ${offered} that feed ${oneLine(feed.id)} offers, the line takes ${accepted} in the long run.`;
    return { code: "feed-held", text };
  });
}

function headroom(result: Result): Finding[] {
  const said = new Set(saysBelts(result) ? limitingBelts(result) : []);
  // A belt that cuts its rate out of a flow is to have none.
  const cuts = new Set(result.cuts.map(({ belt }) => belt));
  const tight = result.belts.filter((belt) => hasNoHeadroom(belt) && !said.has(belt) && !cuts.has(belt.id));
  if (tight.length === 0) return [];
  const names = listedShort(tight.map(({ id }) => oneLine(id)));
  const text = `${tight.length === 1 ? "A belt has" : `${tight.length} belts have`} no headroom in the long run: ${names}.`;
  return [{ code: "headroom", text }];
}

/** Whether the shortfall names belts as its cause. */
function saysBelts(result: Result): boolean {
  return shortfall(result).length > 0 && limitingBelts(result).length > 0;
}

/** A level that moves by more than this part of it is told as a range. */
const SWINGS = 0.02;

function holdUp({ hold_up: holdUp, settling }: Result): Finding {
  const peak = `On belts and in buffers lie at most ${items(holdUp.peak)}, at ${duration(holdUp.peak_at_min)}`;
  const swings = holdUp.settled_high - holdUp.settled_low > Math.max(1, SWINGS * holdUp.settled);
  const level = swings
    ? `${number(holdUp.settled_low)} to ${items(holdUp.settled_high)}, ${number(holdUp.settled)} on average`
    : items(holdUp.settled);
  const then = settling.proved ? `${level} once settled` : `${level} at the end`;
  return { code: "hold-up", text: `${peak}; ${then}.` };
}

function dwell({ dwell: times, settling, feeds, machines }: Result): Finding[] {
  if (times.mean_min === null) return [];
  const kinds = Object.entries(times.by_item_min);
  const each =
    kinds.length < 2 ? "" : ` (${kinds.map(([item, mean]) => `${oneLine(item)} ${duration(mean)}`).join(", ")})`;
  const isAllFed = kinds.every(([kind]) => feeds.some((feed) => feed.items.some(({ item }) => item === kind)));
  const end = machines.length > 0 ? "machine" : "outlet";
  const way = isAllFed ? `From feed to ${end}` : "From feed or machine to machine";
  const when = settling.proved ? "once settled" : "over the horizon";
  const atLongest = settling.proved ? "; at longest, over the whole run," : ", at longest";
  const longest = times.longest_min === null ? "" : `${atLongest} ${duration(times.longest_min)}`;
  const text = `${way} an item takes ${duration(times.mean_min)} on average ${when}${each}${longest}.`;
  return [{ code: "dwell", text }];
}
