/** What a start of the line comes to, in words, beside another one: equals are said to be equal, and gains are called gains. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { duration, items, number } from "../figures.ts";

export type Outcome = Pick<TacticResult, "ramp_up_loss" | "to_95_min" | "settling_min" | "items_handled">;

/** What is no further apart is the same. */
export interface Equal {
  readonly items: number;
  readonly minutes: number;
}

export function equalOf({ equal_within_items: within, settled_per_min: perMin }: Comparison): Equal {
  return { items: within, minutes: perMin === null || perMin <= 0 ? 0 : within / perMin };
}

function isSame(a: number, b: number, within: number): boolean {
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

/** Beside doing nothing: the loss, then the time; both at once where neither differs. */
export function beside(own: Outcome, base: Outcome | undefined, equal: Equal): string {
  const [loss, lossOfNone] = [own.ramp_up_loss, base?.ramp_up_loss ?? null];
  const [at, atOfNone] = [own.to_95_min, base?.to_95_min ?? null];
  const lossIsSame = loss !== null && lossOfNone !== null && isSame(loss, lossOfNone, equal.items);
  const timeIsSame =
    at !== null && atOfNone !== null && (isSame(at, atOfNone, equal.minutes) || duration(at) === duration(atOfNone));
  const same = ", as with nothing done";
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
