/** What a tactic asks of the floor, with what must be known to set it up, and whether that is granted. */
import { feedingOrder } from "../../network/flow-order.ts";
import type { Rational } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { ofParts, type Tactic } from "../../scenario/tactic.ts";
import { plainNetwork } from "../play.ts";
import { ASKS, type Ask } from "../tactic-parts.ts";

/**
 * @param handled items that hands place
 * @param mostFeed the multiple of their rate that belts let feeds run at; `null`: all that the tactic says
 */
export type AsksOf = (tactic: Tactic, handled: number, mostFeed?: Rational | null) => Ask[];

/** The line is drawn up once for all its tactics. */
export function asksIn(scenario: Scenario): AsksOf {
  const network = plainNetwork(scenario);
  const plant = { means: scenario.means, network, order: feedingOrder(scenario, network) };
  return (tactic, handled, mostFeed = null) => ofParts(tactic, ASKS, { ...plant, handled, mostFeed }).flat();
}
