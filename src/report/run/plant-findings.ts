/** What a result says of rate cuts, vehicles and surge buffers, and the plant's own limits. */
import type {
  BatchCycle,
  BatchResult,
  LimitResult,
  OutletItem,
  RateCut,
  Vehicles,
} from "../../analysis/plant-results.ts";
import type { MachineResult, Result } from "../../analysis/result.ts";
import { total } from "../../quantity/counts.ts";
import type { BrokenLimit } from "../../study/results.ts";
import {
  approximately,
  below,
  duration,
  durationBeside,
  items,
  listedShort,
  longRun,
  number,
  percent,
  rate,
} from "../text/figures.ts";
import type { Finding } from "../text/finding.ts";
import { oneLine } from "../text/text-width.ts";

/** More of one kind are counted, and listed in the report's tables. */
const MOST_OF_A_KIND = 3;
const MOST_LIMITS = 6;

export function cutFindings({ cuts }: Pick<Result, "cuts">): Finding[] {
  const isExact = ({ state }: RateCut): boolean => state === "exact";
  return [
    ...shortened(cuts.filter(isExact), cutText, (more) => `Just as exact: ${listedShort(more)}.`),
    ...shortened(
      cuts.filter((cut) => cut.state !== null && !isExact(cut)),
      cutText,
      (more) => `Neither do these take what their belts carry: ${listedShort(more)}.`,
    ),
  ].map((text): Finding => ({ code: "cut", text }));
}

function shortened(
  cuts: readonly RateCut[],
  text: (cut: RateCut) => string,
  rest: (dividers: readonly string[]) => string,
): string[] {
  const more = cuts.slice(MOST_OF_A_KIND).map(({ divider }) => oneLine(divider));
  return [...cuts.slice(0, MOST_OF_A_KIND).map(text), ...(more.length > 0 ? [rest(more)] : [])];
}

function cutText(cut: RateCut): string {
  const [planned, arriving, taken, on] = [
    cut.cut_per_min,
    cut.arriving_per_min,
    cut.taken_per_min,
    cut.passed_on_per_min,
  ].map((value) => rate(approximately(value ?? "0")));
  const [divider, belt] = [oneLine(cut.divider), oneLine(cut.belt)];
  switch (cut.state) {
    case "exact":
      return `${divider} takes exactly the ${planned} of ${belt} out of ${arriving} and passes on ${on}.`;
    case "short":
      return `${divider} needs ${planned} for ${belt} and gets ${arriving}: all of it is taken, and nothing is passed on.`;
    case "uneven":
      return `${divider} is to take the ${planned} of ${belt}, but of the ${arriving} that come by fits and starts it takes ${taken} and passes on ${on}.`;
    default:
      return `${divider} is to take the ${planned} of ${belt}, but what lies behind that belt takes only ${taken}; ${on} are passed on.`;
  }
}

/** What leaves by outlets of kinds that machines take, or that no machine makes; without machines that is the output. */
export function outletFindings({
  outlets,
  machines,
  feeds,
}: Pick<Result, "outlets" | "machines" | "feeds">): Finding[] {
  if (machines.length === 0) return [];
  const fed = new Set(feeds.flatMap((feed) => feed.items.map(({ item }) => item)));
  const texts = outlets.flatMap(({ id, items: kinds }) =>
    kinds.flatMap((one) => {
      const perMin = longRun(one) ?? 0;
      const taken = total(machines.flatMap((machine) => takenOf(machine, one.item)));
      if (perMin === 0 || (taken === 0 && !fed.has(one.item))) return [];
      const gone = total(
        outlets.flatMap((other) => other.items.filter(({ item }) => item === one.item)).map(perMinute),
      );
      const share = taken === 0 ? "" : `, ${percent(perMin / (taken + gone))} of what comes,`;
      return [`${rate(perMin)} of ${oneLine(one.item)}${share} leave by ${oneLine(id)}.`];
    }),
  );
  const more = texts.length - MOST_OF_A_KIND;
  const rest = more > 0 ? [`What leaves by outlets otherwise stands in the report's table.`] : [];
  return [...texts.slice(0, MOST_OF_A_KIND), ...rest].map((text): Finding => ({ code: "outlet", text }));
}

function perMinute(one: OutletItem): number {
  return longRun(one) ?? 0;
}

