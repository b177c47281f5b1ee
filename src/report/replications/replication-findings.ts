/**
 * What replications say, in a few plain sentences, each with a code: what is likely, what is sure, what to do for more; then what
 * the ramp-up takes and costs, what lies on the line, and what must be known of the runs.
 */
import type { RampUpEnds, ReplicatedFigure, Replications, StoppedRun } from "../../analysis/chance-results.ts";
import type { Result } from "../../analysis/result.ts";
import { approximately, duration, listed, listedShort, number, percent, rate } from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";
import { inItems, inPercent, inRate, saidFully } from "./replication-figures.ts";
import { seenSoFar, stopName, stopsWanted } from "./stops-text.ts";

export function replicationFindings(result: Result, replications: Replications): Finding[] {
  const { settled_output_per_min: figure } = replications;
  if (allStopped(replications)) {
    const rest = [...unfinished(replications), ...gates(result), median(replications)];
    return [
      { code: "settled", text: `In the long run the line makes nothing: ${whenAllStopped(replications)}.` },
      ...rest,
    ];
  }
  return [
    ...(figure === null ? tooShort(result, replications) : settled(result, replications, figure)),
    ...tick(result, replications),
    ...until(replications),
    ...withoutRare(replications),
    ...stopped(replications),
    ...unfinished(replications),
    ...time(replications),
    ...loss(replications),
    ...holdUp(replications),
    ...uptimes(replications),
    ...gates(result),
    median(replications),
  ];
}

function settled({ output }: Result, replications: Replications, figure: ReplicatedFigure): Finding[] {
  const { n, counted_from_min: from } = replications;
  const full = approximately(output.full_per_min);
  const share = full > 0 ? `, ${percent(figure.mean / full)} of its full ${rate(full)}` : "";
  const runs =
    figure.p5 === figure.p95 ? "" : `; of single runs nine in ten make ${rate(figure.p5)} to ${rate(figure.p95)}`;
  const text = `In the long run the line likely makes ${rate(figure.mean)}${share}${runs} (${number(n)} replications, counted from ${duration(from ?? 0)} on).`;
  return [{ code: "settled", text }, sure(replications, figure), more(replications, figure)];
}

function sure({ n, stops }: Replications, { ci95, no_ci95: why }: ReplicatedFigure): Finding {
  const said =
    ci95 !== null
      ? `Sure, but for one study in twenty, is a long-run mean between ${rate(ci95[0])} and ${rate(ci95[1])}.`
      : why === "too few stops"
        ? `How sure that is can't be told yet: ${seenSoFar(stops, n)}, and an interval takes fifty.`
        : why === "no variation"
          ? "How sure that is can't be told: all replications came out alike."
          : "How sure that is one run can't tell.";
  return { code: "sure", text: said };
}

function more({ n, stops }: Replications, { ci95 }: ReplicatedFigure): Finding {
  const wanted = stopsWanted(stops, n);
  const text =
    wanted !== null
      ? `For an interval: ${wanted}.`
      : ci95 === null
        ? "For an interval: more replications, or a longer horizon."
        : `For an interval half as wide: about ${number(4 * n)} replications.`;
  return { code: "more", text };
}

/** An interval of twenty replications, of which what ticks take is to be no more than a tenth. */
const USUAL = 20;

function tick(
  { tick_s: length }: Result,
  { n, tick_takes_at_most: share, settled_output_per_min: figure }: Replications,
): Finding[] {
  if (figure === null || figure.ci95 === null) return [];
  const half = ((figure.ci95[1] - figure.ci95[0]) / 2) * Math.sqrt(n / USUAL);
  if (share * figure.mean <= half / 10) return [];
  const text = `Rounding to ticks of ${length} s may take up to ${percent(share)} off that output, which the interval does not know of; most between machines without room to spare. A shorter tick takes less.`;
  return [{ code: "tick", text }];
}

