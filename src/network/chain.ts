/**
 * The chain: one through belt passes the consumers one after another, and a divider before each turns part of the flow
 * aside. The last one needs no divider; the end of the through belt feeds it directly.
 *
 *     feed ─ through-1 ─ divider-1 ─ through-2 ─ divider-2 ─ through-3 ─┐
 *                            └ branch-1 ─ [1]        └ branch-2 ─ [2]   [3]
 *
 * Where what nobody wanted leaves at the far end or goes back to the head, the last consumer has a divider too, whatever the
 * others do an ordered one: only what the consumer does not take goes on.
 */
import { type Rational, sum } from "../quantity/rational.ts";
import type { BeltOrNone, ChainLine } from "../scenario/scenario.ts";
import { type Head, headOf, kindsCarried, kindsTaken, membersOf, type Plant } from "./collect.ts";
import { needsFor } from "./needs.ts";
import type { Connection, DividerElement, LineElements, MergeElement } from "./network.ts";
import { wholeWeights } from "./turns.ts";

export function expandChain(line: ChainLine, plant: Plant): LineElements {
  const { id } = line;
  const consumers = membersOf(line.to, plant);
  const head = headOf(line, plant);
  const only = branchKinds(line, plant);
  const spills = line.end.kind !== "stop";
  const chain = chainElements({
    ...line,
    head,
    aside: (spills ? consumers : consumers.slice(0, -1)).map((consumer, index) =>
      beltTo({ id: `${id}.branch-${index + 1}`, line: id, to: consumer, only: only(consumer), belt: line.branch }),
    ),
    farEnd: beltTo({ line: id, ...endOf(line, head, consumers, plant) }),
    spills,
    needs: line.dividers === "weighted" ? needsOf(line, consumers, plant) : [],
  });
  return { ...chain, connections: [...head.connections, ...chain.connections, ...head.last] };
}

/** What is drawn where a stretch begins, and the kinds that it lets in. */
export type ElementsFrom = (start: Pick<Connection, "from" | "only">) => LineElements;

/** A belt alone; it lets in what is said of it, or else what may come. */
export function beltTo(connection: Omit<Connection, "from">): ElementsFrom {
  return ({ from, only }) => ({
    dividers: [],
    merges: [],
    connections: [{ ...connection, from, only: connection.only ?? only }],
  });
}

export interface ChainGiven extends Pick<ChainLine, "id" | "dividers"> {
  /** Before the name of each element, for one of several chains on a line, such as `chain-2-`. */
  readonly prefix?: string;
  readonly belt: BeltOrNone;
  readonly head: Pick<Head, "end" | "only" | "merges">;
  /** What each divider turns aside, in order. */
  readonly aside: readonly ElementsFrom[];
  /** What follows the last divider, or the head where there is none. */
  readonly farEnd: ElementsFrom;
  /** Whether only what the last divider cannot turn aside goes on. */
  readonly spills?: boolean;
  /** Of what each divider turns aside, and of the far end: weighted dividers share by them. */
  readonly needs?: readonly Rational[];
}

/** The through belt with its dividers, what each turns aside, and the far end; of the head, its merges. */
export function chainElements(drawing: ChainGiven): LineElements {
  const { id: line, prefix = "", belt, head, aside, farEnd, spills = false, needs = [] } = drawing;
  const dividerAt = (place: number): string => `${line}.${prefix}divider-${place}`;
  const through = (place: number): ElementsFrom =>
    place > aside.length
      ? farEnd
      : beltTo({ id: `${line}.${prefix}through-${place}`, line, to: dividerAt(place), only: null, belt });
  const first = through(1)({ from: head.end, only: head.only });
  const dividers: DividerElement[] = [...first.dividers];
  const merges: MergeElement[] = [...head.merges, ...first.merges];
  const connections: Connection[] = [...first.connections];
  for (const [index, turned] of aside.entries()) {
    const start = { from: dividerAt(index + 1), only: null };
    const serving = spills && index === aside.length - 1 ? "branch-first" : drawing.dividers;
    const [branch, onward] = [turned(start), through(index + 2)(start)];
    const outlets = serving === "through-first" ? [onward, branch] : [branch, onward];
    const weights =
      serving === "weighted" ? wholeWeights([needs.slice(index, index + 1), needs.slice(index + 1)].map(sum)) : null;
    const takesTurns = serving === "even" || serving === "weighted";
    const rule = takesTurns ? "even" : "ordered";
    dividers.push(weights === null ? { id: start.from, line, rule } : { id: start.from, line, rule, weights });
    dividers.push(...branch.dividers, ...onward.dividers);
    merges.push(...branch.merges, ...onward.merges);
    connections.push(...outlets.flatMap((outlet) => outlet.connections));
  }
  return { dividers, merges, connections };
}

/** Of what the line carries, by consumer; an outlet among machines has none. */
export function needsOf(
  line: Pick<ChainLine, "from" | "to" | "end">,
  consumers: readonly string[],
  plant: Plant,
): Rational[] {
  const kinds = [...kindsCarried(line, plant)];
  return needsFor(consumers, kinds, plant);
}

/** The through belt's last stretch; to an outlet it lets in only what the outlet takes. */
function endOf(
  line: ChainLine,
  head: Head,
  consumers: readonly string[],
  plant: Plant,
): Pick<Connection, "id" | "to" | "only" | "belt"> {
  switch (line.end.kind) {
    case "stop":
      return { id: `${line.id}.through-${consumers.length}`, to: consumers.at(-1) ?? "", only: null, belt: line.belt };
    case "outlet": {
      const { outlet } = line.end;
      const only = kindsCarried(line, plant).size < 2 ? null : kindsTaken(outlet, plant);
      return { id: `${line.id}.through-${consumers.length + 1}`, to: outlet, only, belt: line.belt };
    }
    case "return":
      return { id: `${line.id}.return`, to: head.end, only: null, belt: line.end.belt };
  }
}

/** Where a line carries several kinds, a branch lets in what its consumer takes; else it needs no restriction. */
export function branchKinds(
  line: Pick<ChainLine, "from" | "to" | "end">,
  plant: Plant,
): (consumer: string) => readonly string[] | null {
  const carried = kindsCarried(line, plant);
  return (consumer) => (carried.size < 2 ? null : kindsTaken(consumer, plant));
}
