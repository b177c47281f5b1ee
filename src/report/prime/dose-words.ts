/** What a dose counts, in words. */
import type { DoseUnit } from "../../study/results.ts";
import { number } from "../text/figures.ts";

const COUNTED: Readonly<Record<DoseUnit["counts"], string>> = {
  "items-in-each": "items in every buffer",
  "full-from-tail": "full buffers from the tail",
  "seconds-held": "s held off",
  "seconds-between-starts": "s between starts",
  "per-cent-more-feed": "% more feed for",
  "items-of-room": "items of room in every buffer",
  "per-cent-over-need": "% over the need on every branch",
  "seconds-far-end-first": "s of serving the far end first",
  "per-cent-at-second-place": "% of the feed at a second place,",
};

/** Beside a figure, or by itself. */
export function unitText(unit: DoseUnit): string {
  const counted = COUNTED[unit.counts];
  return "for_min" in unit ? `${counted} ${unit.for_min} min` : counted;
}

/** "76 items in every buffer". */
export function doseText(dose: number, unit: DoseUnit): string {
  return `${number(dose, 3)}\u00a0${unitText(unit)}`;
}
