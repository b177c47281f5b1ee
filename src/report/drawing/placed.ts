/** A drawing of which every element and belt has its place. */

import type { Direction } from "./element-sizes.ts";
import type { Box, Point } from "./primitives.ts";

export interface Placement {
  readonly width: number;
  readonly height: number;
  readonly direction: Direction;
  readonly elements: ReadonlyMap<string, Box>;
  readonly belts: ReadonlyMap<string, PlacedBelt>;
}

export interface PlacedBelt {
  readonly from: string;
  readonly to: string;
  /** From one element to the other, each stretch upright or level. */
  readonly points: readonly Point[];
  /** Where its text stands, in its course; `null` where it has none. */
  readonly label: Box | null;
}

/** To half a pixel, so that it is written shortly. */
export function half(value: number): number {
  return Math.round(value * 2) / 2;
}
