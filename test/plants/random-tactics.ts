/** Tactics of two parts for random plants, whose feeds may be steady, change over time or come by vehicles. */
import fc from "fast-check";
import type { Network } from "../../src/network/network.ts";
import { applyTactic } from "../../src/network/tactics/apply.ts";
import type { Primed } from "../../src/network/tactics/contribution.ts";
import { ratio, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { statedParts, type Tactic, type TacticPart } from "../../src/scenario/tactic.ts";
import { saysStart } from "../../src/scenario/tactic-parts.ts";
import { NO_TACTIC } from "../../src/study/play.ts";
import { EMPTY } from "../study/chains.ts";

const seconds = fc.integer({ min: 1, max: 200 }).map((s) => ratio(BigInt(s), 60n));
const time = seconds.map((afterMin) => ({ afterMin }));
const factor = fc.constantFrom("21/20", "6/5", "2").map(rational);
const among = fc.oneof(
  fc.constant({ which: "all" as const }),
  fc.record({ which: fc.constantFrom("first" as const, "last" as const), count: fc.integer({ min: 1, max: 3 }) }),
);
const amount = fc.option(fc.integer({ min: 1, max: 4 }));
/** Hands before the start, which is late then, hands beside the running line, or none. */
const hands = fc.oneof(
  fc.record({ byHandPerMin: fc.constant(null), while: fc.constant("stopped" as const), belts: fc.boolean() }),
  fc.constant({ byHandPerMin: whole(40), while: "stopped" as const, belts: true }),
  fc.constant({ byHandPerMin: whole(40), while: "running" as const, belts: false }),
);

const PARTS: { readonly [Part in TacticPart]: fc.Arbitrary<NonNullable<Tactic[Part]>> } = {
  prefill: fc.record({ among, amount }).chain((amounts) => hands.map((how) => ({ amounts, ...how }))),
  hold: fc
    .record({
      until: fc.oneof(fc.constantFrom("own-full" as const, "all-full" as const), time),
      release: fc.constantFrom("together" as const, "head-first" as const, "tail-first" as const),
      every: seconds,
    })
    .map(({ until, release, every }) => ({ until, release, everyMin: release === "together" ? ZERO : every })),
  stagger: fc.record({ first: fc.constantFrom("head" as const, "tail" as const), everyMin: seconds }),
  boost: fc.record({ factor, forMin: seconds }),
  lowLevel: fc.record({ level: fc.integer({ min: 1, max: 5 }), among, forMin: fc.option(seconds) }),
  metered: fc.record({ factor }),
  farEndFirst: fc.record({ until: fc.oneof(fc.constant("tail-full" as const), time) }),
  secondFeed: fc.record({
    share: fc.constantFrom("1/10", "1/3").map(rational),
    at: fc.constant(null),
    forMin: seconds,
  }),
};

/** Any two kinds of parts together, but for two that say when machines start, which the reader refuses. */
export const randomPairs: fc.Arbitrary<Tactic> = fc
  .uniqueArray(fc.constantFrom(...statedParts(PARTS)), { minLength: 2, maxLength: 2 })
  .filter((pair) => pair.filter(saysStart).length < 2)
  .chain((pair) => fc.record(PARTS).map((all) => Object.fromEntries(pair.map((part) => [part, all[part]]))))
  .map((pair) => ({ ...NO_TACTIC, ...pair, id: "pair" }));

type Timing =
  | { readonly changes: readonly string[] }
  | { readonly everyMin: string; readonly items: number; readonly first: number }
  | null;

const timings: fc.Arbitrary<Timing> = fc.oneof(
  fc.constant(null),
  fc.record({ changes: fc.array(fc.constantFrom("1/2", "2", "0", "1"), { minLength: 1, maxLength: 3 }) }),
  fc.record({ everyMin: fc.constantFrom("1", "2", "3"), items: fc.integer({ min: 1, max: 90 }), first: fc.nat(4) }),
);

/** For each feed of a plant, in turn. */
export const randomTimings = fc.array(timings, { minLength: 1, maxLength: 3 });

/** A profile changes each minute and a half; vehicles may come late. */
export function timed(network: Network, all: readonly Timing[]): Network {
  const feeds = network.feeds.map((feed, f) => {
    const timing = all[f % all.length] ?? null;
    const [start] = feed.profile;
    if (start === undefined || timing === null) return feed;
    if ("changes" in timing) {
      const later = timing.changes.map((by, i) => ({
        fromMin: ratio(BigInt(3 * (i + 1)), 2n),
        ratePerMin: start.ratePerMin.mul(rational(by)),
      }));
      return { ...feed, batch: null, profile: [start, ...later] };
    }
    const { everyMin, items, first } = timing;
    return { ...feed, profile: [start], batch: { everyMin: rational(everyMin), items, firstMin: whole(first) } };
  });
  return { ...network, feeds };
}

export function primedBy(network: Network, tactic: Tactic): Primed {
  const lines = network.lines.map((id) => ({ id, layout: "custom" as const, dividers: [], merges: [], belts: [] }));
  return applyTactic({ ...EMPTY, lines }, network, tactic);
}
