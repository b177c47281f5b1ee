/** The figures of a comparison on the same luck by name, and differences as cells and sentences have them. */

import type { Priority } from "../../study/layout-results.ts";
import type { LuckFigure, LuckFigureName, PairedFigure, SameLuck } from "../../study/luck/luck-results.ts";
import { NONE } from "../cells.ts";
import { nameOf } from "../comparison/baseline.ts";
import { items, number, rate, significant } from "../figures.ts";
import { oneLine } from "../text-width.ts";

export interface FigureWords {
  readonly name: string;
  readonly unit: string;
  /** "has the least ramp-up loss". */
  readonly leads: string;
  /** With its unit, for sentences; without, for tables. */
  readonly said: (value: number) => string;
  readonly cell: (value: number) => string;
}

export const FIGURES: Readonly<Record<LuckFigureName, FigureWords>> = {
  ramp_up_loss: {
    name: "ramp-up loss",
    unit: "items",
    leads: "loses least",
    said: (value) => (value < 0 ? `\u2212${items(-value)}` : items(value)),
    cell: (value) => number(value),
  },
  settled_output_per_min: {
    name: "settled output",
    unit: "items/min",
    leads: "makes most once settled",
    said: rate,
    cell: (value) => significant(value),
  },
  hold_up_settled: {
    name: "settled hold-up",
    unit: "items",
    leads: "holds least once settled",
    said: items,
    cell: (value) => number(value),
  },
  evenness_at_half_feed: {
    name: "evenness on half the feed",
    unit: "Jain's index",
    leads: "shares half the feed most evenly",
    said: (value) => number(value, 3),
    cell: (value) => number(value, 3),
  },
};

export function figureOf({ figures }: SameLuck, name: LuckFigureName): LuckFigure | undefined {
  return figures.find(({ figure }) => figure === name);
}

/** What the pictures of layouts show: what is wanted first, or the loss where chance does not move that. */
export function figureWanted(priority: Priority): LuckFigureName {
  return priority === "even" ? "evenness_at_half_feed" : "ramp_up_loss";
}

export function halfWidth({ interval: [low, high] }: PairedFigure): number {
  return (high - low) / 2;
}

/** "−312 ± 40", in the figure's unit; with "?" where it is not told apart. */
export function differenceCell(paired: PairedFigure | null, { cell }: FigureWords): string {
  if (paired === null) return NONE;
  const { mean, told } = paired;
  const sign = mean > 0 && cell(mean) !== "0" ? "+" : "";
  return `${sign}${cell(mean)} \u00b1 ${cell(halfWidth(paired))}${told === null ? " ?" : ""}`;
}

/** As far as three names or so, so that a sentence stays one. */
export function others(ids: readonly string[]): string[] {
  return ids.map((id) => nameOf(oneLine(id)));
}
