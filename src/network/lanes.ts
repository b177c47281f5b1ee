/**
 * Lanes: m that come in, of any rates, evened out over n that go out. Each incoming lane is parted evenly, by a tree of
 * dividers or, where dividers cannot make n parts, by a return loop of its own; each outgoing lane gathers its part of
 * every lane in one even merge, so that it has exactly the n-th part of all.
 *
 *     lane-1-through-1 ─ lane-1-divider-1 ── cross-1-1 ── gather-1 ─ out-1 ─ [1]
 *                                      └──── cross-1-2 ─┐    │
 *                                      ┌──── cross-2-1 ─│────┘
 *     lane-2-through-1 ─ lane-2-divider-1 ── cross-2-2 ── gather-2 ─ out-2 ─ [2]
 *
 * Where n is a product of the dividers' ways and a belt across carries more than a whole lane, that passes all that comes in
 * or all that the outgoing lanes can take, whichever is less: a divider passes over an outlet that cannot take, so that an
 * incoming lane is held up only while every belt across from it is full, and then every outgoing lane is full. Were there
 * more to pass, some lane would be held up and some outgoing lane not full (the least cut of such a network is one of its
 * two sides: L. Ford, D. Fulkerson, "Maximal flow through a network", Canadian Journal of Mathematics 8, 1956; from memory). A
 * loop that cannot get rid of its parts sends more and more of them back instead, through a first stretch that has its limit.
 */
import type { BeltOrNone, LanesLine } from "../scenario/scenario.ts";
import { type Head, headOf, kindsCarried, kindsTaken, membersOf, type Plant } from "./collect.ts";
import { type Fewest, fewestFor } from "./fewest.ts";
import type { Connection, LineElements, MergeElement } from "./network.ts";
import { type PlanElements, planElements } from "./plan-elements.ts";
import { MOST_LEAVES } from "./shared-line.ts";
import { type Shares, sharesOfCounts } from "./shares.ts";

export type Lanes =
  | {
      readonly ok: true;
      readonly kinds: ReadonlySet<string>;
      readonly sources: readonly string[];
      readonly consumers: readonly string[];
      /** Of each incoming lane: one part for each outgoing lane. */
      readonly shares: Shares;
      readonly fewest: Fewest;
    }
  | { readonly ok: false; readonly why: "kinds"; readonly kinds: readonly string[] }
  | { readonly ok: false; readonly why: "no-need"; readonly consumer: string; readonly kinds: readonly string[] }
  | { readonly ok: false; readonly why: "too-many"; readonly parts: number; readonly limit: number };

export function lanesOf(line: LanesLine, plant: Plant): Lanes {
  const kinds = kindsCarried({ ...line, end: { kind: "stop" } }, plant);
  if (kinds.size > 1) return { ok: false, why: "kinds", kinds: [...kinds] };
  const consumers = membersOf(line.to, plant);
  const without = consumers.find((consumer) => !kindsTaken(consumer, plant).some((kind) => kinds.has(kind)));
  if (without !== undefined) return { ok: false, why: "no-need", consumer: without, kinds: [...kinds] };
  const shares = sharesOfCounts(
    consumers.map(() => 1),
    line.ways,
  );
  if (shares.parts > MOST_LEAVES) return { ok: false, why: "too-many", parts: shares.parts, limit: MOST_LEAVES };
  const fewest = fewestFor(shares, line.ways);
  return { ok: true, kinds, sources: membersOf(line.from, plant), consumers, shares, fewest };
}

/** A line that cannot be drawn up has no elements; `inspect` says why. */
export function expandLanes(line: LanesLine, plant: Plant): LineElements {
  const lanes = lanesOf(line, plant);
  if (!lanes.ok) return { dividers: [], merges: [], connections: [] };
  const { shares: _, ...elements } = lanesElements(line, lanes, plant);
  return elements;
}

/** The shares are by connection of an incoming lane: its part of what passes the lane's first stretch. */
export function lanesElements(line: LanesLine, lanes: Extract<Lanes, { ok: true }>, plant: Plant): PlanElements {
  const { sources, consumers } = lanes;
  const isOne = sources.length === 1;
  const parts = sources.map((_, index) => laneElements(line, lanes, index, plant));
  const merges = isOne ? [] : consumers.map((_, index): MergeElement => gatherOf(line, index));
  const out = isOne ? [] : consumers.map((consumer, index) => outOf(line, gatherOf(line, index).id, index, consumer));
  return {
    dividers: parts.flatMap(({ dividers }) => dividers),
    merges: [...parts.flatMap((part) => part.merges), ...merges],
    connections: [...parts.flatMap(({ connections }) => connections), ...out],
    shares: new Map(parts.flatMap(({ shares }) => [...shares])),
  };
}

function gatherOf({ id }: LanesLine, outgoing: number): MergeElement {
  return { id: `${id}.gather-${outgoing + 1}`, line: id, rule: "even" };
}

function outOf({ id, belt }: LanesLine, from: string, outgoing: number, to: string): Connection {
  return { id: `${id}.out-${outgoing + 1}`, line: id, from, to, only: null, belt };
}

/** An incoming lane as a line of its own that shares out to the merges, or a single one to the consumers. */
function laneElements(line: LanesLine, lanes: Extract<Lanes, { ok: true }>, index: number, plant: Plant): PlanElements {
  const isOne = lanes.sources.length === 1;
  const id = `${line.id}.lane-${index + 1}`;
  const back = lanes.shares.parts > lanes.shares.total ? line.return : null;
  const drawn = planElements(lanes.fewest.plan, {
    id,
    belt: line.belt,
    branch: line.branch,
    back,
    head: headOfLane(line, id, lanes.sources[index] ?? "", back, plant),
    consumers: isOne ? lanes.consumers : lanes.consumers.map((_, outgoing) => gatherOf(line, outgoing).id),
    only: () => null,
  });
  return renamed(drawn, line, index + 1, isOne);
}

function headOfLane(line: LanesLine, id: string, source: string, back: BeltOrNone, plant: Plant): Head {
  return headOf(
    {
      id,
      from: [source],
      to: line.to,
      branch: line.belt,
      collect: line.belt,
      merges: "even",
      end: back === null ? { kind: "stop" } : { kind: "return", belt: back },
    },
    plant,
  );
}

/** `main.lane-1.divider-1` becomes `main.lane-1-divider-1`, and the branch to the second outgoing lane `main.cross-1-2`. */
function renamed(drawn: PlanElements, { id: line, belt }: LanesLine, lane: number, isOne: boolean): PlanElements {
  const own = `${line}.lane-${lane}.`;
  const nameOf = (id: string): string => {
    if (!id.startsWith(own)) return id;
    const name = id.slice(own.length);
    const across = isOne ? `${line}.out-` : `${line}.cross-${lane}-`;
    return name.startsWith("branch-") ? name.replace("branch-", across) : `${line}.lane-${lane}-${name}`;
  };
  const element = <T extends { readonly id: string }>(one: T) => ({ ...one, id: nameOf(one.id), line });
  return {
    dividers: drawn.dividers.map(element),
    merges: drawn.merges.map(element),
    connections: drawn.connections.map((one) => {
      const connection = { ...element(one), from: nameOf(one.from), to: nameOf(one.to) };
      return connection.id.startsWith(`${line}.out-`) ? { ...connection, belt } : connection;
    }),
    shares: new Map([...drawn.shares].map(([id, share]) => [nameOf(id), share])),
  };
}
