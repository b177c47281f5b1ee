/** What passes the belts of a chain in the long run, if none is too slow and every buffer has found its level. */
import { larger, minus, plus, type Rational, ratio, smaller, sum, times, ZERO } from "../quantity/rational.ts";
import type { ChainLine } from "../scenario/scenario.ts";

const HALF = ratio(1n, 2n);

export interface ChainFlows {
  /** The stretches from the head to the last consumer, one for each consumer. */
  readonly through: readonly Rational[];
  /** What turns aside to each consumer but the last. */
  readonly aside: readonly Rational[];
}

/**
 * @param input what comes in, no more than all need
 * @param needs by consumer, in feeding order
 */
export function chainFlows(input: Rational, needs: readonly Rational[], dividers: ChainLine["dividers"]): ChainFlows {
  const through: Rational[] = [];
  const aside: Rational[] = [];
  let passing = input;
  let further = sum(needs);
  for (const [place, need] of needs.entries()) {
    through.push(passing);
    further = minus(further, need);
    if (place === needs.length - 1) break;
    const turned = smaller(need, offered(passing, further, dividers, need));
    aside.push(turned);
    passing = minus(passing, turned);
  }
  return { through, aside };
}

/** By connection. @param prefix before the names, such as `main.` */
export function flowsByName({ through, aside }: ChainFlows, prefix: string): Map<string, Rational> {
  return new Map([
    ...through.map((flow, index) => [`${prefix}through-${index + 1}`, flow] as const),
    ...aside.map((flow, index) => [`${prefix}branch-${index + 1}`, flow] as const),
  ]);
}

/** To a consumer: its turns, or all, or what those further on leave; and whatever they cannot use. */
function offered(passing: Rational, further: Rational, dividers: ChainLine["dividers"], need: Rational): Rational {
  const left = larger(ZERO, minus(passing, further));
  switch (dividers) {
    case "even":
      return larger(times(passing, HALF), left);
    case "weighted":
      if (further.add(need).equals(ZERO)) return ZERO;
      return larger(times(times(passing, need), plus(further, need).inverse()), left);
    case "branch-first":
      return passing;
    case "through-first":
      return left;
  }
}
