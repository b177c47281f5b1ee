/** What a sweep answers: what is varied, how much that makes and from when, what is lost, and where it makes most. */
import type { Sweep, SweepPoint } from "../../study/sweep/sweep-results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { approximately, duration, fromTime, items, listed, number, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import {
  type Extreme,
  extremesOf,
  isAlike,
  isFull,
  lostItems,
  outputPerMin,
  settlingMin,
  valuesOf,
  withinMin,
} from "./sweep-figures.ts";
import { sweepFindings } from "./sweep-findings.ts";

export function sweepAnswer(sweep: Sweep): AnswerLine[] {
  const { points } = sweep;
  const found = sweepFindings(sweep);
  return [
    { what: "Varied", text: varied(sweep) },
    { what: "Makes", text: between(points, outputPerMin, rate, "not known") },
    ...full(points),
    ...from(points),
    { what: "Lost", text: between(points, lostItems, items, "not known") },
    ...toldIn(found, ["part", "incomplete"], "Mind", { isBad: true }),
    ...toldIn(found, ["stops"], "Stops", { isBad: true }),
    ...toldIn(found, ["unsettled"], "Open", { isBad: true }),
    ...toldIn(found, ["unproved"], "Proof", { isMore: true }),
    ...mostMade(points),
  ];
}

/** "feeds.blender.rate from 60/min to 300/min (25 values) and …: 50 points of up to 4 h". */
function varied({ quantities, of_points: points, horizon_min: horizon }: Sweep): string {
  const each = quantities.map(({ path, values }) => {
    const [first = ""] = values;
    const last = values.at(-1) ?? first;
    const range = values.length === 1 ? first : `${first} to ${last} (${number(values.length)} values)`;
    return `${oneLine(path)} from ${oneLine(range)}`;
  });
  const long = horizon === null ? "" : `, up to ${duration(horizon)} each`;
  return `${listed(each)}${each.length > 1 ? `: ${number(points)} points` : ""}${long}`;
}

function between(
  points: readonly SweepPoint[],
  of: (point: SweepPoint) => number | null,
  told: (value: number) => string,
  none: string,
): string {
  const ends = extremesOf(points, of);
  if (ends === null) return none;
  const [low, high] = ends;
  const each = ends.known < points.length ? " wherever it is known" : points.length > 1 ? " at each" : "";
  if (isAlike(low, high)) return `${told(low.value)}${each}`;
  const at = ({ value, point }: Extreme): string => `${told(value)} with ${valuesOf(point)}`;
  return `${at(low)} to ${at(high)}`;
}

function from(points: readonly SweepPoint[]): AnswerLine[] {
  const [most, all] = [withinMin, settlingMin].map((of) => between(points, of, duration, ""));
  const told = [
    ...(most === "" ? [] : [`95\u00a0% of it from ${most}`]),
    ...(all === "" ? [] : [`all of it from ${all}`]),
  ];
  if (told.length === 0) return [{ what: "From", text: "not known: no point has settled" }];
  return told.map((text, i) => ({ what: i === 0 ? "From" : "", text }));
}

/** Of those points whose settled output is known exactly. */
function full(points: readonly SweepPoint[]): AnswerLine[] {
  const known = points.filter((point) => point.settled_per_min !== null);
  const reaching = known.filter(isFull);
  const [first] = reaching;
  if (known.length === 0) return [];
  if (first === undefined)
    return [{ what: "Full", text: "output nowhere: machines wait at every point", isMore: true }];
  const where =
    reaching.length === points.length
      ? "at each"
      : `at ${number(reaching.length)} of ${number(points.length)} points, the first with ${valuesOf(first)}`;
  return [{ what: "Full", text: `output, ${rate(approximately(first.full_per_min))} there, ${where}`, isMore: true }];
}

/** Of the points that make most, the one that loses least; of those alike, the one that is first there. */
function mostMade(points: readonly SweepPoint[]): AnswerLine[] {
  const most = extremesOf(points, outputPerMin)?.[1];
  if (most === undefined || points.length < 2) return [];
  const makingMost = points.filter((point) => {
    const made = outputPerMin(point);
    return made !== null && isAlike({ value: made, point }, most);
  });
  const least = extremesOf(makingMost, lostItems)?.[0];
  if (least === undefined) return [];
  const alike = makingMost.filter((point) => Math.round(lostItems(point) ?? Infinity) === Math.round(least.value));
  const first = extremesOf(alike, settlingMin)?.[0] ?? least;
  const when = settlingMin(first.point);
  const all = when === null ? "" : `, all of it ${fromTime(when)}`;
  const text = `${rate(most.value)}${all}: with ${valuesOf(first.point)}, which loses least of those, ${items(least.value)}`;
  return [{ what: "Most", text }];
}
