/** Moments worth going to, from a result. */
import type { Result } from "../core.ts";

export interface Moment {
  readonly name: string;
  readonly minute: number;
  /** One of many of a kind, offered in a list. */
  readonly isOneOfMany: boolean;
}

export function momentsOf({ machines, settling, hold_up: holdUp }: Result): Moment[] {
  const main = (name: string, minute: number | null): Moment[] =>
    minute === null ? [] : [{ name, minute, isOneOfMany: false }];
  const from = settling.counted_from_min;
  const after = (minutes: number | null): number | null => (minutes === null ? null : from + minutes);
  const firsts = machines.flatMap(({ first_item_min: at }) => (at === null ? [] : [at]));
  const many = machines.flatMap(({ id, infeed }) =>
    infeed.flatMap(({ item, full_at_min: at }): Moment[] => {
      const name = infeed.length > 1 ? `${id}, ${item}: full` : `${id}: full`;
      return at === null ? [] : [{ name, minute: at, isOneOfMany: true }];
    }),
  );
  return [
    ...main("Start", 0),
    ...main("First item", firsts.length === 0 ? null : Math.min(...firsts)),
    ...main("First product", settling.first_product_min),
    ...main("95 %", after(settling.to_95_min)),
    ...main("Full output", after(settling.time_min)),
    ...main("Most on the line", holdUp.peak_at_min),
    ...many.sort((a, b) => a.minute - b.minute),
  ];
}

/** As much of a run as shows how it fills. */
export function rampUpMin({ settling, horizon_min: horizon }: Result): number {
  const settled = settling.time_min === null ? horizon : settling.counted_from_min + settling.time_min;
  return Math.min(horizon, Math.max(1, settled * 1.4));
}
