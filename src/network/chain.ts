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
import type { ChainLine, Rule } from "../scenario/scenario.ts";
import { type Head, headOf, kindsCarried, kindsTaken, membersOf, type Plant } from "./collect.ts";
import type { Connection, DividerElement, LineElements } from "./network.ts";

export function expandChain(line: ChainLine, plant: Plant): LineElements {
  const consumers = membersOf(line.to, plant);
  const head = headOf(line, plant);
  const rule: Rule = line.dividers === "even" ? "even" : "ordered";
  const only = branchKinds(line, plant);
  const dividerAt = (place: number): string => `${line.id}.divider-${place}`;
  const divided = line.end.kind === "stop" ? consumers.slice(0, -1) : consumers;
  const farEnd = endOf(line, head, consumers, plant);
  const through = (place: number, from: string, kinds: readonly string[] | null = null): Connection =>
    place > divided.length
      ? { ...farEnd, line: line.id, from, only: farEnd.only ?? kinds }
      : {
          id: `${line.id}.through-${place}`,
          line: line.id,
          from,
          to: dividerAt(place),
          only: kinds,
          belt: line.belt,
        };
  const branch = (place: number, to: string): Connection => ({
    id: `${line.id}.branch-${place}`,
    line: line.id,
    from: dividerAt(place),
    to,
    only: only(to),
    belt: line.branch,
  });

  const dividers: DividerElement[] = [];
  const connections: Connection[] = [...head.connections, through(1, head.end, head.only)];
  divided.forEach((consumer, index) => {
    const place = index + 1;
    const outlets = [branch(place, consumer), through(place + 1, dividerAt(place))];
    const isLast = place === consumers.length;
    dividers.push({ id: dividerAt(place), line: line.id, rule: isLast ? "ordered" : rule });
    connections.push(...(line.dividers === "through-first" && !isLast ? outlets.reverse() : outlets));
  });
  return { dividers, merges: head.merges, connections: [...connections, ...head.last] };
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
