/** A custom line names its dividers, merges and belts one by one; expanding it only qualifies their names. */
import type { CustomLine } from "../scenario/scenario.ts";
import type { LineElements } from "./network.ts";

export function expandCustom(line: CustomLine): LineElements {
  const own = new Set([...line.dividers, ...line.merges].map(({ id }) => id));
  const qualified = (id: string): string => (own.has(id) ? `${line.id}.${id}` : id);
  return {
    dividers: line.dividers.map((one) => ({ ...one, id: qualified(one.id), line: line.id })),
    merges: line.merges.map(({ id, rule }) => ({ id: qualified(id), line: line.id, rule })),
    connections: line.belts.map(({ id, from, to, only, belt }) => ({
      id: `${line.id}.${id}`,
      line: line.id,
      from: qualified(from),
      to: qualified(to),
      only,
      belt,
    })),
  };
}
