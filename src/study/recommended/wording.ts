/** What a tactic does, in a phrase. */
import type { TacticNote } from "../../network/tactics/part.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import {
  type Among,
  type Amount,
  type Hold,
  type OfEachPart,
  ofParts,
  type Prefill,
  type Tactic,
} from "../../scenario/tactic.ts";
import type { IdlePart } from "../comparison/idle-parts.ts";

export function tacticText(tactic: Tactic): string {
  const parts = partTexts(tactic);
  return parts.length === 0 ? "nothing done" : parts.join("; ");
}

export function partTexts(tactic: Tactic): string[] {
  return ofParts(tactic, TEXTS);
}

const TEXTS: OfEachPart<[], string> = {
  prefill: prefillText,
  hold: holdText,
  stagger: ({ first, everyMin }) => `machines started from the ${first} every ${formatDuration(everyMin)}`,
  boost: ({ factor, forMin }) => `feeds at ${formatPercentage(factor)} for ${formatDuration(forMin)}`,
  lowLevel: ({ among, level, forMin }) => {
    const long = forMin === null ? "for good" : `for ${formatDuration(forMin)}`;
    return `${amongText(among)} filled up to ${level} only, ${long}`;
  },
  metered: ({ factor }) => `each branch limited to ${formatPercentage(factor)} of its machine's need`,
  farEndFirst: ({ until }) => {
    const long = until === "tail-full" ? "until the last buffer is full" : `for ${formatDuration(until.afterMin)}`;
    return `even dividers serve the through belt first ${long}, ordered ones stay as they are`;
  },
  secondFeed: ({ share, at, forMin }) => {
    const where = `the belt that leads to ${at ?? "the last machine"} (to its divider, where it has one)`;
    return `${formatPercentage(share)} of the feed joins ${where} for ${formatDuration(forMin)}`;
  },
};

function holdText({ until, release, everyMin }: Hold): string {
  const held =
    until === "own-full"
      ? "until its own buffer is full"
      : until === "all-full"
        ? "until all buffers are full"
        : `for ${formatDuration(until.afterMin)}`;
  const order = release === "head-first" ? "from the head" : "from the tail";
  const every = formatDuration(everyMin);
  const released =
    release === "together"
      ? ""
      : until === "own-full"
        ? `, and from then for ${every} more for each machine before it, counted ${order}`
        : `, then started ${order} every ${every}`;
  return `every machine held off ${held}${released}`;
}

function prefillText({ amounts, belts, byHandPerMin, while: when }: Prefill): string {
  const what =
    "among" in amounts
      ? `${amongText(amounts.among)} ${amountText(amounts.amount)}`
      : amounts.byMachine.map(({ machine, amount }) => `${machine} ${amountText(amount)}`).join(", ");
  const belted = belts ? " and loaded belts" : "";
  if (byHandPerMin === null) return `${what}${belted} at the start`;
  const pace = `by hand at ${formatRate(byHandPerMin)}`;
  return when === "running" ? `${what}, ${pace} beside the running line` : `${what}${belted} at the start, ${pace}`;
}

function amountText(amount: Amount): string {
  return amount === null ? "full" : `with ${itemsText(amount)}`;
}

export function itemsText(count: number): string {
  return `${count} ${count === 1 ? "item" : "items"}`;
}

export function amongText(among: Among): string {
  if (among.which === "all") return "every buffer";
  return among.count === 1 ? `the ${among.which} buffer` : `the ${among.which} ${among.count} buffers`;
}

export function slowerText(settledPerMin: number | null, fullPerMin: number): string {
  const perMin = (rate: number): string => `${Number(rate.toPrecision(4))}/min`;
  const own = settledPerMin === null ? "less" : perMin(settledPerMin);
  return `slower for good: the line settles at ${own}, not at ${perMin(fullPerMin)}`;
}

const PARTS: Readonly<Record<IdlePart, string>> = {
  prefill: "prefill",
  belts: "prefill-belts",
  hold: "hold",
  stagger: "stagger",
  boost: "boost",
  lowLevel: "low-level",
  metered: "metered",
  farEndFirst: "far-end-first",
  secondFeed: "second-feed",
};

export function idleText(part: IdlePart, tactic: Tactic): string {
  const why = waitsForFull(part, tactic) && isFilled(tactic) ? "what it waits for is full from the start, and " : "";
  return `${PARTS[part]} changes nothing here: ${why}without it the line runs alike, item for item`;
}

function waitsForFull(part: IdlePart, { hold, farEndFirst }: Tactic): boolean {
  if (part === "farEndFirst") return farEndFirst?.until === "tail-full";
  return part === "hold" && typeof hold?.until === "string";
}

function isFilled({ prefill }: Tactic): boolean {
  return (
    prefill !== null && prefill.while === "stopped" && "among" in prefill.amounts && prefill.amounts.amount === null
  );
}

export function noteText(note: TacticNote): string {
  switch (note.note) {
    case "boost-limited":
      return `the belt ${note.belt} carries no more: the feeds run at ${Number((note.factor.valueOf() * 100).toPrecision(4))} % at most`;
    case "not-metered":
      return `${note.branch} is a direct hand-over and cannot be metered`;
    case "no-even-divider":
      return "no divider takes turns, and ordered ones keep their order, so none is made to serve the far end first";
    case "no-second-feed":
      return `no belt leads to ${note.machine || "a machine"} that a second feed could join`;
  }
}
