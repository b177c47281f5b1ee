/** Tactics that are known without a search, as the grid counts them where they lie on it. */
import type { Scenario } from "../../scenario/scenario.ts";
import { statedParts, statedText, type Tactic } from "../../scenario/tactic.ts";
import { NO_TACTIC } from "../play.ts";
import { asksIn } from "../recommended/asks.ts";
import type { Dose } from "../tactic-parts.ts";
import { type Code, type Grid, handledAt, noCode } from "./grid.ts";
import { placedByTactic } from "./placed-results.ts";

/** By name, those that the floor may grant: a tactic that lies on the grid has neighbours there, another has none. */
export type Known = ReadonlyMap<string, Code>;

export function knownCodes(scenario: Scenario, grid: Grid): Known {
  const asksOf = asksIn(scenario);
  const mayBe = grid.known.filter(
    (tactic) =>
      (tactic.prefill === null || scenario.means.hands !== null) &&
      asksOf(tactic, 0).every(({ isGranted }) => isGranted),
  );
  return new Map(
    mayBe.map((tactic) => [tactic.id, onGrid(scenario, grid, tactic) ?? { ...noCode(grid), known: tactic.id }]),
  );
}

function onGrid(scenario: Scenario, grid: Grid, tactic: Tactic): Code | null {
  const { prefill } = tactic;
  const stated = statedParts({ ...tactic, prefill: null }).length;
  const doses = grid.dials.map((dial) => dial.doses.findIndex((dose) => isStatedBy(tactic, dose)) + 1);
  if (doses.filter((dose) => dose > 0).length !== stated) return null;
  if (prefill === null) return { ...noCode(grid), doses };
  const { byHandPerMin, while: during } = grid.prefill;
  const isByOurHands =
    !prefill.belts &&
    prefill.while === during &&
    prefill.byHandPerMin !== null &&
    byHandPerMin?.equals(prefill.byHandPerMin);
  const stock = new Map(placedByTactic(scenario, tactic).map(({ machine, items }) => [machine, items]));
  const placed = grid.machines.map(({ id, rooms, portion }) =>
    stock.get(id) === handledAt(rooms, portion) ? portion : stock.has(id) ? null : 0,
  );
  if (!isByOurHands || [...stock.keys()].some((id) => !grid.machines.some((machine) => machine.id === id))) return null;
  return placed.includes(null) ? null : { known: null, doses, placed: placed.map((amount) => amount ?? 0) };
}

/** A part of a tactic is stated word for word as the dose is. */
function isStatedBy(tactic: Tactic, { parts }: Dose): boolean {
  const dose = { ...NO_TACTIC, ...parts };
  return statedParts(dose).every((part) => statedText({ ...NO_TACTIC, [part]: tactic[part] }) === statedText(dose));
}
