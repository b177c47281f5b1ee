/** How long to simulate where the file leaves it open. */
import { larger, type Rational, whole } from "../quantity/rational.ts";
import type { Feed, Scenario } from "./scenario.ts";

export type Horizon = Pick<Scenario, "horizonMin" | "horizonIsAuto">;

/** What has not settled by then is told so: nobody waits for a second day. */
export const LONGEST_LOOK_MIN: Rational = whole(24 * 60);

const LEAST_MIN: Rational = whole(120);
/** From so many vehicles on a pattern can be told. */
const LEAST_VEHICLES = 8n;

/** At least so long that it holds every change of a profile, and vehicles enough to see a pattern. */
export function openHorizon(feeds: readonly Pick<Feed, "profile" | "batch">[]): Horizon {
  const shown = feeds.flatMap(({ profile, batch }) => [
    ...profile.map(({ fromMin }) => fromMin.add(LEAST_MIN)),
    ...(batch === null ? [] : [batch.firstMin.add(batch.everyMin.mul(LEAST_VEHICLES))]),
  ]);
  return { horizonMin: shown.reduce(larger, LEAST_MIN), horizonIsAuto: true };
}

export function statedHorizon(horizonMin: Rational): Horizon {
  return { horizonMin, horizonIsAuto: false };
}
