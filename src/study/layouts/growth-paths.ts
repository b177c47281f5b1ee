/** Growth as a path: what it takes to have one machine more, twice as many, or a number asked for, from each layout as it stands. */
import { changeBetween } from "../../network/changes.ts";
import { approximate, larger, sum, ZERO } from "../../quantity/rational.ts";
import { type Candidate, type Given, sharedCandidate } from "./candidates.ts";
import type { LayoutGrowth } from "./layout-results.ts";
import { endOf, moreMachines } from "./possible-if.ts";

/** Beyond so many a step is not told: the study's own limit for drawn lines. */
const MOST_MACHINES = 2000;

/** In rising order; a step to which the layout cannot grow is left out. @param to fewer than today are no growth */
export function growthOf(given: Given, candidate: Candidate, to: number | undefined): LayoutGrowth[] {
  const { drawn, reason, assuming } = candidate;
  const now = given.consumers.length;
  if (drawn === null || reason !== null || assuming !== null) return [];
  const sizes = [...new Set([now + 1, 2 * now, to ?? 0])].filter((size) => size > now && size <= MOST_MACHINES);
  return sizes
    .toSorted((a, b) => a - b)
    .flatMap((machines): LayoutGrowth[] => {
      const grown = drawn.grown(machines - now);
      if (grown === null) return [];
      const grownGiven = moreMachines(given, machines - now);
      // Outlets need nothing of their own: to however many there are goes what comes in today.
      const input = endOf(given) === "outlet" ? given.input : sum(grownGiven.needs.values());
      const fed = { ...grownGiven, input };
      const after =
        grown.layout === "tree" || grown.layout === "loop"
          ? sharedCandidate(fed, grown.layout)
          : candidate.again?.(fed);
      const short = [...(after?.short.values() ?? [])];
      const busiest = short.reduce((most, { flow }) => larger(most, flow), ZERO);
      return [
        {
          ...{ machines, layout: grown.layout, ...changeBetween(grown.before, grown.after) },
          too_slow: short.reduce((count, { belts }) => count + belts, 0),
          busiest_per_min: short.length === 0 ? null : approximate(busiest),
        },
      ];
    });
}
