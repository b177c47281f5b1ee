/** What a part of a tactic gives an operator to do, and when. */
import type { Network } from "../../network/network.ts";
import type { Order } from "../../network/tactics/contribution.ts";
import { approximate, type Rational } from "../../quantity/rational.ts";
import type { CardDeed, CardStep, CardTime, PlacedAt } from "./best-results.ts";

export interface Steps {
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

/** What they are made of. */
export interface Carded {
  readonly network: Network;
  readonly order: Order;
  readonly placed: readonly PlacedAt[];
}

export function after(afterMin: Rational, what: CardDeed): Later {
  return { afterMin: approximate(afterMin), step: { when: { afterMin }, what } };
}

export function once(when: CardTime, what: CardDeed): Later {
  return { afterMin: Infinity, step: { when, what } };
}
