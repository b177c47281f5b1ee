/** What can be done for a start with what the floor grants: each means with its doses, and the buffers that hands can fill. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { total } from "../../quantity/counts.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { statedParts, type Tactic, type TacticPart } from "../../scenario/tactic.ts";
import { saysStart } from "../../scenario/tactic-parts.ts";
import type { Amount, Prefill } from "../../scenario/tactic-prefill.ts";
import { knownTactics } from "../comparison/standard-tactics.ts";
import { NO_TACTIC } from "../play.ts";
import { DOSES, type Dose } from "../tactic-parts.ts";

/** A start of the line as the search counts it; plain, so that threads can be sent it. */
export interface Code {
  /** A tactic of the file or a standard one, taken as it is; `null`: what follows. */
  readonly known: string | null;
  /** By dial: 0 for not at all, else the dose counted from 1. */
  readonly doses: readonly number[];
  /** Items of each kind placed at each machine of the grid. */
  readonly placed: readonly number[];
}

/** One means, from the weakest dose of each family on. */
export interface Dial {
  readonly doses: readonly Dose[];
}

interface Stockable {
  readonly id: string;
  /** Of each kind that it takes. */
  readonly rooms: readonly number[];
  /** What one step of the search places: the full buffers, or as much of each as hands place at most. */
  readonly portion: number;
}

export interface Grid {
  readonly dials: readonly Dial[];
  /** As the flow comes to them; none where no hands are granted. */
  readonly machines: readonly Stockable[];
  readonly mostItems: number;
  readonly prefill: Pick<Prefill, "byHandPerMin" | "while">;
  readonly known: readonly Tactic[];
}

export function gridOf(scenario: Scenario): Grid {
  const order = feedingOrder(scenario, expand(scenario));
  const { hands } = scenario.means;
  const mostItems = hands?.items ?? 0;
  const machines = [...new Set(order.flat())].flatMap((id): Stockable[] => {
    const rooms = scenario.machines.find(({ members }) => members.includes(id))?.infeed.map(({ count }) => count) ?? [];
    const portion = portionOf(rooms, mostItems);
    return portion > 0 ? [{ id, rooms, portion }] : [];
  });
  return {
    dials: dialsOf(scenario),
    machines,
    mostItems,
    prefill: { byHandPerMin: hands?.ratePerMin ?? null, while: hands?.while ?? "stopped" },
    known: knownTactics(scenario),
  };
}

/** The most of each kind that hands can place at one machine. */
function portionOf(rooms: readonly number[], mostItems: number): number {
  let portion = Math.max(0, ...rooms);
  while (portion > 0 && handledAt(rooms, portion) > mostItems) portion--;
  return portion;
}

export function handledAt(rooms: readonly number[], amount: number): number {
  return total(rooms.map((room) => Math.min(room, amount)));
}

export function handledBy({ machines }: Grid, placed: readonly number[]): number {
  return total(machines.map(({ rooms }, i) => handledAt(rooms, placed[i] ?? 0)));
}

function dialsOf({ means, machines }: Scenario): Dial[] {
  const room = Math.min(...machines.flatMap(({ infeed }) => infeed.map(({ count }) => count)));
  const parts: TacticPart[] = machines.length === 0 ? ["boost"] : statedParts(DOSES);
  const dials = [parts.filter(saysStart), ...parts.filter((part) => !saysStart(part)).map((part) => [part])];
  return dials
    .map((of) => ({ doses: of.flatMap((part) => DOSES[part]?.(means, room) ?? []) }))
    .filter(({ doses }) => doses.length > 0);
}

/** Nothing done. */
export function noCode({ dials, machines }: Grid): Code {
  return { known: null, doses: dials.map(() => 0), placed: machines.map(() => 0) };
}

export function keyOf({ known, doses, placed }: Code): string {
  return known ?? `${doses.join(" ")}|${placed.join(" ")}`;
}

export function tacticOf(grid: Grid, code: Code, id = keyOf(code)): Tactic {
  const known = grid.known.find((one) => one.id === code.known);
  if (known !== undefined) return known;
  const parts = grid.dials.map(({ doses }, i) => doses[(code.doses[i] ?? 0) - 1]?.parts ?? {});
  return { ...NO_TACTIC, ...Object.assign({}, ...parts), prefill: prefillOf(grid, code.placed), id };
}

function prefillOf({ machines, prefill }: Grid, placed: readonly number[]): Prefill | null {
  const byMachine = machines.flatMap(({ id, rooms }, i): { machine: string; amount: Amount }[] => {
    const amount = placed[i] ?? 0;
    return amount === 0 ? [] : [{ machine: id, amount: amount >= Math.max(...rooms) ? null : amount }];
  });
  return byMachine.length === 0 ? null : { amounts: { byMachine }, belts: false, ...prefill };
}

/** The machines in which a tactic of the grid places items, in their order. */
export function placedBy({ machines }: Grid, { placed }: Pick<Code, "placed">) {
  return machines.flatMap(({ id, rooms }, i) => {
    const items = handledAt(rooms, placed[i] ?? 0);
    return items > 0 ? [{ machine: id, items }] : [];
  });
}
