/** A draft whose counts are settled: feeds give what is needed, and belts that are open carry it. */
import { fedAsNeeded } from "../../scenario/as-needed.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { writeScenario } from "../../scenario/write.ts";
import { type Draft, shareAsked } from "./demand.ts";
import { flowsIn, withBelts } from "./sized-belts.ts";

/** @returns the text of a file; groups without a count are one machine each */
export function writtenAsStated({ scenario, open }: Draft): string {
  const feeds = scenario.feeds.map((feed) => {
    const asked = open.feeds.get(feed.id);
    return asked === undefined || feed.items.length > 1 ? feed : { ...feed, ofNeed: shareAsked(asked), profile: [] };
  });
  const fed: Scenario = fedAsNeeded({ ...scenario, feeds });
  // A need that is open has no rate, and the reader says why.
  const isFed = fed.feeds.every(({ profile }) => profile.length > 0);
  return writeScenario(withBelts(fed, isFed ? [flowsIn(fed)] : [], true));
}