/** In the long run; a machine takes its kinds in proportion. */
function takenOf(machine: MachineResult, item: string): number[] {
  const uptime = (longRun(machine) ?? 0) / approximately(machine.needs_per_min);
  return machine.infeed.flatMap((buffer) =>
    buffer.item === item ? [approximately(buffer.needs_per_min) * uptime] : [],
  );
}

export function batchFindings({ batches }: Pick<Result, "batches">): Finding[] {
  return batches.flatMap((batch) => {
    const texts = [...runsThrough(batch), ...surge(batch), ...heldUp(batch)];
    return texts.map((text): Finding => ({ code: "batch", text }));
  });
}

function runsThrough({ feed, vehicles, cycle, brings_too_much: tooMuch }: BatchResult): string[] {
  if (vehicles === null || cycle === null) return [];
  const at = oneLine(feed);
  if (cycle.runs_through) {
    return [`The line runs through between two vehicles of ${at}: no machine that needs what they bring waits for it.`];
  }
  const [first] = cycle.waits;
  if (first === undefined) return [];
  const others = cycle.waits.length - 1;
  const also = others === 0 ? "" : `, and ${others === 1 ? "one more waits" : `${others} more wait`}, too`;
  const who = `${oneLine(first.machine)} waits for ${oneLine(first.item)} for ${inCycle(first.min, cycle)}${also}`;
  // All that comes is taken at once, and still they wait.
  const why = isTooSlow(vehicles)
    ? `; ${at} is unloaded at ${rate(approximately(vehicles.unloading_per_min))} and no faster`
    : cycle.held_up_min === 0 && tooMuch === false
      ? `; no more room would help, since all of the ${rate(approximately(vehicles.bring_per_min))} that vehicles bring on average is taken`
      : "";
  return [`The line does not run through between two vehicles of ${at}: ${who}${why}.`];
}

/** They bring more than is unloaded meanwhile. */
function isTooSlow({ unloading_per_min: unloading, bring_per_min: bring }: Vehicles): boolean {
  return below(approximately(unloading), approximately(bring));
}

/** One that waits for a whole interval takes the place of the next. */
function putOff(vehicles: Vehicles, cycle: BatchCycle | null): string {
  if (cycle === null) return "";
  const due = cycle.length_min / approximately(vehicles.every_min);
  const unloaded = cycle.fed / vehicles.items;
  if (!below(unloaded, due)) return "";
  const came = `of the ${number(due, 1)} vehicles due in that time ${number(unloaded, 1)} are unloaded`;
  return `; ${came}, since one that waits for a whole interval puts off those after it`;
}

function inCycle(minutes: number, { length_min: length }: BatchCycle): string {
  return `${durationBeside(minutes, length)} of every ${duration(length)}`;
}

function surge({ feed, surge: buffer, needed_room: needed }: BatchResult): string[] {
  if (buffer === null) return [];
  const { room, peak, settled_low: low, settled_high: high } = buffer;
  const settled =
    low === null || high === null
      ? ""
      : `, once settled ${low === high ? number(high) : `between ${number(low)} and ${number(high)}`}`;
  const enough = needed !== null && needed < room ? `; room for ${items(needed)} would do` : "";
  return [`The surge buffer of ${oneLine(feed)} holds at most ${number(peak)} of ${items(room)}${settled}${enough}.`];
}

/** Once settled; where that is not proved, over the horizon. */
function heldUp({ needed_room: needed, brings_too_much: tooMuch, ...batch }: BatchResult): string[] {
  const { feed, vehicles, cycle } = batch;
  const { held_up_min: held, vehicles_wait_min: wait } = cycle ?? batch;
  if (vehicles === null || held + wait === 0) return [];
  const share = (minutes: number): string =>
    cycle === null ? `${duration(minutes)} over the horizon` : inCycle(minutes, cycle);
  const what = [
    ...(held > 0 ? [`unloading is held up for ${share(held)}`] : []),
    ...(wait > 0 ? [`vehicles wait for ${share(wait)}`] : []),
  ].join(" and ");
  const slow = isTooSlow(vehicles)
    ? `; vehicles cannot keep their interval: of the ${rate(approximately(vehicles.bring_per_min))} that they would bring at most ${rate(approximately(vehicles.unloading_per_min))} are unloaded`
    : "";
  const remedy =
    slow !== "" && held === 0
      ? ""
      : tooMuch === true
        ? `; the line takes less than the ${rate(approximately(vehicles.bring_per_min))} they bring on average, so that no room is enough`
        : needed === null || held === 0
          ? ""
          : `; with room for ${items(needed)} it would not be`;
  return [`At ${oneLine(feed)} ${what}${slow}${remedy}${putOff(vehicles, cycle)}.`];
}

