/** What a start of the line comes to, in words, beside another one: equals are said to be equal, and gains are called gains. */
import type { BrokenLimit, Comparison, TacticResult } from "../../study/results.ts";
import { duration, items, listed, number, percent } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export type Outcome = Pick<TacticResult, "ramp_up_loss" | "to_95_min" | "settling_min" | "items_handled">;

/** What is no further apart is the same. */
export interface Equal {
  readonly items: number;
  readonly minutes: number;
}

export function equalOf({ equal_within_items: within, settled_per_min: perMin }: Comparison): Equal {
  return { items: within, minutes: perMin === null || perMin <= 0 ? 0 : within / perMin };
}

export function isEqual(a: number, b: number, within: number): boolean {
  return Math.abs(a - b) <= within + 1e-6;
}

/** "loses 120 items", "gains 12 items", "loses nothing". */
export function losesText(loss: number): string {
  if (Math.abs(loss) < 0.5) return "loses nothing";
  return loss < 0 ? `gains ${items(-loss)}` : `loses ${items(loss)}`;
}

/** "has 95 % from 4.2 min on". */
export function timeText(at: number): string {
  return `has 95\u00a0% from ${duration(at)} on`;
}

export function handledText(handled: number): string {
  return handled === 0 ? "nothing handled" : `${items(handled)} handled`;
}

/** Beside doing nothing, or whatever `same` and `base` are: the loss, then the time; both at once where neither differs. */
export function beside(
  own: Pick<Outcome, "ramp_up_loss" | "to_95_min">,
  base: Pick<Outcome, "ramp_up_loss" | "to_95_min"> | undefined,
  equal: Equal,
  same = ", as with nothing done",
): string {
  const [loss, lossOfNone] = [own.ramp_up_loss, base?.ramp_up_loss ?? null];
  const [at, atOfNone] = [own.to_95_min, base?.to_95_min ?? null];
  const lossIsSame = loss !== null && lossOfNone !== null && isEqual(loss, lossOfNone, equal.items);
  const timeIsSame =
    at !== null && atOfNone !== null && (isEqual(at, atOfNone, equal.minutes) || duration(at) === duration(atOfNone));
  const losing =
    loss === null
      ? null
      : lossIsSame
        ? `${losesText(loss)}${at !== null && timeIsSame ? "" : same}`
        : `${losesText(loss)}${lossOfNone === null ? "" : ` instead of ${insteadText(loss, lossOfNone)}`}`;
  const timely =
    at === null
      ? null
      : `${timeText(at)}${timeIsSame ? same : atOfNone === null ? "" : ` instead of ${duration(atOfNone)}`}`;
  return [losing, timely].filter((part) => part !== null).join(", and ");
}

/** The verb is there already, if it is the same. */
function insteadText(loss: number, other: number): string {
  if (Math.abs(other) < 0.5) return "nothing";
  if (other < 0) return loss < 0 ? number(-other) : `gaining ${number(-other)}`;
  return loss > 0 ? number(other) : `losing ${number(other)}`;
}

/** As good as all, as the rule of recommendations has it; what is not known is not told. */
export function leavesStock({ reserve_kept: kept }: Pick<TacticResult, "reserve_kept">): boolean {
  return kept === null || kept >= 0.9;
}

/** What less stock is: ", but leaves 20 % of the stock that doing nothing leaves in the buffers: …". */
export function reservePrice(
  { reserve_kept: kept, bridges_less_min: less }: Pick<TacticResult, "reserve_kept" | "bridges_less_min">,
  than: string,
): string {
  const share = kept === null ? "" : `, but leaves ${percent(kept)} of the stock that ${than} leaves in the buffers`;
  const stop = less <= 0 ? "" : `: the line no longer bridges ${duration(less)} of a feed that stops`;
  return `${share}${stop}`;
}

/** How far and for how long limits are broken. */
export function brokenText(broken: readonly BrokenLimit[]): string {
  return listed(broken.map(overText));
}

function overText({
  what,
  place,
  item,
  limit,
  peak,
  over_min: min,
  over_items: count,
  of_min: of,
}: BrokenLimit): string {
  const kind = item === null ? "items" : oneLine(item);
  if (what === "dwell") {
    return `${number(count ?? 0)} ${item === null ? "items" : `items of ${kind}`} lie longer than ${duration(limit)}, up to ${duration(peak)}`;
  }
  const where = place === null ? "on the line" : `at ${oneLine(place)}`;
  return `up to ${number(peak)} ${kind} lie ${where}, ${number(peak - limit)} over the limit of ${number(limit)}, which is broken for ${duration(min ?? 0)} of ${duration(of)}`;
}
