/** A start in words: what a tactic does, what it asks of the floor, and what is to be said of it. */

import { groupBy } from "../../quantity/counts.ts";
import { type Rational, whole } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import type { OfEachPart, StartNote, Tactic, TacticPart, TacticResult } from "../../study/results.ts";
import type { Rate } from "../../study/set-rates.ts";
import type { Ask, CardDeed } from "../../study/tactic-parts.ts";
import { listed } from "./figures.ts";
import { oneLine } from "./text-width.ts";

interface Words {
  readonly does: string;
  readonly asks_for: readonly string[];
  readonly notes: readonly string[];
}

/** A start, or a dose, as JSON has it. */
export type Told<Row> = Omit<Row, keyof Words> & Pick<Words, keyof Row & keyof Words>;

type Stated<Part extends TacticPart> = NonNullable<Tactic[Part]>;

export function startWords({
  does,
  asks_for: asks,
}: Pick<TacticResult, "does" | "asks_for">): Pick<Words, "does" | "asks_for"> {
  return { does: tacticText(does), asks_for: asks.map(askText) };
}

/** What a tactic does, in a phrase. */
export function tacticText(tactic: Tactic): string {
  const parts = partTexts(tactic);
  return parts.length === 0 ? "nothing done" : parts.join("; ");
}

function partTexts(tactic: Tactic): string[] {
  const textOf = <Part extends TacticPart>(part: Part): string[] => {
    const stated = tactic[part];
    return stated === null ? [] : [TEXTS[part](stated)];
  };
  return Object.keys(TEXTS)
    .filter(isPart)
    .flatMap((part) => textOf(part));
}

