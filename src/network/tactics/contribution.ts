/** What the parts of a tactic contribute. */
import type { Rational } from "../../quantity/rational.ts";
import type { Among } from "../../scenario/tactic-shapes.ts";
import type { Network } from "../network.ts";
import type { Intervention, Priming } from "../priming.ts";

/** Machines of each line in feeding order. */
export type Order = readonly (readonly string[])[];

export interface Primed {
  readonly network: Network;
  readonly priming: Priming;
  /** Items that hands place before the start. */
  readonly placed: number;
  /** How long hands delay the start. */
  readonly startsAfterMin: Rational;
  readonly notes: readonly TacticNote[];
}

/** What could not be done as stated. */
export type TacticNote =
  | { readonly note: "boost-limited"; readonly belt: string; readonly factor: Rational }
  | { readonly note: "not-metered"; readonly branch: string }
  | { readonly note: "no-even-divider" }
  | { readonly note: "no-second-feed"; readonly machine: string };

/** A part's contribution; each is given the network as the parts before have left it. */
export interface Part {
  readonly network?: Network;
  readonly stock?: Priming["stock"];
  readonly loaded?: Priming["loaded"];
  readonly interventions?: readonly Intervention[];
  readonly placed?: number;
  readonly startsAfterMin?: Rational;
  readonly notes?: readonly TacticNote[];
}

export function chosenFrom(order: Order, among: Among): string[] {
  switch (among.which) {
    case "all":
      return order.flat();
    case "first":
      return order.flatMap((machines) => machines.slice(0, among.count));
    case "last":
      return order.flatMap((machines) => machines.slice(-among.count));
  }
}
