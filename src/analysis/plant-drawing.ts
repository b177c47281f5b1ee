/** A plant as a drawing shows it: elements, the belts between them, and what passes in the long run. */
import type { Network } from "../network/network.ts";
import type { Exact, Result } from "./result.ts";

export interface PlantDrawing {
  readonly title: string;
  /** In the order of the network: feeds, surge buffers, merges, dividers, machines, outlets. */
  readonly elements: readonly DrawnElement[];
  readonly belts: readonly DrawnBelt[];
}

export interface DrawnElement {
  readonly id: string;
  readonly kind: "feed" | "surge" | "merge" | "divider" | "machine" | "outlet";
  /** `null` for feeds, outlets, and machines that no line reaches. */
  readonly line: string | null;
  /** What it feeds, takes or lets out in the long run; the exact one `null` where that is only measured. */
  readonly perMin: Exact | null;
  readonly measuredPerMin: number | null;
  /** Of a machine: its need, and its part of all that the machines of its line take. */
  readonly needsPerMin: Exact | null;
  readonly share: Exact | null;
}

export interface DrawnBelt {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  /** What it could carry; `null` for a direct hand-over. */
  readonly ratePerMin: Exact | null;
  readonly flowPerMin: Exact | null;
  readonly measuredPerMin: number | null;
  /** Whether it leads back to an element before it. */
  readonly returns: boolean;
}

/** What passes each element and belt when all has settled. */
export type DrawingOf = (network: Network, result: Result) => PlantDrawing;