function isPart(key: string): key is TacticPart {
  return Object.hasOwn(TEXTS, key);
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

function holdText({ until, release, everyMin }: Stated<"hold">): string {
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

function prefillText({ amounts, belts, byHandPerMin, while: when }: Stated<"prefill">): string {
  const what =
    "among" in amounts
      ? `${amongText(amounts.among)} ${amountText(amounts.amount)}`
      : amounts.byMachine.map(({ machine, amount }) => `${machine} ${amountText(amount)}`).join(", ");
  const belted = belts ? " and loaded belts" : "";
  if (byHandPerMin === null) return `${what}${belted} at the start`;
  const pace = `by hand at ${formatRate(byHandPerMin)}`;
  return when === "running" ? `${what}, ${pace} beside the running line` : `${what}${belted} at the start, ${pace}`;
}

function amountText(amount: number | null): string {
  return amount === null ? "full" : `with ${itemsText(amount)}`;
}

export function itemsText(count: number): string {
  return `${count} ${count === 1 ? "item" : "items"}`;
}

function amongText(among: Stated<"lowLevel">["among"]): string {
  if (among.which === "all") return "every buffer";
  return among.count === 1 ? `the ${among.which} buffer` : `the ${among.which} ${among.count} buffers`;
}

export function noteText(note: StartNote): string {
  switch (note.note) {
    case "boost-limited":
      return `the belt ${note.belt} carries no more: the feeds run at ${Number((note.factor.valueOf() * 100).toPrecision(4))} % at most`;
    case "not-metered":
      return `${note.branch} is a direct hand-over and cannot be metered`;
    case "no-even-divider":
      return "no divider takes turns, and ordered ones keep their order, so none is made to serve the far end first";
    case "no-second-feed":
      return `no belt leads to ${note.machine || "a machine"} that a second feed could join`;
    case "idle": {
      const why = note.waitsForFull ? "what it waits for is full from the start, and " : "";
      return `${keyOf(note.part)} changes nothing here: ${why}without it the line runs alike, item for item`;
    }
    case "alike":
      return `${note.id}: ${noteText(note.of)}`;
    case "breaks-later":
      return "it breaks limits after the horizon";
    case "slower": {
      const { settledPerMin: own, fullPerMin: full } = note;
      return `slower for good: the line settles at ${own === null ? "less" : fourDigits(own)}, not at ${fourDigits(full)}`;
    }
  }
}

/** The key of the file. */
function keyOf(part: string): string {
  return part === "belts" ? "prefill-belts" : part.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

/** What is to be said of some starts, and of which. */
export function notesOn(starts: readonly Pick<TacticResult, "id" | "notes">[]): { id: string; text: string }[] {
  return starts.flatMap(({ id, notes }) => notes.map((note) => ({ id, text: noteText(note) })));
}

export function asksAnswer(asks: readonly Ask[]): { what: string; text: string }[] {
  return asks.length === 0 ? [] : [{ what: "Asks for", text: asksText(asks) }];
}

/** What a tactic asks of the floor, in a list. */
export function asksText(asks: readonly Ask[]): string {
  return listed(asks.map(askText).map(oneLine));
}

/** With what must be known to set it up. */
export function askText(ask: Ask): string {
  switch (ask.what) {
    case "hands": {
      const { items, ratePerMin } = ask;
      const lasting = minutesText(whole(Math.round(items)).div(ratePerMin));
      return `hands for ${items} items ${WHEN[ask.while]}, ${lasting} at ${formatRate(ratePerMin)}`;
    }
    case "start":
      return "a start warning, since machines stand still while others run";
    case "feed": {
      const rates = ask.rates.map(({ of, perMin }) => `${of} ${rateText(perMin)}`);
      return `faster feeds for ${formatDuration(ask.forMin)}: ${few(rates)}`;
    }
    case "levels": {
      const { level, forMin } = ask;
      return `movable level sensors, at ${level} items${forMin === null ? "" : ` for ${formatDuration(forMin)}`}`;
    }
    case "branches":
      return `branches of variable speed, at ${branchRatesText(ask.rates)}`;
    case "dividers":
      return "dividers that can be switched";
    case "second-feed": {
      const rate = rateText(ask.ratePerMin);
      return `a second feed's belt to ${ask.at ?? "the last machine"}, for ${rate} during ${formatDuration(ask.forMin)}`;
    }
  }
}

/** What an operator does for a start. */
export function deedText(what: CardDeed): string {
  switch (what.do) {
    case "branches":
      return `set the branches to ${branchRatesText(what.rates)}`;
    case "levels":
      return `set the level of ${amongText(what.among)} to ${itemsText(what.level)}`;
    case "levels-back":
      return "set the levels back to full";
    case "through-first":
      return "switch the dividers to the through belt first";
    case "turns-again":
      return "switch the dividers back to turns";
    case "place": {
      const { at, all } = what;
      const lasting =
        all && `, ${formatRate(all.ratePerMin)}: ${minutesText(whole(all.items).div(all.ratePerMin))} in all`;
      return `${itemsText(at.items)} into ${at.machine}${lasting ?? ""}`;
    }
    case "faster": {
      const feeds = what.rates.map(({ of, perMin }) => `${of} to ${formatRate(perMin)}`);
      return `feeds at ${formatPercentage(what.factor)}, as far as belts carry it: ${feeds.join(", ")}`;
    }
    case "own-rate":
      return "feeds back to their own rate";
    case "lead":
      return `lead ${formatPercentage(what.share)} of the feed to ${what.at ?? "the last machine"}`;
    case "head-again":
      return "all of the feed to the head again";
    case "start-feed":
      return "start the feed only; keep all machines off";
    case "start-each":
      return "start each machine";
    case "start-machines":
      return "start all machines";
    case "start-first": {
      const towards = what.first === "tail" ? "head" : "tail";
      const next = `the next machine towards the ${towards} every ${formatDuration(what.everyMin)}`;
      return `start the feed and ${what.machines.join(", ")}, then ${next}`;
    }
    case "start-all":
      return "start the feed and all machines";
  }
}

const WHEN: Readonly<Record<Stated<"prefill">["while"], string>> = {
  before: "before the shift",
  stopped: "while the start waits",
  running: "beside the running line",
};

function rateText(perMin: Rational): string {
  return fourDigits(perMin.valueOf());
}

/** Nobody sets more. */
export function fourDigits(perMin: number): string {
  return `${Number(perMin.toPrecision(4))}/min`;
}

function minutesText(minutes: Rational): string {
  return `${Number(minutes.valueOf().toPrecision(2))} min`;
}

/** "24/min", or, where needs differ, "8.4/min (packer-1), 16.8/min (packer-2)". */
function branchRatesText(rates: readonly Rate[]): string {
  const byRate = groupBy(rates, ({ perMin }) => rateText(perMin));
  if (byRate.size <= 1) return [...byRate.keys()][0] ?? "their machines' needs";
  return few(
    [...byRate].map(([rate, all]) => {
      const ids = all.map(({ of }) => of);
      return `${rate} (${ids.length > 2 ? `${ids[0]} and ${ids.length - 1} more` : ids.join(" and ")})`;
    }),
  );
}

const MOST = 4;

function few(parts: readonly string[]): string {
  if (parts.length <= MOST) return parts.join(", ");
  return `${parts.slice(0, MOST).join(", ")} and ${parts.length - MOST} more`;
}
