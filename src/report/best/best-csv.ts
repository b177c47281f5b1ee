/** placements.csv: a row for each number of buffers filled, the best placement beside the naive ones. */
import type { Arrangement, PlacedResult } from "../../study/best/best-results.ts";
import { type Cell, csv, yesNo } from "../text/csv.ts";

const WAYS = ["best", "head", "tail", "even"] as const;
const FIGURES: readonly { readonly name: string; readonly of: (one: Arrangement) => Cell }[] = [
  { name: "items", of: ({ items }) => items },
  { name: "settling_min", of: (one) => one.settling_min },
  { name: "to_95_min", of: (one) => one.to_95_min },
  { name: "ramp_up_loss_items", of: (one) => one.ramp_up_loss },
];

export function placementsCsv(placements: readonly PlacedResult[]): string {
  return csv([
    [
      "buffers",
      "machines",
      ...WAYS.flatMap((way) => FIGURES.map(({ name }) => `${way}_${name}`)),
      "all_tried",
      "proved",
    ],
    ...placements.map((one) => [
      one.buffers,
      one.best.placed.map(({ machine }) => machine).join(" "),
      ...WAYS.flatMap((way) => FIGURES.map(({ of }) => (one[way] === null ? null : of(one[way])))),
      yesNo(one.is_complete),
      yesNo(one.is_proved),
    ]),
  ]);
}