function tooShort(result: Result, replications: Replications): Finding[] {
  const { ramp_up_end: ends, run_at_least_min: least, made } = replications;
  const why = whyTooShort(ends);
  const text = `The horizon of ${duration(result.horizon_min)} is too short to tell what the line makes in the long run: ${why}. Run at least ${duration(least ?? 2 * result.horizon_min)}.`;
  const flow = result.flow;
  const guide =
    flow === null
      ? ""
      : ` As a guide: if nothing were left to chance it would make ${rate(approximately(flow.settled_per_min))}${flow.settling_min === null ? "" : `, from ${duration(approximately(flow.settling_min))} on`}.`;
  return [
    { code: "settled", text: `${text}${guide}` },
    { code: "made", text: `Within the horizon it makes ${saidFully(made, inItems)}.` },
  ];
}

export function whyTooShort({ mser5_why: mser, welch_why: welch }: RampUpEnds): string {
  if (mser === "too few values") return "it has too few cycles of the slowest machine";
  if (mser === "beyond half") return "by MSER-5 the ramp-up takes more than half of it";
  return welch === "still moving" || welch === "too few points"
    ? "by Welch's procedure the mean output still moves"
    : "the first half of what follows the ramp-up differs from the second";
}

function until({ until: asked, n, stops, settled_output_per_min: settledOutput }: Replications): Finding[] {
  if (asked === null) return [];
  const wanted = `\u00b1${percent(asked.share)}`;
  const figure = oneLine(asked.figure);
  const width = asked.half_width === null ? "" : ` (\u00b1${percent(asked.half_width)})`;
  if (asked.reached) {
    const text = `${number(n)} replications were enough for an interval of ${wanted} of ${figure}${width}. Intervals that are waited for hold a little less often: about ${number(asked.coverage_percent)} in 100 rather than 95.`;
    return [{ code: "until", text }];
  }
  const missing = stops.filter(({ enough }) => !enough);
  const about = asked.about === null || asked.about <= n ? "" : `; about ${number(asked.about)} would do`;
  const why =
    missing.length > 0
      ? `: ${seenSoFar(stops, n)}, and it does not stop before fifty`
      : settledOutput === null && figure !== "made"
        ? ": the horizon is too short"
        : about;
  const text = `${number(n)} replications are not enough for an interval of ${wanted} of ${figure}${width}${why}.`;
  return [{ code: "until", text }];
}

function withoutRare({ without_rare: rare }: Replications): Finding[] {
  if (rare === null) return [];
  const names = listed(rare.stops.map(stopName));
  const text = `While it is spared ${names}, as ${number(rare.settled_output_per_min.n)} replications were, it makes ${saidFully(rare.settled_output_per_min, inRate)}.`;
  return [{ code: "without-rare", text }];
}

/** So many are named, and of each one belt. */
const MOST_NAMED = 3;

function stopped({ stopped: runs, n }: Replications): Finding[] {
  if (runs.length === 0) return [];
  const each = runs.slice(0, MOST_NAMED).map(({ replication, since_min: since, stands: [head] }) => {
    return `replication ${number(replication)} from ${duration(since)} on${standing(head)}`;
  });
  const rest = runs.length > MOST_NAMED ? "; and others" : "";
  const text = `In ${number(runs.length)} of ${number(n)} replications the line had stopped at the end: ${each.join("; ")}${rest}. Means are of these and the others together.`;
  return [{ code: "stopped", text }];
}

/** Then there is no long run to tell the output, the loss or the hold-up of. */
export function allStopped({ stopped: runs, n }: Replications): boolean {
  return runs.length === n;
}

