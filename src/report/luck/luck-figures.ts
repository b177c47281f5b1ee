/** The figures of a comparison on the same luck by name, and differences as cells and sentences have them. */

import type { Priority } from "../../study/layouts/layout-results.ts";
import type { LuckFigure, LuckFigureName, PairedFigure, SameLuck } from "../../study/luck-results.ts";
import { nameOf } from "../text/baseline.ts";
import { NONE } from "../text/cells.ts";
import { duration, items, number, rate, significant } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

export interface FigureWords {
  readonly name: string;
  readonly unit: string;
  /** "has the least ramp-up loss". */
  readonly leads: string;
  readonly beats: string;
  /** By how much it is ahead of another, which comes after: "loses 13 to 74 items fewer than". */
  readonly ahead: (least: string, most: string) => string;
  /** With its unit, for sentences; without, for tables. */
  readonly said: (value: number) => string;
  readonly cell: (value: number) => string;
}

export const FIGURES: Readonly<Record<LuckFigureName, FigureWords>> = {
  ramp_up_loss: {
    name: "ramp-up loss",
    unit: "items",
    leads: "loses least",
    beats: "loses less than",
    ahead: (least, most) => `loses ${least} to ${most} items fewer than`,
    said: (value) => (value < 0 ? `\u2212${items(-value)}` : items(value)),
    cell: (value) => number(value),
  },
  settled_output_per_min: {
    name: "settled output",
    unit: "items/min",
    leads: "makes most once settled",
    beats: "makes more than",
    ahead: (least, most) => `makes ${least} to ${most} items/min more than`,
    said: rate,
    cell: (value) => significant(value),
  },
  hold_up_settled: {
    name: "settled hold-up",
    unit: "items",
    leads: "holds least once settled",
    beats: "holds less than",
    ahead: (least, most) => `holds ${least} to ${most} items fewer than`,
    said: items,
    cell: (value) => number(value),
  },
  evenness_at_half_feed: {
    name: "evenness on half the feed",
    unit: "Jain's index",
    leads: "shares half the feed most evenly",
    beats: "shares more evenly than",
    ahead: (least, most) => `is ${least} to ${most} of Jain's index ahead of`,
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

/** The mean loss in minutes of output. */
export function lossMin({ times }: SameLuck, id: string): number | null {
  return times.find((one) => one.id === id)?.ramp_up_loss_min ?? null;
}

/** "likely 1039 items, 4.9 min of output (95 % interval 900 items to 1178 items)". */
export function lossOnLuck(luck: SameLuck, id: string): string {
  const value = figureOf(luck, "ramp_up_loss")?.variants.find((one) => one.id === id)?.value ?? null;
  if (value === null) return "not known";
  const { said } = FIGURES.ramp_up_loss;
  const minutes = lossMin(luck, id);
  const worth = minutes === null ? "" : `, ${duration(Math.abs(minutes))} of output`;
  const sure = value.ci95 === null ? "" : ` (95\u00a0% interval ${value.ci95.map(said).join(" to ")})`;
  const likely = value.mean < 0 ? `${items(-value.mean)} gained` : items(value.mean);
  return `likely ${likely}${worth}${sure}`;
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
