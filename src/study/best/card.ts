/** What an operator does for a start: when, where, how much, in which order. */
import { feedingOrder } from "../../network/flow-order.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { ofParts, statedParts, type Tactic } from "../../scenario/tactic.ts";
import { saysStart } from "../../scenario/tactic-parts.ts";
import type { PlacedAt } from "../card-steps.ts";
import { plainNetwork } from "../play.ts";
import { type CardDeed, type CardStep, STEPS } from "../tactic-parts.ts";

/** @param placed by machine, as the flow comes to them */
export function cardOf(scenario: Scenario, tactic: Tactic, placed: readonly PlacedAt[]): CardStep[] {
  const network = plainNetwork(scenario);
  const steps = ofParts(tactic, STEPS, { network, order: feedingOrder(scenario, network), placed });
  const together: CardDeed[] = statedParts(tactic).some(saysStart) ? [] : [{ do: "start-all" }];
  return [
    ...steps.flatMap(({ before = [] }) => before),
    ...[...steps.flatMap(({ atStart }) => atStart ?? []), ...together].map(
      (what): CardStep => ({ when: "start", what }),
    ),
    ...steps
      .flatMap(({ later: timed = [] }) => timed)
      .toSorted((a, b) => a.afterMin - b.afterMin || 0)
      .map(({ step }) => step),
  ];
}