/** "all 10 replications had stopped at the end, the first from 2.8 min on, the last from 45 min on" */
export function whenAllStopped({ stopped: runs, n }: Replications): string {
  const since = runs.map(({ since_min: min }) => min);
  const all = n === 1 ? "the one replication" : `all ${number(n)} replications`;
  const [first, last] = [duration(Math.min(...since)), duration(Math.max(...since))];
  const when = first === last ? `from ${first} on` : `the first from ${first} on, the last from ${last} on`;
  return `${all} had stopped at the end, ${when}${standing(runs[0]?.stands[0])}`;
}

export function standing(head: StoppedRun["stands"][number] | undefined): string {
  return head === undefined ? "" : `, with ${oneLine(head.item)} standing on ${oneLine(head.belt)}`;
}

function unfinished({ asked, n }: Replications): Finding[] {
  if (asked === null || asked <= n) return [];
  const text =
    asked === n + 1
      ? `Stopped before all were done: replication ${number(asked)} was not finished and is not counted.`
      : `Stopped before all were done: replications ${number(n + 1)} to ${number(asked)} were not finished and are not counted.`;
  return [{ code: "unfinished", text }];
}

function time({ to_95_min: at, tolerance, settled_output_per_min: figure }: Replications): Finding[] {
  if (figure === null) return [];
  const text =
    at === null
      ? `Within half of the horizon the mean output does not come to keep up with ${percent(1 - tolerance)} of that for good.`
      : `From ${duration(at)} on the mean output keeps up with ${percent(1 - tolerance)} of its settled output for good.`;
  return [{ code: "time", text }];
}

function loss(replications: Replications): Finding[] {
  const { ramp_up_loss: figure, ramp_up_loss_min: minutes, loss_counted_to_min: end } = replications;
  if (figure === null || minutes === null || end === null) return [];
  const worth = minutes < 0 ? `\u2212${duration(-minutes)}` : duration(minutes);
  const text = `The ramp-up costs ${saidFully(figure, inItems)} against running at the settled output from the start, counted up to ${duration(end)}; on average ${worth} of output.`;
  return [{ code: "loss", text }];
}

function holdUp({ hold_up_settled: figure, hold_up_ramp_up_end: ends }: Replications): Finding[] {
  const text =
    figure === null
      ? `What lies on belts and in buffers has not settled within the horizon: ${whyTooShort(ends).replace("the mean output", "their mean")}.`
      : `On belts and in buffers lie ${saidFully(figure, inItems)} once settled.`;
  return [{ code: "hold-up", text }];
}

function uptimes({ machines }: Replications): Finding[] {
  const known = machines.flatMap(({ id, uptime }) => (uptime === null ? [] : [{ id, uptime }]));
  const inOrder = known.toSorted((a, b) => a.uptime.mean - b.uptime.mean);
  const [least, most] = [inOrder[0], inOrder.at(-1)];
  if (least === undefined || most === undefined) return [];
  const one = `${oneLine(least.id)} runs ${saidFully(least.uptime, inPercent)} of the time once settled`;
  const text =
    known.length === 1
      ? `${one}.`
      : `${one}, the least of all; ${oneLine(most.id)} most, ${percent(most.uptime.mean)}.`;
  return [{ code: "uptime", text }];
}

/** Of the run that the report shows. */
export function gates({ chance }: Result): Finding[] {
  const busy = chance?.gates.filter(({ most }) => most > 0) ?? [];
  if (busy.length === 0) return [];
  const each = busy.map(
    ({ feed, mean, most, at_end: end }) =>
      `${oneLine(feed)} ${number(mean, mean < 10 ? 1 : 0)} on average, ${number(most)} at most, ${number(end)} at the end`,
  );
  const text = `Items that come in bunches wait at the gate for the belt's next slots: ${listedShort(each)}.`;
  return [{ code: "gate", text }];
}

function median({ median: { replication, seed } }: Replications): Finding {
  const text = `Machine by machine this report shows the median run, replication ${number(replication)} (--seed ${quoted(seed)}), which made the median number of products.`;
  return { code: "median", text };
}

function quoted(seed: string): string {
  return `'${oneLine(seed)}'`;
}
