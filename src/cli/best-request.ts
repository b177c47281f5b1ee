/** What `best` is asked for: goals, what decides, how much is tried. */
import {
  NO_GOALS,
  parseQuantity,
  type Scenario,
  START_PRIORITIES,
  type StartGoals,
  type StartPriority,
} from "../index.ts";
import { RefusedError } from "./exit.ts";

export interface BestAsked {
  readonly within?: string;
  readonly lossBelow?: string;
  readonly handledBelow?: string;
  readonly most?: string;
}

/** @throws RefusedError */
export function goalsFrom({ within, lossBelow, handledBelow }: BestAsked): StartGoals {
  return {
    withinMin: within === undefined ? NO_GOALS.withinMin : minutesFrom(within),
    lossBelow: lossBelow === undefined ? NO_GOALS.lossBelow : itemsFrom("--loss-below", lossBelow),
    handledBelow: handledBelow === undefined ? NO_GOALS.handledBelow : itemsFrom("--handled-below", handledBelow),
  };
}

/** Of `--within`. @throws RefusedError */
function minutesFrom(within: string): number {
  const parsed = parseQuantity("duration", within);
  if (!parsed.ok) throw new RefusedError(`--within ${JSON.stringify(within)}: expected a duration such as "5 min"`);
  return parsed.value.valueOf();
}

/** @throws RefusedError */
function itemsFrom(option: string, text: string): number {
  if (!/^\d{1,9}$/.test(text)) throw new RefusedError(`${option} ${JSON.stringify(text)}: expected a number of items`);
  return Number(text);
}

/** @throws RefusedError */
export function priorityFrom(text: string | undefined): StartPriority {
  if (text === undefined) return "loss";
  const known = START_PRIORITIES.find((priority) => priority === text);
  if (known !== undefined) return known;
  throw new RefusedError(`--priority ${JSON.stringify(text)}: expected one of ${START_PRIORITIES.join(", ")}`);
}

/** Money decides only where the file has what that takes. @throws RefusedError */
export function refuseUnpriced(priority: StartPriority, { costs, means }: Scenario): void {
  if (priority !== "money") return;
  if ((costs?.product ?? null) === null) throw unpriced("what a product is worth", "product: 0.45 EUR");
  if (means.hands !== null && costs?.handsPerHour === null) throw unpriced("what hands cost", "hands: 32 EUR/h");
}

export function unpriced(what: string, example: string): RefusedError {
  return new RefusedError(`--priority money: the file does not say ${what}; state it under costs, such as ${example}`);
}

const LEAST_TRIED = 20;
const MOST_TRIED = 100_000;

/** @throws RefusedError */
export function mostFrom({ most }: BestAsked): { readonly most?: number } {
  if (most === undefined) return {};
  const count = /^\d{1,6}$/.test(most) ? Number(most) : 0;
  if (count >= LEAST_TRIED && count <= MOST_TRIED) return { most: count };
  throw new RefusedError(
    `--most ${JSON.stringify(most)}: expected how many starts may be tried, from ${LEAST_TRIED} to ${MOST_TRIED}`,
  );
}
