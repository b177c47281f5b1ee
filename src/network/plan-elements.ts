/**
 * A plan of shares drawn up in dividers, merges and belts.
 *
 *                                    ┌ branch-1 ─ [1]
 *                ┌ through-2 ─ divider-2 ─ share-2-1 ─┐
 *     through-1 ─ divider-1                        gather-2 ─ branch-2 ─ [2]
 *        │       └ through-3 ─ divider-3 ─ share-2-2 ─┘
 *       head                         └ branch-3 ─ [3]
 *        └─ return ── …
 *
 * A consumer to which several leaves lead has a merge of its own. What the plan gives to nobody (the target after the last
 * consumer) is the return: one leaf leads straight back, several (`spare-1`, …) through the merge `gather`.
 */
import { ONE, type Rational, whole, ZERO } from "../quantity/rational.ts";
import type { BeltOrNone } from "../scenario/scenario.ts";
import type { Head } from "./collect.ts";
import type { Connection, DividerElement, LineElements, MergeElement } from "./network.ts";
import { type Plan, targetsOf } from "./plan.ts";

export interface PlanGiven {
  readonly id: string;
  /** Before the name of each element, for one of several trees on a line, such as `tree-3-`. */
  readonly prefix?: string;
  readonly belt: BeltOrNone;
  readonly branch: BeltOrNone;
  /** `null` where the plan returns nothing. */
  readonly back: BeltOrNone;
  readonly head: Head;
  readonly consumers: readonly string[];
  /** Kinds that the way to a consumer lets in; `null` for all. */
  readonly only: (consumer: string) => readonly string[] | null;
}

export interface PlanElements extends LineElements {
  /** By connection of the dividing side: its part of what passes the first one, if nothing is held up. */
  readonly shares: ReadonlyMap<string, Rational>;
}

export function planElements(plan: Plan, drawing: PlanGiven): PlanElements {
  const { id: line, prefix = "", belt, branch, back, head, consumers, only } = drawing;
  const named = (name: string): string => `${line}.${prefix}${name}`;
  const dividers: DividerElement[] = [];
  const connections: Connection[] = [];
  const gathered: Connection[] = [];
  const merges: MergeElement[] = [];
  const shares = new Map<string, Rational>();
  const leaves = new Map<number, number>();
  for (const target of targetsOf(plan)) leaves.set(target, (leaves.get(target) ?? 0) + 1);
  const drawn = new Map<number, number>();

  const add = (list: Connection[], name: string, share: Rational, rest: Omit<Connection, "id" | "line">): void => {
    const id = named(name);
    const before = shares.get(id);
    shares.set(id, (before ?? ZERO).add(share));
    if (before === undefined) list.push({ id, line, ...rest });
  };

  /** The last belt to a target, from a divider or from the target's merge. */
  const last = (list: Connection[], target: number, from: string, share: Rational): void => {
    const consumer = consumers[target];
    if (consumer === undefined) add(list, "return", share, { from, to: head.end, only: null, belt: back });
    else add(list, `branch-${target + 1}`, share, { from, to: consumer, only: only(consumer), belt: branch });
  };

  const leaf = (target: number, from: string, share: Rational): void => {
    if (leaves.get(target) === 1) {
      last(connections, target, from, share);
      return;
    }
    const consumer = consumers[target];
    const place = (drawn.get(target) ?? 0) + 1;
    drawn.set(target, place);
    const merge = named(consumer === undefined ? "gather" : `gather-${target + 1}`);
    if (place === 1) merges.push({ id: merge, line, rule: "even" });
    const name = consumer === undefined ? `spare-${place}` : `share-${target + 1}-${place}`;
    const kinds = consumer === undefined ? null : only(consumer);
    add(connections, name, share, { from, to: merge, only: kinds, belt: branch });
    last(gathered, target, merge, share);
  };

  const lead = (part: Plan, from: string, share: Rational): void => {
    if ("target" in part) {
      leaf(part.target, from, share);
      return;
    }
    const place = dividers.length + 1;
    const divider = named(`divider-${place}`);
    dividers.push({ id: divider, line, rule: "even" });
    const kinds = place === 1 ? head.only : kindsBelow(part, consumers, only);
    add(connections, `through-${place}`, share, { from, to: divider, only: kinds, belt });
    const each = share.div(whole(part.parts.length));
    for (const one of part.parts) lead(one, divider, each);
  };

  const [first = ""] = consumers;
  if ("target" in plan) add(connections, "through-1", ONE, { from: head.end, to: first, only: head.only, belt });
  else lead(plan, head.end, ONE);
  return {
    dividers,
    merges: [...head.merges, ...merges],
    connections: [...head.connections, ...connections, ...gathered, ...head.last],
    shares,
  };
}

/** What any of the consumers below takes; everything if one of them takes whatever comes, or something returns. */
function kindsBelow(
  plan: Plan,
  consumers: readonly string[],
  only: (consumer: string) => readonly string[] | null,
): readonly string[] | null {
  const kinds = new Set<string>();
  for (const target of targetsOf(plan)) {
    const consumer = consumers[target];
    const own = consumer === undefined ? null : only(consumer);
    if (own === null) return null;
    for (const item of own) kinds.add(item);
  }
  return [...kinds];
}
