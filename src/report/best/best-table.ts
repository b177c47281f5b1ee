/** Tables of the best starts: a row for each, one for each under chance, and one for each number of buffers filled. */
import type { Arrangement, BestStart, BestStudy, LuckyStart, PlacedResult } from "../../study/best/best-results.ts";
import { moneyColumns, savesColumns } from "../comparison/tactics-table.ts";
import { count, flag, minutes, type StudyColumn, share, text } from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { oneLine, shorten } from "../text/text-width.ts";

/** Shared by both. */
const LOST: StudyColumn<LuckyStart | BestStart> = count(({ ramp_up_loss: loss }) => loss, {
  markdown: "lost, items",
  terminal: ["lost|items", 10],
});
const TO_95: StudyColumn<LuckyStart | BestStart> = minutes(({ to_95_min: at }) => at, {
  markdown: "95 % at, min",
  terminal: ["95 %|at|min", 9],
});

export function startColumns({ starts, recommended }: BestStudy): StudyColumn<BestStart>[] {
  return [
    text(({ id }) => id, {
      markdown: "start",
      terminal: ["  start", 99],
      mark: ({ id }) => (id === recommended ? ">" : " "),
      isStrong: ({ id }) => id === recommended,
    }),
    LOST,
    TO_95,
    minutes((one) => one.settling_min, { markdown: "full output at, min", terminal: ["full|at|min", 7] }),
    count((one) => one.items_handled, { markdown: "handled, items", terminal: ["handled|items", 8] }),
    count((one) => one.hold_up_peak, { markdown: "peak hold-up, items" }),
    ...savesColumns(starts),
    share((one) => one.reserve_kept, { markdown: "reserve kept, %", terminal: ["reserve|kept|%", 6] }),
    ...moneyColumns(starts),
    text(({ placed }) => placed.map(({ machine, items }) => `${machine} ${items}`).join(", "), { markdown: "placed" }),
    text((one) => one.one_less?.what ?? "", { markdown: "one step less" }),
    count((one) => one.one_less?.ramp_up_loss ?? null, {
      markdown: "then lost, items",
      terminal: ["one|less|lost", 5],
    }),
  ];
}

const MOST_WHAT = 24;

/** Where a terminal has room for it. */
export const WHAT: StudyColumn<BestStart> = text(({ does }) => shorten(oneLine(tacticText(does)), MOST_WHAT), {
  terminal: ["what", 4],
});

export const UNDER_CHANCE: readonly StudyColumn<LuckyStart>[] = [
  text(({ id }) => id, { markdown: "start" }),
  LOST,
  TO_95,
  text((one) => (one.makes_less ? "likely" : ""), { markdown: "makes less for good" }),
];

const WAYS = ["best", "head", "tail", "even"] as const;
const SHOWN: Readonly<Record<(typeof WAYS)[number], string>> = {
  best: "full output at, min",
  head: "from the head",
  tail: "from the tail",
  even: "spread evenly",
};

/** The best placement beside the naive ones. */
export const PLACEMENTS: readonly StudyColumn<PlacedResult>[] = [
  count(({ buffers }) => buffers, { csv: "buffers", markdown: "buffers" }),
  count(({ best }) => best.items, { markdown: "items" }),
  text(({ best }) => best.placed.map(({ machine }) => machine).join(", "), {
    csv: "machines",
    markdown: "best at",
    value: ({ best }) => best.placed.map(({ machine }) => machine).join(" "),
  }),
  ...WAYS.flatMap((way) => {
    const of = (figure: (one: Arrangement) => number | null) => (row: PlacedResult) => row[way] && figure(row[way]);
    return [
      count(
        of(({ items }) => items),
        { csv: `${way}_items` },
      ),
      minutes(
        of((one) => one.settling_min),
        { csv: `${way}_settling_min`, markdown: SHOWN[way] },
      ),
      minutes(
        of((one) => one.to_95_min),
        { csv: `${way}_to_95_min` },
      ),
      count(
        of((one) => one.ramp_up_loss),
        { csv: `${way}_ramp_up_loss_items` },
      ),
    ];
  }),
  text(
    (one) => (one.is_complete ? "all tried" : one.is_proved ? "no buffer moved is better" : "not all beside it tried"),
    {
      markdown: "how sure",
    },
  ),
  flag((one) => one.is_complete, { csv: "all_tried" }),
  flag((one) => one.is_proved, { csv: "proved" }),
];
