/** What an operator does for a start: when, where, how much, in which order. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import type { Network } from "../../network/network.ts";
import type { Order } from "../../network/tactics/contribution.ts";
import { approximate, type Rational } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type OfEachPart, ofParts, type Prefill, type Tactic } from "../../scenario/tactic.ts";
import { branchRates, feedRates } from "../recommended/asks.ts";
import type { CardDeed, CardStep, CardTime, PlacedAt } from "./best-results.ts";

/** What a part of a tactic gives to do. */
interface Steps {
  /** Whether feed and machines start together, as far as this part goes, or in an order that its steps say. */
  readonly starts: "together" | "own";
  readonly before?: readonly CardStep[];
  readonly atStart?: CardDeed;
  readonly later?: readonly Later[];
}

interface Later {
  /** What waits for something to happen comes last. */
  readonly afterMin: number;
  readonly step: CardStep;
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
  const together: CardDeed[] = steps.every(({ starts }) => starts === "together") ? [{ do: "start-all" }] : [];
  return [
    ...steps.flatMap(({ before = [] }) => before),
    ...[...steps.flatMap(({ atStart }) => atStart ?? []), ...together].map(
      (what): CardStep => ({ when: "start", what }),
    ),
    ...steps
      .flatMap(({ later: timed = [] }) => timed)
      .toSorted((a, b) => a.afterMin - b.afterMin || 0)
      .map(({ step }) => step),
  ];
}

/** In the order of the card where they are due together. */
const STEPS: OfEachPart<[Carded], Steps> = {
  metered: ({ factor }, { network, order }) => ({
    starts: "together",
    before: [{ when: "before", what: { do: "branches", rates: branchRates(network, order, factor) } }],
  }),
  lowLevel: ({ among, level, forMin }) => ({
    starts: "together",
    before: [{ when: "before", what: { do: "levels", among, level } }],
    later: forMin === null ? [] : [after(forMin, { do: "levels-back" })],
  }),
  farEndFirst: ({ until }) => {
    const back: CardDeed = { do: "turns-again" };
    return {
      starts: "together",
      before: [{ when: "before", what: { do: "through-first" } }],
      later: [until === "tail-full" ? once(until, back) : after(until.afterMin, back)],
    };
  },
  prefill: (prefill, { placed }) => {
    const steps = placing(prefill, placed);
    const isLater = prefill.while === "running";
    return {
      starts: "together",
      ...(isLater ? { later: steps.map((step) => ({ afterMin: 0, step })) } : { before: steps }),
    };
  },
  boost: ({ factor, forMin }, { network }) => ({
    starts: "together",
    atStart: { do: "faster", factor, rates: feedRates(network, factor) },
    later: [after(forMin, { do: "own-rate" })],
  }),
  secondFeed: ({ share, at, forMin }) => ({
    starts: "together",
    atStart: { do: "lead", share, at },
    later: [after(forMin, { do: "head-again" })],
  }),
  hold: ({ until }) => ({
    starts: "own",
    atStart: { do: "start-feed" },
    later: [
      typeof until === "string"
        ? once(until, { do: until === "own-full" ? "start-each" : "start-machines" })
        : after(until.afterMin, { do: "start-machines" }),
    ],
  }),
  stagger: (stagger, { order }) => {
    const machines = order.flatMap((line) => line.at(stagger.first === "tail" ? -1 : 0) ?? []);
    return { starts: "own", atStart: { do: "start-first", machines, ...stagger } };
  },
};

function after(afterMin: Rational, what: CardDeed): Later {
  return { afterMin: approximate(afterMin), step: { when: { afterMin }, what } };
}

function once(when: CardTime, what: CardDeed): Later {
  return { afterMin: Infinity, step: { when, what } };
}

const PLACED_WHILE = { before: "before-shift", stopped: "while-waiting", running: "beside-line" } as const;

function placing({ byHandPerMin: ratePerMin, while: during }: Prefill, placed: readonly PlacedAt[]): CardStep[] {
  // Beside the running line the last to fill by itself comes first, as it is simulated.
  const inOrder = during === "running" ? placed.toReversed() : placed;
  const items = placed.reduce((sum, one) => sum + one.items, 0);
  const all = ratePerMin && { items, ratePerMin };
  return inOrder.map((at, i) => ({
    when: PLACED_WHILE[during],
    what: { do: "place", at, all: i === inOrder.length - 1 ? all : null },
  }));
}
