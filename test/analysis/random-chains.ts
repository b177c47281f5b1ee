/** Random chains that can be simulated: mixed needs, cycles and buffers, both rules, any supply, short belts or none. */
import fc from "fast-check";
import type { Network } from "../../src/network/network.ts";
import { type Rational, whole } from "../../src/quantity/rational.ts";
import type { FeedStep, Rule } from "../../src/scenario/scenario.ts";
import { chain, steady } from "./flow-networks.ts";
import { withoutBelts, withShortBelts } from "./runs.ts";

export interface RandomMachine {
  readonly needPerMin: number;
  /** Items a cycle; as many products come of them. */
  readonly takes: number;
  readonly room: number;
}

export interface RandomChain {
  readonly machines: readonly RandomMachine[];
  readonly rule: Rule;
  /** Feed over need. */
  readonly supply: string;
  readonly belts: "none" | "short";
}

/** Needs with short common periods, so that most chains are proved to settle within hours. */
const NEEDS = [6, 10, 12, 15, 20, 24, 30, 40];

export interface Limits {
  readonly supplies?: readonly string[];
  readonly mostTakes?: number;
}

export function randomChains({ supplies = SUPPLIES, mostTakes = 3 }: Limits = {}): fc.Arbitrary<RandomChain> {
  return fc.record({
    machines: fc.array(
      fc.record({
        needPerMin: fc.constantFrom(...NEEDS),
        takes: fc.integer({ min: 1, max: mostTakes }),
        room: fc.integer({ min: 2 * mostTakes, max: 40 }),
      }),
      { minLength: 2, maxLength: 6 },
    ),
    rule: fc.constantFrom<Rule>("even", "ordered"),
    supply: fc.constantFrom(...supplies),
    belts: fc.constantFrom("none", "short"),
  });
}

const SUPPLIES = ["1/2", "3/4", "9/10", "1", "21/20", "11/10", "5/4", "2"];

export function needOf({ machines }: RandomChain): Rational {
  return whole(machines.reduce((total, { needPerMin }) => total + needPerMin, 0));
}

export function feedOf(given: RandomChain): Rational {
  return needOf(given).mul(given.supply);
}

/** @param times all rates and rooms multiplied: smaller items, or the same line magnified */
export function networkOf(given: RandomChain, times = 1, profile?: readonly FeedStep[]): Network {
  const feed = feedOf(given).mul(whole(times));
  const machines = given.machines.map(({ needPerMin, room }) => ({
    need: whole(needPerMin * times),
    room: room * times,
  }));
  const plain = chain(machines, profile ?? steady(feed), given.rule);
  const network: Network = {
    ...plain,
    machines: plain.machines.map((one, k) => {
      const count = given.machines[k]?.takes ?? 1;
      const makes = [{ item: "carton", count }];
      return {
        ...one,
        cycleMin: one.cycleMin.mul(whole(count)),
        takes: [{ item: "pouch", count }],
        makes,
        outfeed: makes,
      };
    }),
  };
  return given.belts === "none" ? withoutBelts(network) : withShortBelts(network, feed);
}
