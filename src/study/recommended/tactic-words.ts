/** A tactic in words: what it does, and what it asks of the floor and whether that is granted. */

import { expand } from "../../network/expand.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { needPerMin } from "../../network/needs.ts";
import type { Network } from "../../network/network.ts";
import type { TacticNote } from "../../network/tactics/contribution.ts";
import { type Rational, smaller, sum, whole } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import type { Means } from "../../scenario/means.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import {
  type Among,
  type Amount,
  type Hold,
  type LowLevel,
  type OfEachPart,
  ofParts,
  type Prefill,
  type Tactic,
} from "../../scenario/tactic.ts";
import type { IdlePart } from "./idle-parts.ts";

/** What a tactic does, in a phrase. */
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

/** The key of the file. */
function keyOf(part: IdlePart): string {
  return part === "belts" ? "prefill-belts" : part.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

export function idleText(part: IdlePart, tactic: Tactic): string {
  const why = waitsForFull(part, tactic) && isFilled(tactic) ? "what it waits for is full from the start, and " : "";
  return `${keyOf(part)} changes nothing here: ${why}without it the line runs alike, item for item`;
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

/** What a tactic asks of the floor, in words that say what must be known to set it up, and whether that is granted. */
export interface Ask {
  readonly what: "hands" | "levels" | "branches" | "start" | "feed" | "second-feed" | "dividers";
  readonly isGranted: boolean;
  readonly text: string;
}

/** Where neither the tactic nor the floor says how fast hands are: one item a second; common practice, no source. */
export const BY_HAND_PER_MIN = whole(60);

/**
 * @param handled items that hands place
 * @param mostFeed the multiple of their rate that belts let feeds run at; `null`: all that the tactic says
 */
export type AsksOf = (tactic: Tactic, handled: number, mostFeed?: Rational | null) => Ask[];

/** The line is drawn up once for all its tactics. */
export function asksIn(scenario: Scenario): AsksOf {
  const network = expand(scenario);
  const plant = { means: scenario.means, network, order: feedingOrder(scenario, network) };
  return (tactic, handled, mostFeed = null) => ofParts(tactic, ASKS, { ...plant, handled, mostFeed }).flat();
}

interface AskedPlant {
  readonly means: Means;
  readonly network: Network;
  /** By line, machines as the flow comes to them. */
  readonly order: readonly (readonly string[])[];
}

interface Asked extends AskedPlant {
  readonly handled: number;
  readonly mostFeed: Rational | null;
}

const ASKS: OfEachPart<[Asked], Ask[]> = {
  prefill: (prefill, { handled, means }) => (handled > 0 ? [handsFor(prefill, handled, means)] : []),
  hold: (_, { means }) => [{ what: "start", isGranted: means.starts.held, text: HELD }],
  stagger: (_, { means }) => [{ what: "start", isGranted: means.starts.staggered, text: HELD }],
  boost: (boost, { means, network, mostFeed }) => {
    const granted = means.feed;
    const isGranted =
      granted !== null && boost.factor.compare(granted.factor) <= 0 && boost.forMin.compare(granted.forMin) <= 0;
    const factor = mostFeed === null ? boost.factor : smaller(boost.factor, mostFeed);
    const rates = network.feeds.map((feed) => `${feed.id} ${rateText(offeredPerMin(feed).mul(factor))}`);
    const text = `faster feeds for ${formatDuration(boost.forMin)}: ${few(rates)}`;
    return [{ what: "feed", isGranted, text }];
  },
  lowLevel: (low, { means }) => [{ what: "levels", isGranted: means.levels, text: levelText(low) }],
  metered: ({ factor }, { means, network, order }) => {
    const text = `branches of variable speed, at ${branchRates(network, order, factor)}`;
    return [{ what: "branches", isGranted: means.branches, text }];
  },
  farEndFirst: (_, { means }) => [
    { what: "dividers", isGranted: means.dividers, text: "dividers that can be switched" },
  ],
  secondFeed: (second, { means, network, order }) => {
    const at = second.at ?? order.find((machines) => machines.length > 0)?.at(-1) ?? null;
    const rate = rateText(sum(network.feeds.map(offeredPerMin)).mul(second.share));
    const text = `a second feed's belt to ${at ?? "the last machine"}, for ${rate} during ${formatDuration(second.forMin)}`;
    return [{ what: "second-feed", isGranted: means.secondFeed !== null && means.secondFeed === at, text }];
  },
};

const HELD = "a start warning, since machines stand still while others run";

/** How fast hands place what a tactic has them place. */
export function handsPerMin(
  { byHandPerMin }: Pick<Prefill, "byHandPerMin">,
  { hands }: Pick<Means, "hands">,
): Rational {
  return byHandPerMin ?? hands?.ratePerMin ?? BY_HAND_PER_MIN;
}

function handsFor({ byHandPerMin, while: during }: Prefill, handled: number, means: Means): Ask {
  const { hands } = means;
  const isBefore = during === "before" || byHandPerMin === null;
  const when = isBefore ? "before" : during;
  const rate = handsPerMin({ byHandPerMin }, means);
  const isGranted =
    hands !== null && handled <= hands.items && when === hands.while && rate.compare(hands.ratePerMin) <= 0;
  const lasting = `${minutesText(whole(Math.round(handled)).div(rate))} at ${formatRate(rate)}`;
  const text = `hands for ${handled} items ${WHEN[when]}, ${lasting}`;
  return { what: "hands", isGranted, text };
}

const WHEN: Readonly<Record<Prefill["while"], string>> = {
  before: "before the shift",
  stopped: "while the start waits",
  running: "beside the running line",
};

/** To four digits: nobody sets more. */
function rateText(perMin: Rational): string {
  return `${Number(perMin.valueOf().toPrecision(4))}/min`;
}

export function minutesText(minutes: Rational): string {
  return `${Number(minutes.valueOf().toPrecision(2))} min`;
}

function levelText({ level, forMin }: LowLevel): string {
  return `movable level sensors, at ${level} items${forMin === null ? "" : ` for ${formatDuration(forMin)}`}`;
}

/** "24/min", or, where needs differ, "8.4/min (packer-1), 16.8/min (packer-2)". */
export function branchRates(network: Network, order: readonly (readonly string[])[], factor: Rational): string {
  const last = new Set(order.map((machines) => machines.at(-1)));
  const branched = new Set(order.flat().filter((id) => !last.has(id)));
  const byRate = new Map<string, string[]>();
  for (const machine of network.machines) {
    if (!branched.has(machine.id)) continue;
    const rate = rateText(needPerMin(machine).mul(factor));
    byRate.set(rate, [...(byRate.get(rate) ?? []), machine.id]);
  }
  if (byRate.size <= 1) return [...byRate.keys()][0] ?? "their machines' needs";
  return few(
    [...byRate].map(
      ([rate, ids]) => `${rate} (${ids.length > 2 ? `${ids[0]} and ${ids.length - 1} more` : ids.join(" and ")})`,
    ),
  );
}

const MOST = 4;

function few(parts: readonly string[]): string {
  if (parts.length <= MOST) return parts.join(", ");
  return `${parts.slice(0, MOST).join(", ")} and ${parts.length - MOST} more`;
}
