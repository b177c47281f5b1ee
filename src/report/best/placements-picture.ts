/** Full output over the number of items placed: where it helps most, beside where one would put them without looking. */
import type { Arrangement, BestStudy, PlacedResult } from "../../study/best/best-results.ts";
import { curvesPicture } from "../chart/curves.ts";
import { acrossAxis, type Picture } from "../chart/frame.ts";
import { BASELINE } from "../text/baseline.ts";
import { plain } from "../text/figures.ts";
import { gainingMost, placedText } from "./best-answer.ts";

interface Point {
  readonly items: number;
  readonly isProved: boolean;
  readonly of: (way: Way) => number | null;
}

type Way = keyof Pick<PlacedResult, "best" | "head" | "tail" | "even">;

/** Where buffers take unlike numbers, more of them may hold as many items. */
function byItems(placements: readonly PlacedResult[]): Map<number, PlacedResult[]> {
  const found = new Map<number, PlacedResult[]>();
  for (const one of placements) found.set(one.best.items, [...(found.get(one.best.items) ?? []), one]);
  return new Map([...found].toSorted(([a], [b]) => a - b));
}

function leastOf(minutes: readonly (number | null)[]): number | null {
  const known = minutes.filter((one) => one !== null);
  return known.length === 0 ? null : Math.min(...known);
}

export function placementsPicture({ title, placements, starts }: BestStudy): Picture | null {
  const all = placements ?? [];
  if (all.length === 0) return null;
  const none = starts.find(({ id }) => id === BASELINE)?.settling_min ?? null;
  const most = gainingMost(all);
  const settling = (one: Arrangement | null): number | null => one?.settling_min ?? null;
  const points: Point[] = [
    { items: 0, isProved: true, of: () => none },
    ...[...byItems(all)].map(([items, alike]) => ({
      items,
      isProved: alike.every((one) => one.is_complete || one.is_proved),
      of: (way: Way) => leastOf(alike.map((one) => settling(one[way]))),
    })),
  ];
  return curvesPicture({
    shown: "Full output over the number of items placed",
    scenarioTitle: title,
    finding: plain(most === null ? "No placement is better than what is naive." : `${placedText(most)}.`),
    x: acrossAxis("items placed before the start", points.at(-1)?.items ?? 1, 0, true),
    y: "full output from, minutes",
    unit: " min",
    decimals: 1,
    curves: [
      { name: "best", of: (point) => point.of("best") },
      { name: "from the head", of: (point) => point.of("head") },
      { name: "from the tail", of: (point) => point.of("tail") },
      { name: "spread evenly", of: (point) => point.of("even") },
    ],
    points,
    at: ({ items }) => items,
    isProved: ({ isProved }) => isProved,
    marks: [],
    joined: true,
    isNear: true,
  });
}
