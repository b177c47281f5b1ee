/** What a part of a tactic gives an operator to do, and when. */
import type { Network } from "../network/network.ts";
import type { Order } from "../network/tactics/contribution.ts";
import { approximate, type Rational } from "../quantity/rational.ts";

export interface Steps<Deed> {
  readonly before?: readonly Step<Deed>[];
  readonly atStart?: Deed;
  readonly later?: readonly Later<Deed>[];
}

export interface Step<Deed> {
  readonly when: CardTime;
  readonly what: Deed;
}

export type CardTime =
  | "before"
  | "before-shift"
  | "while-waiting"
  | "beside-line"
  | "start"
  | "own-full"
  | "all-full"
  | "tail-full"
  | { readonly afterMin: Rational };

interface Later<Deed> {
  /** What waits for something to happen comes last. */
  readonly afterMin: number;
  readonly step: Step<Deed>;
}

/** What they are made of. */
export interface Carded {
  readonly network: Network;
  readonly order: Order;
  readonly placed: readonly PlacedAt[];
}

export interface PlacedAt {
  readonly machine: string;
  readonly items: number;
}

export function after<Deed>(afterMin: Rational, what: Deed): Later<Deed> {
  return { afterMin: approximate(afterMin), step: { when: { afterMin }, what } };
}

export function once<Deed>(when: CardTime, what: Deed): Later<Deed> {
  return { afterMin: Infinity, step: { when, what } };
}
