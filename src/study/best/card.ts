/** What an operator does for a start: when, where, how much, in which order. */
import { expand } from "../../network/expand.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import type { Network } from "../../network/network.ts";
import type { Order } from "../../network/tactics/contribution.ts";
import { approximate, type Rational, whole } from "../../quantity/rational.ts";
import { formatDuration, formatPercentage, formatRate } from "../../quantity/units.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type OfEachPart, ofParts, type Prefill, type Tactic } from "../../scenario/tactic.ts";
import { amongText, branchRates, itemsText, minutesText } from "../recommended/tactic-words.ts";
import type { CardStep, PlacedAt } from "./best-results.ts";

const START = "At the start";
const after = (minutes: Rational): string => `After ${formatDuration(minutes)}`;

/** What a part of a tactic gives to do. */
interface Steps {
  readonly before?: readonly CardStep[];
  readonly atStart?: CardStep;
  readonly later?: readonly { readonly afterMin: number; readonly step: CardStep }[];
}

interface Carded {
  readonly network: Network;
  readonly order: Order;
  readonly placed: readonly PlacedAt[];
}

/** @param placed by machine, as the flow comes to them */
export function cardOf(scenario: Scenario, tactic: Tactic, placed: readonly PlacedAt[]): CardStep[] {
  const network = expand(scenario);
  const steps = ofParts(tactic, STEPS, { network, order: feedingOrder(scenario, network), placed });
  const together = { when: START, what: "start the feed and all machines" };
  return [
    ...steps.flatMap(({ before = [] }) => before),
    ...steps.flatMap(({ atStart }) => atStart ?? []),
    ...(tactic.hold === null && tactic.stagger === null ? [together] : []),
    ...steps
      .flatMap(({ later: timed = [] }) => timed)
      .toSorted((a, b) => a.afterMin - b.afterMin || 0)
      .map(({ step }) => step),
  ];
}

/** In the order of the card where they are due together. */
const STEPS: OfEachPart<[Carded], Steps> = {
  metered: ({ factor }, { network, order }) => ({
    before: [{ when: "Before", what: `set the branches to ${branchRates(network, order, factor)}` }],
  }),
  lowLevel: ({ among, level, forMin }) => ({
    before: [{ when: "Before", what: `set the level of ${amongText(among)} to ${itemsText(level)}` }],
    later: forMin === null ? [] : [later(forMin, "set the levels back to full")],
  }),
  farEndFirst: ({ until }) => {
    const what = "switch the dividers back to turns";
    return {
      before: [{ when: "Before", what: "switch the dividers to the through belt first" }],
      later: [until === "tail-full" ? once("When the last machine is full", what) : later(until.afterMin, what)],
    };
  },
  prefill: (prefill, { placed }) => {
    const steps = placing(prefill, placed);
    return prefill.while === "running" ? { later: steps.map((step) => ({ afterMin: 0, step })) } : { before: steps };
  },
  boost: ({ factor, forMin }, { network }) => {
    const feeds = network.feeds.map((feed) => `${feed.id} to ${formatRate(offeredPerMin(feed).mul(factor))}`);
    const what = `feeds at ${formatPercentage(factor)}, as far as belts carry it: ${feeds.join(", ")}`;
    return { atStart: { when: START, what }, later: [later(forMin, "feeds back to their own rate")] };
  },
  secondFeed: ({ share, at, forMin }) => ({
    atStart: { when: START, what: `lead ${formatPercentage(share)} of the feed to ${at ?? "the last machine"}` },
    later: [later(forMin, "all of the feed to the head again")],
  }),
  hold: ({ until }) => ({
    atStart: { when: START, what: "start the feed only; keep all machines off" },
    later: [
      until === "own-full"
        ? once("When its buffers are full", "start each machine")
        : until === "all-full"
          ? once("When all buffers are full", "start all machines")
          : later(until.afterMin, "start all machines"),
    ],
  }),
  stagger: ({ first, everyMin }, { order }) => {
    const lines = order.map((machines) => (first === "tail" ? machines.toReversed() : machines));
    const from = lines.flatMap(([machine]) => machine ?? []).join(", ");
    const towards = first === "tail" ? "head" : "tail";
    const next = `the next machine towards the ${towards} every ${formatDuration(everyMin)}`;
    return { atStart: { when: START, what: `start the feed and ${from}, then ${next}` } };
  },
};

function later(minutes: Rational, what: string) {
  return { afterMin: approximate(minutes), step: { when: after(minutes), what } };
}

/** What waits for something to happen comes last. */
function once(when: string, what: string) {
  return { afterMin: Infinity, step: { when, what } };
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
    return { when, what: `${itemsText(count)} into ${machine}${i === inOrder.length - 1 ? lasting : ""}` };
  });
}
