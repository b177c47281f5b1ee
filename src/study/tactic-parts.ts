/** What a study knows of each part of a tactic: what it asks of the floor, what an operator does for it, and its doses. */
import { offeredPerMin } from "../network/feeds.ts";
import type { Network } from "../network/network.ts";
import type { Order } from "../network/tactics/contribution.ts";
import { ONE, type Rational, ratio, rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../quantity/units.ts";
import type { Means } from "../scenario/means.ts";
import type { OfEachPart, Tactic, TacticPart } from "../scenario/tactic.ts";
import type { LowLevel, SecondFeed, Stagger } from "../scenario/tactic-parts.ts";
import type { Prefill } from "../scenario/tactic-prefill.ts";
import { after, type Carded, once, type PlacedAt, type Step, type Steps } from "./card-steps.ts";
import { branchRates, feedRates, handsPerMin, type Rate } from "./set-rates.ts";

/** One thing that a tactic asks of the floor. */
export type Ask = { readonly isGranted: boolean } & (
  | {
      readonly what: "hands";
      readonly items: number;
      readonly while: Prefill["while"];
      readonly ratePerMin: Rational;
    }
  | { readonly what: "start" | "dividers" }
  | { readonly what: "feed"; readonly rates: readonly Rate[]; readonly forMin: Rational }
  | ({ readonly what: "levels" } & Pick<LowLevel, "level" | "forMin">)
  | { readonly what: "branches"; readonly rates: readonly Rate[] }
  /** `null`: the last machine of a plant without any. */
  | {
      readonly what: "second-feed";
      readonly at: string | null;
      readonly ratePerMin: Rational;
      readonly forMin: Rational;
    }
);

/** What asks are made of. */
interface Asked {
  readonly means: Means;
  readonly network: Network;
  readonly order: Order;
  readonly handled: number;
  readonly mostFeed: Rational | null;
}

export const ASKS: OfEachPart<[Asked], Ask[]> = {
  prefill: (prefill, { handled, means }) => (handled > 0 ? [handsFor(prefill, handled, means)] : []),
  hold: (_, { means }) => [{ what: "start", isGranted: means.starts.held }],
  stagger: (_, { means }) => [{ what: "start", isGranted: means.starts.staggered }],
  boost: ({ factor, forMin }, { means: { feed: granted }, network, mostFeed }) => {
    const isGranted = granted !== null && factor.compare(granted.factor) <= 0 && forMin.compare(granted.forMin) <= 0;
    const rates = feedRates(network, mostFeed === null ? factor : smaller(factor, mostFeed));
    return [{ what: "feed", isGranted, rates, forMin }];
  },
  lowLevel: ({ level, forMin }, { means }) => [{ what: "levels", isGranted: means.levels, level, forMin }],
  metered: ({ factor }, { means, network, order }) => [
    { what: "branches", isGranted: means.branches, rates: branchRates(network, order, factor) },
  ],
  farEndFirst: (_, { means }) => [{ what: "dividers", isGranted: means.dividers }],
  secondFeed: (second, { means: { secondFeed: granted }, network, order }) => {
    const at = second.at ?? order.find((machines) => machines.length > 0)?.at(-1) ?? null;
    const ratePerMin = sum(network.feeds.map(offeredPerMin)).mul(second.share);
    return [
      { what: "second-feed", isGranted: granted !== null && granted === at, at, ratePerMin, forMin: second.forMin },
    ];
  },
};

function handsFor({ byHandPerMin, while: during }: Prefill, items: number, means: Means): Ask {
  const { hands } = means;
  const when = byHandPerMin === null ? "before" : during;
  const ratePerMin = handsPerMin({ byHandPerMin }, means);
  const isGranted =
    hands !== null && items <= hands.items && when === hands.while && ratePerMin.compare(hands.ratePerMin) <= 0;
  return { what: "hands", isGranted, items, while: when, ratePerMin };
}

export type CardStep = Step<CardDeed>;

export type CardDeed =
  | {
      readonly do:
        | "levels-back"
        | "through-first"
        | "turns-again"
        | "own-rate"
        | "head-again"
        | "start-feed"
        | "start-each"
        | "start-machines"
        | "start-all";
    }
  | { readonly do: "branches"; readonly rates: readonly Rate[] }
  | ({ readonly do: "levels" } & Pick<LowLevel, "among" | "level">)
  | {
      readonly do: "place";
      readonly at: PlacedAt;
      /** At the last of them; `null` also where hands take the time they need. */
      readonly all: { readonly items: number; readonly ratePerMin: Rational } | null;
    }
  | { readonly do: "faster"; readonly factor: Rational; readonly rates: readonly Rate[] }
  | ({ readonly do: "lead" } & Pick<SecondFeed, "share" | "at">)
  /** Of each line one, then the next towards the other end. */
  | ({ readonly do: "start-first"; readonly machines: readonly string[] } & Stagger);

/** In the order of the card where they are due together. */
export const STEPS: OfEachPart<[Carded], Steps<CardDeed>> = {
  metered: ({ factor }, { network, order }) => ({
    before: [{ when: "before", what: { do: "branches", rates: branchRates(network, order, factor) } }],
  }),
  lowLevel: ({ among, level, forMin }) => ({
    before: [{ when: "before", what: { do: "levels", among, level } }],
    later: forMin === null ? [] : [after(forMin, { do: "levels-back" })],
  }),
  farEndFirst: ({ until }) => {
    const back: CardDeed = { do: "turns-again" };
    return {
      before: [{ when: "before", what: { do: "through-first" } }],
      later: [until === "tail-full" ? once(until, back) : after(until.afterMin, back)],
    };
  },
  prefill: (prefill, { placed }) => {
    const steps = placing(prefill, placed);
    return prefill.while === "running" ? { later: steps.map((step) => ({ afterMin: 0, step })) } : { before: steps };
  },
  boost: ({ factor, forMin }, { network }) => ({
    atStart: { do: "faster", factor, rates: feedRates(network, factor) },
    later: [after(forMin, { do: "own-rate" })],
  }),
  secondFeed: ({ share, at, forMin }) => ({
    atStart: { do: "lead", share, at },
    later: [after(forMin, { do: "head-again" })],
  }),
  hold: ({ until }) => ({
    atStart: { do: "start-feed" },
    later: [
      typeof until === "string"
        ? once(until, { do: until === "own-full" ? "start-each" : "start-machines" })
        : after(until.afterMin, { do: "start-machines" }),
    ],
  }),
  stagger: (stagger, { order }) => {
    const machines = order.flatMap((line) => line.at(stagger.first === "tail" ? -1 : 0) ?? []);
    return { atStart: { do: "start-first", machines, ...stagger } };
  },
};

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

export interface Dose {
  /** Doses of one family lie one step apart where one of their numbers differs by 1. */
  readonly family: string;
  readonly at: readonly number[];
  readonly parts: Partial<Tactic>;
  /** Such as "metered-102". */
  readonly name: string;
}

const SECONDS_HELD = [15, 30, 60, 120, 240];
const SECONDS_BETWEEN = [2, 5, 10, 15, 30];
const SECONDS_FAR_END = [30, 60, 120, 240, 480];
const MINUTES = [2, 5, 10, 20];
const METERED = [150, 120, 110, 105, 103, 102, 101, 100];
const FEED_SHARES = ["1/4", "1/2", "3/4", "1"];
const FEED_TIMES = ["1/4", "1/2", "1"];
const LEVEL_SHARES = [3 / 4, 1 / 2, 1 / 4, 1 / 8];
const SECOND_SHARES = ["1/6", "1/3", "1/2", "2/3"];

const seconds = (count: number): Rational => ratio(BigInt(count), 60n);
const named = (minutes: Rational): string => formatDuration(minutes).replace(/\s/g, "");

/** What the floor grants of each part, as one dial, which parts that say when machines start share; `null` where it has none. */
export const DOSES: Readonly<Record<TacticPart, ((means: Means, room: number) => Dose[]) | null>> = {
  // Machine by machine, beside the dials.
  prefill: null,
  hold: ({ starts }) => (starts.held ? heldDoses() : []),
  stagger: ({ starts }) => (starts.staggered ? staggeredDoses() : []),
  boost: ({ feed }) => (feed === null ? [] : feedDoses(feed)),
  lowLevel: ({ levels }, room) => (levels ? levelDoses(room) : []),
  metered: ({ branches }) => (branches ? METERED.map(meteredDose) : []),
  farEndFirst: ({ dividers }) => (dividers ? farEndDoses() : []),
  secondFeed: ({ secondFeed }) => (secondFeed === null ? [] : secondDoses(secondFeed)),
};

function heldDoses(): Dose[] {
  const held = (until: "own-full" | "all-full" | { afterMin: Rational }): Partial<Tactic> => {
    return { hold: { until, release: "together", everyMin: ZERO } };
  };
  return [
    ...SECONDS_HELD.map((count, i): Dose => {
      const afterMin = seconds(count);
      return { family: "held", at: [i], parts: held({ afterMin }), name: `held-${named(afterMin)}` };
    }),
    { family: "own-full", at: [0], parts: held("own-full"), name: "own-fill-then-go" },
    { family: "all-full", at: [0], parts: held("all-full"), name: "fill-then-go" },
  ];
}

function staggeredDoses(): Dose[] {
  return (["tail", "head"] as const).flatMap((first) =>
    SECONDS_BETWEEN.map((count, i): Dose => {
      const everyMin = seconds(count);
      return {
        family: `${first}-first`,
        at: [i],
        parts: { stagger: { first, everyMin } },
        name: `${first}-first-${named(everyMin)}`,
      };
    }),
  );
}

function feedDoses({ factor, forMin }: NonNullable<Means["feed"]>): Dose[] {
  return FEED_SHARES.flatMap((share, i) =>
    FEED_TIMES.map((part, j): Dose => {
      const boost = { factor: ONE.add(factor.sub(ONE).mul(rational(share))), forMin: forMin.mul(rational(part)) };
      const name = `feed-${formatPercentage(boost.factor).replace(/\s?%/, "")}-${named(boost.forMin)}`;
      return { family: "feed", at: [i, j], parts: { boost }, name };
    }),
  );
}

function levelDoses(room: number): Dose[] {
  const levels = [...new Set(LEVEL_SHARES.map((share) => Math.max(1, Math.round(room * share))))];
  return levels.flatMap((level, i) => [
    ...MINUTES.map((minutes, j): Dose => {
      const lowLevel = { level, among: { which: "all" }, forMin: whole(minutes) } as const;
      return { family: "level", at: [i, j], parts: { lowLevel }, name: `level-${level}-${minutes}min` };
    }),
    {
      family: "level-for-good",
      at: [i],
      parts: { lowLevel: { level, among: { which: "all" }, forMin: null } },
      name: `level-${level}`,
    },
  ]);
}

function meteredDose(perCent: number, i: number): Dose {
  const factor = ratio(BigInt(perCent), 100n);
  return { family: "metered", at: [i], parts: { metered: { factor } }, name: `metered-${perCent}` };
}

function farEndDoses(): Dose[] {
  return [
    ...SECONDS_FAR_END.map((count, i): Dose => {
      const afterMin = seconds(count);
      const name = `far-end-${named(afterMin)}`;
      return { family: "far-end", at: [i], parts: { farEndFirst: { until: { afterMin } } }, name };
    }),
    { family: "far-end-full", at: [0], parts: { farEndFirst: { until: "tail-full" } }, name: "far-end-first" },
  ];
}

function secondDoses(at: string): Dose[] {
  return SECOND_SHARES.flatMap((share, i) =>
    MINUTES.map((minutes, j): Dose => {
      const secondFeed = { share: rational(share), at, forMin: whole(minutes) };
      const name = `second-feed-${share.replace("/", "-of-")}-${minutes}min`;
      return { family: "second-feed", at: [i, j], parts: { secondFeed }, name };
    }),
  );
}
