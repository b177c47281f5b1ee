/** What an operator does for a start: when, where, how much, in which order. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/feeding-order.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { approximate, type Rational, whole, ZERO } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Prefill, Tactic } from "../../scenario/tactic.ts";
import { branchRates } from "../asks.ts";
import type { CardStep, PlacedAt } from "./best-results.ts";

const START = "At the start";
const after = (minutes: Rational): string => `After ${formatDuration(minutes)}`;

/** @param placed by machine, as the flow comes to them */
export function cardOf(scenario: Scenario, tactic: Tactic, placed: readonly PlacedAt[]): CardStep[] {
  const { prefill, hold, stagger, boost, lowLevel, metered, farEndFirst, secondFeed } = tactic;
  const network = expand(scenario);
  const order = feedingOrder(scenario, network);
  const before: CardStep[] = [];
  const atStart: CardStep[] = [];
  const timed: { readonly afterMin: number; readonly step: CardStep }[] = [];
  const later = (minutes: Rational | null, step: CardStep): void => {
    timed.push({ afterMin: minutes === null ? Infinity : approximate(minutes), step });
  };
  if (metered) {
    before.push({ when: "Before", what: `set the branches to ${branchRates(network, order, metered.factor)}` });
  }
  if (lowLevel) {
    const which =
      lowLevel.among.which === "all" ? "every buffer" : `the ${lowLevel.among.which} ${lowLevel.among.count} buffers`;
    before.push({ when: "Before", what: `set the level of ${which} to ${lowLevel.level} items` });
    if (lowLevel.forMin !== null)
      later(lowLevel.forMin, { when: after(lowLevel.forMin), what: "set the levels back to full" });
  }
  if (farEndFirst) {
    const { until } = farEndFirst;
    before.push({ when: "Before", what: "switch the dividers to the through belt first" });
    const when = until === "tail-full" ? "When the last machine is full" : after(until.afterMin);
    later(until === "tail-full" ? null : until.afterMin, { when, what: "switch the dividers back to turns" });
  }
  if (prefill) {
    const steps = placing(prefill, placed);
    if (prefill.while === "running") for (const step of steps) later(ZERO, step);
    else before.push(...steps);
  }
  if (boost) {
    const feeds = network.feeds.map((feed) => `${feed.id} to ${formatRate(offeredPerMin(feed).mul(boost.factor))}`);
    const percent = formatPercentage(boost.factor);
    atStart.push({ when: START, what: `feeds at ${percent}, as far as belts carry it: ${feeds.join(", ")}` });
    later(boost.forMin, { when: after(boost.forMin), what: "feeds back to their own rate" });
  }
  if (secondFeed) {
    const at = secondFeed.at ?? "the last machine";
    atStart.push({ when: START, what: `lead ${formatPercentage(secondFeed.share)} of the feed to ${at}` });
    later(secondFeed.forMin, { when: after(secondFeed.forMin), what: "all of the feed to the head again" });
  }
  if (hold) {
    const { until } = hold;
    const what = "start the feed only; keep all machines off";
    atStart.push({ when: START, what });
    if (until === "own-full") later(null, { when: "When its buffers are full", what: "start each machine" });
    else if (until === "all-full") later(null, { when: "When all buffers are full", what: "start all machines" });
    else later(until.afterMin, { when: after(until.afterMin), what: "start all machines" });
  } else if (stagger) {
    const lines = order.map((machines) => (stagger.first === "tail" ? machines.toReversed() : machines));
    const from = lines.flatMap(([first]) => first ?? []).join(", ");
    atStart.push({
      when: START,
      what: `start the feed and ${from}, then the next machine towards the ${stagger.first === "tail" ? "head" : "tail"} every ${formatDuration(stagger.everyMin)}`,
    });
  } else atStart.push({ when: START, what: "start the feed and all machines" });
  return [...before, ...atStart, ...timed.toSorted((a, b) => a.afterMin - b.afterMin || 0).map(({ step }) => step)];
}

function placing({ byHandPerMin, while: during }: Prefill, placed: readonly PlacedAt[]): CardStep[] {
  const when = {
    before: "Before the shift",
    stopped: "Before, while the start waits",
    running: "Beside the running line",
  }[during];
  // Beside the running line the last to fill by itself comes first, as it is simulated.
  const inOrder = during === "running" ? placed.toReversed() : placed;
  const items = placed.reduce((sum, one) => sum + one.items, 0);
  const lasting =
    byHandPerMin === null ? "" : `, ${formatRate(byHandPerMin)}: ${minutesText(whole(items).div(byHandPerMin))} in all`;
  return inOrder.map(({ machine, items: count }, i) => {
    return { when, what: `${count} items into ${machine}${i === inOrder.length - 1 ? lasting : ""}` };
  });
}

function minutesText(minutes: Rational): string {
  return `${Number(minutes.valueOf().toPrecision(2))} min`;
}
