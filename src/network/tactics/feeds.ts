/** Tactics of the feed: faster for a while, or entering at a second place. */
import { larger, ONE, type Rational, smaller, sum, ZERO } from "../../quantity/rational.ts";
import type { Batch, FeedStep } from "../../scenario/scenario.ts";
import type { Boost, SecondFeed } from "../../scenario/tactic-parts.ts";
import { graphOf } from "../graph.ts";
import type { Connection, FeedElement, Network } from "../network.ts";
import type { Order, Part, TacticNote } from "./contribution.ts";

/**
 * Profiles and vehicles keep to their timetables, seen from a line that starts later. Of vehicles that have come by then the
 * last one stands there: no more than one ever waits without putting off those after it.
 */
export function startedLate(network: Network, byMin: Rational): Network {
  const feeds = network.feeds.map((feed): FeedElement => {
    const { batch } = feed;
    const profile = feed.profile.flatMap((step, i): FeedStep[] => {
      const next = feed.profile[i + 1];
      const isOver = next !== undefined && next.fromMin.compare(byMin) <= 0;
      return isOver ? [] : [{ ...step, fromMin: larger(ZERO, step.fromMin.sub(byMin)) }];
    });
    return { ...feed, profile, batch: batch && { ...batch, firstMin: firstAfter(batch, byMin) } };
  });
  return { ...network, feeds };
}

/** When the first vehicle comes, or, before zero, the one that stands there has come. */
function firstAfter({ firstMin, everyMin }: Batch, startMin: Rational): Rational {
  const first = firstMin.sub(startMin);
  return first.compare(ZERO) >= 0 ? first : first.add(everyMin.mul(first.neg().div(everyMin).floor()));
}

/** Never beyond what the belt that a feed enters carries, all feeds that enter it together. */
export function boosted(network: Network, { factor, forMin }: Boost): Part {
  const graph = graphOf(network);
  const entryOf = (feed: FeedElement): Connection | undefined => {
    const [own] = graph.outOf(feed.id);
    if (own === undefined || own.belt !== null) return own;
    return network.merges.some(({ id }) => id === own.to) ? graph.outOf(own.to)[0] : own;
  };
  const entries = new Map(network.feeds.map((feed) => [feed, entryOf(feed)]));
  const notes: TacticNote[] = [];
  const feeds = network.feeds.map((feed) => {
    const entry = entries.get(feed);
    const sharing = network.feeds.filter((other) => entry !== undefined && entries.get(other) === entry);
    const offered = mostAtOnce(sharing, forMin);
    const belt = entry?.belt;
    const most = belt && offered.compare(ZERO) > 0 ? belt.ratePerMin.div(offered) : factor;
    if (most.compare(factor) < 0 && entry && sharing[0] === feed) {
      notes.push({ note: "boost-limited", belt: entry.id, factor: most.compare(ONE) < 0 ? ONE : most });
    }
    const used = most.compare(ONE) < 0 ? ONE : smaller(factor, most);
    return { ...feed, profile: scaledUntil(feed.profile, used, forMin) };
  });
  return { network: { ...network, feeds }, notes };
}

/** The highest rate of all feeds together before a time. */
function mostAtOnce(feeds: readonly FeedElement[], untilMin: Rational): Rational {
  const times = feeds.flatMap(({ profile }) => profile.map(({ fromMin }) => fromMin));
  return times
    .filter((time) => time.compare(untilMin) < 0)
    .map((time) => sum(feeds.map(({ profile }) => rateAt(profile, time))))
    .reduce(larger, ZERO);
}

function rateAt(profile: readonly FeedStep[], timeMin: Rational): Rational {
  return profile.findLast(({ fromMin }) => fromMin.compare(timeMin) <= 0)?.ratePerMin ?? ZERO;
}

/** Rates times a factor up to a time, unchanged from then on. */
function scaledUntil(profile: readonly FeedStep[], factor: Rational, untilMin: Rational): FeedStep[] {
  const early = profile.filter(({ fromMin }) => fromMin.compare(untilMin) < 0);
  const later = profile.filter(({ fromMin }) => fromMin.compare(untilMin) > 0);
  const then = profile.findLast(({ fromMin }) => fromMin.compare(untilMin) <= 0);
  return [
    ...early.map(({ fromMin, ratePerMin }) => ({ fromMin, ratePerMin: ratePerMin.mul(factor) })),
    ...(then ? [{ fromMin: untilMin, ratePerMin: then.ratePerMin }] : []),
    ...later,
  ];
}

/** A share of every feed of the line joins the stretch of belt that leads to the machine's divider, or to the last machine or one behind a merge itself. */
export function withSecondFeed(network: Network, order: Order, { share, at, forMin }: SecondFeed): Part {
  const line = order.find((machines) => (at === null ? machines.length > 0 : machines.includes(at)));
  const machine = at ?? line?.at(-1);
  const graph = graphOf(network);
  const [inlet] = machine === undefined ? [] : graph.into(machine);
  // Behind a merge there is no divider of the machine's own, and its inlet is as good as a last machine's.
  const isFedAlone = machine === line?.at(-1) || network.merges.some(({ id }) => id === inlet?.from);
  const joins = inlet && !isFedAlone ? graph.into(inlet.from)[0] : inlet;
  const divided = network.feeds.filter(({ id }) => joins && graph.outOf(id).some((own) => own.line === joins.line));
  if (machine === undefined || !joins?.belt || divided.length === 0) {
    return { notes: [{ note: "no-second-feed", machine: machine ?? "" }] };
  }
  const merge = `${joins.line}.second-merge`;
  const second = divided.map((own, i): FeedElement => {
    const id = `${joins.line}.second-feed-${i + 1}`;
    return { ...own, id, profile: onlyUntil(scaledUntil(own.profile, share, forMin), forMin) };
  });
  const shared = { line: joins.line, only: null, belt: null };
  return {
    network: {
      ...network,
      feeds: [
        ...network.feeds.map((one) =>
          divided.includes(one) ? { ...one, profile: scaledUntil(one.profile, ONE.sub(share), forMin) } : one,
        ),
        ...second,
      ],
      merges: [...network.merges, { id: merge, line: joins.line, rule: "even" }],
      connections: [
        ...network.connections.map((one) => (one === joins ? { ...one, to: merge } : one)),
        { ...shared, id: `${joins.line}.second-join`, from: merge, to: joins.to },
        ...second.map(({ id }, i) => ({ ...shared, id: `${joins.line}.second-entry-${i + 1}`, from: id, to: merge })),
      ],
    },
  };
}

function onlyUntil(profile: readonly FeedStep[], untilMin: Rational): FeedStep[] {
  const early = profile.filter(({ fromMin }) => fromMin.compare(untilMin) < 0);
  return [...early, { fromMin: untilMin, ratePerMin: ZERO }];
}