export function limitFindings({ limits, settling }: Pick<Result, "limits" | "settling">): Finding[] {
  if (limits.length === 0) return [];
  const broken = limits.filter(isBroken);
  const texts =
    broken.length === 0
      ? [`${limits.length === 1 ? "The limit is" : "All limits are"} kept: ${kept(limits)}.`]
      : broken
          .slice(0, MOST_LIMITS)
          .map((limit) => (limit.what === "hold-up" ? holdUpText(limit, settling.proved) : dwellText(limit)));
  const more = broken.length - MOST_LIMITS;
  const whole = limits.filter((limit) => !isBroken(limit));
  if (broken.length > 0 && whole.length > 0) {
    texts.push(`The other ${whole.length === 1 ? "limit is" : "limits are"} kept: ${kept(whole)}.`);
  }
  if (more > 0) texts.push(`${more} more ${more === 1 ? "limit is" : "limits are"} exceeded.`);
  if (limits.some(({ what }) => what === "hold-up")) texts.push(PERMITTED);
  return texts.map((text): Finding => ({ code: "limit", text }));
}

const PERMITTED =
  "Which quantities of hazardous goods are permitted where, local codes and the site's permit say, not this program.";

export function isBroken({ over_min: minutes, over_items: taken, lying_over: lying }: LimitResult): boolean {
  return (minutes ?? 0) > 0 || (taken ?? 0) + (lying ?? 0) > 0;
}

export function kept(limits: readonly LimitResult[]): string {
  const texts = limits.map((limit) =>
    limit.what === "hold-up"
      ? `at most ${number(limit.peak)} of ${number(limit.limit)} ${kind(limit)}${place(limit)}`
      : `${kind(limit)} ${duration(limit.peak)} of ${duration(limit.limit)}`,
  );
  return listedShort(texts);
}

function holdUpText(limit: LimitResult, isProved: boolean): string {
  const share = limit.settled_over_share;
  const over = `for ${duration(limit.over_min ?? 0)}`;
  const once = !isProved || share === null ? "" : `, ${onceSettled(share)}`;
  const most = `${number(limit.peak)} ${kind(limit)}${limit.place === null ? " in the whole plant" : place(limit)}`;
  const at = limit.peak_at_min === null ? "" : ` (first at ${duration(limit.peak_at_min)})`;
  return `More lies than the limit allows: up to ${most}${at}, ${number(limit.limit)} are allowed; over the limit ${over}${once}.`;
}

function onceSettled(share: number): string {
  if (share === 0) return "once settled no longer";
  return share === 1 ? "once settled for good" : `once settled ${percent(share)} of the time`;
}

function dwellText({ limit, peak, over_items: taken, lying_over: lying, ...of }: LimitResult): string {
  const longest = `the longest for ${duration(peak)}`;
  const count = (taken ?? 0) + (lying ?? 0);
  const still = (lying ?? 0) === 0 ? "" : `; ${number(lying ?? 0)} of them still lie there at the end`;
  const what = of.item === null ? items(count) : `${number(count)} ${kind(of)}`;
  return `${what} lie for longer than the limit of ${duration(limit)}, ${longest}${still}.`;
}

function kind({ item }: Pick<LimitResult, "item">): string {
  return item === null ? "items" : oneLine(item);
}

function place({ place: name }: LimitResult): string {
  return name === null ? "" : ` at ${oneLine(name)}`;
}

/** "620 of at most 500 pouch, over for 3 h". */
export function brokenInBrief(
  broken: Pick<BrokenLimit, "what" | "place" | "item" | "limit" | "peak" | "over_min" | "over_items">,
): string {
  const { what, place, item, limit, peak, over_min: minutes, over_items: count } = broken;
  if (what === "dwell") {
    const those = item === null ? items(count ?? 0) : `${number(count ?? 0)} ${oneLine(item)}`;
    return `${those} longer than ${duration(limit)}, up to ${duration(peak)}`;
  }
  const where = place === null ? "" : ` at ${oneLine(place)}`;
  const kind = item === null ? "items" : oneLine(item);
  return `${number(peak)} of at most ${number(limit)} ${kind}${where}, over for ${duration(minutes ?? 0)}`;
}
