/** What the floor grants, as read. */
import { type Means, PLAIN_MEANS } from "./means.ts";
import { type Reading, requireEntries } from "./reading.ts";
import { createReferences } from "./references.ts";
import type { RawScenario } from "./shapes.ts";

export function readMeans(raw: RawScenario, reading: Reading): Means {
  const { means } = raw;
  if (means === undefined) return PLAIN_MEANS;
  const path = ["means"];
  requireEntries(reading, path, "means");
  const { hands, feed, start = "either" } = means;
  const second = means["second-feed"];
  return {
    hands: hands ? { items: hands.items, ratePerMin: hands.rate, while: hands.while ?? "stopped" } : null,
    levels: means.levels === "movable",
    branches: means.branches === "variable",
    starts: {
      held: start === "held" || start === "either",
      staggered: start === "staggered" || start === "either",
    },
    feed: feed ? { factor: feed.to, forMin: feed.for } : null,
    secondFeed: second ? createReferences(reading).machine(second.at, [...path, "second-feed", "at"]) : null,
    dividers: means.dividers === "switched",
  };
}
