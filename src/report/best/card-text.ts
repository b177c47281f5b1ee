/** The operator's card in words. */
import { whole } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import type { CardDeed, CardStep, CardTime } from "../../study/best/best-results.ts";
import { amongText, branchRatesText, itemsText, minutesText } from "../text/tactic-words.ts";

/** What `best --json` prints. */
export interface CardStepTold {
  readonly when: string;
  readonly what: string;
}

export function cardTold(card: readonly CardStep[]): CardStepTold[] {
  return card.map(({ when, what }) => ({ when: timeText(when), what: deedText(what) }));
}

function timeText(when: CardTime): string {
  return typeof when === "string" ? TIMES[when] : `After ${formatDuration(when.afterMin)}`;
}

const TIMES: Readonly<Record<Extract<CardTime, string>, string>> = {
  before: "Before",
  "before-shift": "Before the shift",
  "while-waiting": "Before, while the start waits",
  "beside-line": "Beside the running line",
  start: "At the start",
  "own-full": "When its buffers are full",
  "all-full": "When all buffers are full",
  "tail-full": "When the last machine is full",
};

function deedText(what: CardDeed): string {
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
