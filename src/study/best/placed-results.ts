/** Stock by machine: what a tactic places, and the best placements beside the naive ones. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { stockOf } from "../../network/tactics/stock.ts";
import { groupBy, total } from "../../quantity/counts.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import type { PlacedAt } from "../card-steps.ts";
import type { Arrangement, PlacedResult } from "./best-results.ts";
import { type Grid, placedBy } from "./grid.ts";
import type { PlacedCount } from "./placements.ts";
import type { Trial } from "./trial.ts";

/** As the flow comes to the machines. */
export function placedByTactic(scenario: Scenario, { prefill }: Tactic): PlacedAt[] {
  if (prefill === null) return [];
  const network = expand(scenario);
  const stock = stockOf(network, scenario, feedingOrder(scenario, network), prefill);
  return [...groupBy(stock, ({ machine }) => machine)].flatMap(([machine, own]) => {
    const items = total(own.map(({ count }) => count));
    return items > 0 ? [{ machine, items }] : [];
  });
}

export function arrangementsOf(grid: Grid, placements: readonly PlacedCount[]): PlacedResult[] {
  const arrangement = ({ code, start, fullMin }: Trial): Arrangement => ({
    placed: placedBy(grid, code),
    items: start.handled,
    settling_min: fullMin,
    to_95_min: start.timeMin,
    ramp_up_loss: start.lost,
  });
  return placements.map(({ buffers, best, head, tail, even, isComplete, isProved }) => ({
    buffers,
    best: arrangement(best),
    head: head && arrangement(head),
    tail: tail && arrangement(tail),
    even: even && arrangement(even),
    is_complete: isComplete,
    is_proved: isProved,
  }));
}
