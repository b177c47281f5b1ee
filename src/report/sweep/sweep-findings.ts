/** What a sweep says, in a few plain sentences, each with a code. */
import type { Sweep, SweepPoint } from "../../study/sweep/sweep-results.ts";
import { duration, items, number, rate } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import {
  type Extreme,
  extremesOf,
  type Figure,
  isAlike,
  isFull,
  lostItems,
  outputPerMin,
  plannedCount,
  pointName,
  settlingMin,
} from "./sweep-figures.ts";

export type SweepFindingCode =
  | "incomplete"
  | "part"
  | "output"
  | "full"
  | "settling"
  | "loss"
  | "stops"
  | "unsettled"
  | "unproved";

export interface SweepFinding {
  readonly code: SweepFindingCode;
  readonly text: string;
}

export function sweepFindings(sweep: Sweep): SweepFinding[] {
  const { points } = sweep;
  const name = (point: SweepPoint): string => oneLine(pointName(sweep, point));
  return [
    ...incomplete(sweep),
    ...full(points, name),
    ...extremes("output", points, outputPerMin, name, (low, high) =>
      high === null
        ? `The long-run output is ${rate(low.value)} at every point.`
        : `The long-run output is highest with ${high.name}, ${rate(high.value)}, and lowest with ${low.name}, ${rate(low.value)}.`,
    ),
    ...extremes("settling", points, settlingMin, name, (low, high) =>
      high === null
        ? `The line settles at ${duration(low.value)}, whatever the value.`
        : `The line settles soonest with ${low.name}, at ${duration(low.value)}, and latest with ${high.name}, at ${duration(high.value)}.`,
    ),
    ...extremes("loss", points, lostItems, name, (low, high) =>
      high === null
        ? `The ramp-up loss is ${items(low.value)}, whatever the value.`
        : `The ramp-up loss is least with ${low.name}, ${items(low.value)}, and greatest with ${high.name}, ${items(high.value)}.`,
    ),
    ...some(
      "stops",
      points.filter((point) => point.stops_at_min !== null),
      name,
      (which) => `The line comes to a standstill with ${which}.`,
    ),
    ...some(
      "unsettled",
      points.filter((point) => point.settling_min === null && point.stops_at_min === null),
      name,
      (which) => `Not settled within the horizon: with ${which}.`,
    ),
    ...some(
      "unproved",
      points.filter((point) => point.settling_min !== null && !point.proved),
      name,
      (which) => `The settling time is read from the run, not proved, with ${which}.`,
    ),
  ];
}

function incomplete(sweep: Sweep): SweepFinding[] {
  const { points, shard, of_points: all } = sweep;
  const planned = plannedCount(sweep);
  const found: SweepFinding[] = [];
  if (shard !== null) {
    const text = `This is part ${shard} of the sweep, ${number(planned)} of ${number(all)} points; fillfront gather joins the parts.`;
    found.push({ code: "part", text });
  }
  if (points.length < planned) {
    const text = `The sweep was stopped: ${number(points.length)} of ${number(planned)} points are complete, and only these are told of.`;
    found.push({ code: "incomplete", text });
  }
  return found;
}

interface NamedExtreme {
  readonly value: number;
  readonly name: string;
}

/** @param say with the lowest and the highest figure; `null` where all are the same */
function extremes(
  code: SweepFindingCode,
  points: readonly SweepPoint[],
  of: Figure,
  name: (point: SweepPoint) => string,
  say: (low: NamedExtreme, high: NamedExtreme | null) => string,
): SweepFinding[] {
  const ends = extremesOf(points, of);
  if (ends === null || ends.known < 2) return [];
  const [low, high] = ends;
  const isSame = isAlike(low, high);
  // Where some points have none, "every point" would be wrong.
  if (isSame && ends.known < points.length) return [];
  const named = ({ value, point }: Extreme): NamedExtreme => ({ value, name: name(point) });
  return [{ code, text: say(named(low), isSame ? null : named(high)) }];
}

/** Of those points whose settled output is known exactly. */
function full(points: readonly SweepPoint[], name: (point: SweepPoint) => string): SweepFinding[] {
  const known = points.filter((point) => point.settled_per_min !== null);
  const reaching = known.filter(isFull);
  const [first] = reaching;
  if (known.length === 0) return [];
  const isAll = known.length === points.length;
  const where = isAll ? "point" : "point whose settled output is known";
  if (first === undefined) return [{ code: "full", text: `The line comes to its full output at no ${where}.` }];
  if (reaching.length === known.length) {
    return [{ code: "full", text: `The line comes to its full output at every ${where}.` }];
  }
  const text = `The line comes to its full output at ${number(reaching.length)} of ${number(known.length)} ${isAll ? "points" : "points whose settled output is known"}, the first of them with ${name(first)}.`;
  return [{ code: "full", text }];
}

const MOST_NAMED = 3;

function some(
  code: SweepFindingCode,
  points: readonly SweepPoint[],
  name: (point: SweepPoint) => string,
  say: (which: string) => string,
): SweepFinding[] {
  if (points.length === 0) return [];
  // A name holds an "and" where there are two quantities.
  const shown = points.length > MOST_NAMED + 1 ? points.slice(0, MOST_NAMED) : points;
  const rest = points.length - shown.length;
  return [{ code, text: say([...shown.map(name), ...(rest > 0 ? [`${number(rest)} more`] : [])].join("; ")) }];
}
