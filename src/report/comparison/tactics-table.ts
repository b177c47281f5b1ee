/** Tables of a comparison: a row for each tactic, what comes of it and what it does. */
import type { StartMoney, TacticResult } from "../../study/results.ts";
import { makesNothing, settlesCell } from "../text/baseline.ts";
import { settlingOrDash } from "../text/cells.ts";
import {
  count,
  difference,
  figure,
  flag,
  minutes,
  onlyIf,
  type StudyColumn,
  share,
  sum,
  text,
  texts,
} from "../text/study-table.ts";
import { askText, noteText, tacticText } from "../text/tactic-words.ts";

type Column = StudyColumn<TacticResult>;

/** Marked where it is not beaten. */
export const NAME: Column = text(({ id }) => id, {
  csv: "tactic",
  markdown: "tactic",
  terminal: ["  tactic", 99],
  mark: ({ undominated }) => (undominated ? "*" : " "),
});
export const CHOICE: Column = onlyIf(({ undominated }) => undominated, { markdown: "choice" });
export const BEATEN_BY: Column = text(({ beaten_by: by }) => by ?? "", { markdown: "beaten by" });
/** What only the report has room for beside luck. */
export const FIRST_AND_HELD: readonly Column[] = [
  minutes((tactic) => tactic.first_product_min, {
    csv: "first_product_min",
    markdown: "first product, min",
    terminal: ["first|product|min", 2],
  }),
  count((tactic) => tactic.hold_up_peak, {
    csv: "hold_up_peak_items",
    markdown: "peak hold-up, items",
    terminal: ["peak|hold-up|items", 6],
  }),
  count((tactic) => tactic.hold_up_settled, { csv: "hold_up_settled_items", markdown: "settled hold-up, items" }),
];

const SPANS = [
  { min: 10, key: "min_10", importance: 4 },
  { min: 30, key: "min_30", importance: 5 },
  { min: 60, key: "min_60", importance: 3 },
] as const;

interface Priced {
  readonly money?: StartMoney;
}

function moneyIn(starts: readonly Priced[]): StartMoney | undefined {
  return starts.flatMap(({ money }) => money ?? [])[0];
}

/** Beside nothing done, after hands, in the terminal; none where no costs are stated. */
export function savesColumns<Row extends Priced>(starts: readonly Row[]): StudyColumn<Row>[] {
  const money = moneyIn(starts);
  if (money === undefined) return [];
  const terminal = [["saves", money.currency, "a start"], 9.5] as const;
  return [sum(money)((one: Row) => one.money?.saved_per_start, { terminal })];
}

/** All of it, in reports and files. */
export function moneyColumns<Row extends Priced>(starts: readonly Row[]): StudyColumn<Row>[] {
  const money = moneyIn(starts);
  if (money === undefined) return [];
  const amount = sum(money);
  const { currency } = money;
  return [
    text((one: Row) => one.money?.currency ?? null, { csv: "currency" }),
    amount((one: Row) => one.money?.loss_per_start, { csv: "loss_per_start", markdown: `lost, ${currency}` }),
    amount((one: Row) => one.money?.hands_per_start, { csv: "hands_per_start", markdown: `hands, ${currency}` }),
    amount((one: Row) => one.money?.saved_per_start, {
      csv: "saved_per_start",
      markdown: `saved a start, ${currency}`,
    }),
    amount((one: Row) => one.money?.saved_per_year, { csv: "saved_per_year" }),
  ];
}

/** @param tactics of whose figures those are shown that any of them has */
export function tacticColumns(tactics: readonly TacticResult[]): Column[] {
  return [
    NAME,
    text(({ does }) => tacticText(does), { csv: "does" }),
    CHOICE,
    figure(settlesCell, {
      csv: "settling_min",
      markdown: "settles at, min",
      terminal: ["settles|at|min", 10],
      inFull: (one) => (one.stops_at_min === null ? settlingOrDash(one.settling_min, one.proved) : settlesCell(one)),
      value: (tactic) => tactic.settling_min,
    }),
    flag(({ proved }) => proved, { csv: "proved" }),
    minutes((tactic) => tactic.to_95_min, {
      csv: "to_95_min",
      markdown: "95 % at, min",
      // Where some stop, their cells leave no room for it beside whole names.
      ...(tactics.some(makesNothing) ? {} : { terminal: ["95 %|at|min", 7] }),
    }),
    count((tactic) => tactic.ramp_up_loss, {
      csv: "ramp_up_loss_items",
      markdown: "lost, items",
      terminal: ["lost|items", 9],
    }),
    count((tactic) => tactic.items_handled, {
      csv: "items_handled",
      markdown: "handled, items",
      terminal: ["handled|items", 8],
    }),
    minutes((tactic) => tactic.stops_at_min, { csv: "stops_at_min" }),
    ...FIRST_AND_HELD,
    minutes((tactic) => tactic.over_limit_min, {
      csv: "over_limit_min",
      markdown: "time over limit, min",
      terminal: ["over|limit|min", 6.5],
      ifKnown: true,
    }),
    count((tactic) => tactic.over_limit_items, {
      csv: "over_limit_items",
      markdown: "dwell over limit, items",
      terminal: ["too long|there|items", 6.4],
      ifKnown: true,
    }),
    ...SPANS.map(({ min, key }) => count(({ made }: TacticResult) => made[key], { csv: `made_in_${min}_min_items` })),
    ...SPANS.map(({ min, key }) => {
      return count(({ made_more: more }: TacticResult) => more[key], { csv: `made_more_in_${min}_min_items` });
    }),
    count((tactic) => tactic.over_limit_item_min, { csv: "over_limit_item_min" }),
    ...savesColumns(tactics),
    share((tactic) => tactic.reserve_kept, {
      csv: "reserve_kept",
      markdown: "reserve kept, %",
      terminal: ["reserve|kept|%", 7.5],
      ifKnown: true,
    }),
    minutes((tactic) => tactic.bridges_less_min, { csv: "bridges_less_min" }),
    count(({ made_while_stopped: { machine } }) => machine, {
      csv: "made_while_machine_stops_items",
      markdown: "made if a machine stops, items",
      terminal: ["machine|stops|makes", 6.2],
      ifKnown: true,
    }),
    count(({ made_while_stopped: { feeds } }) => feeds, {
      csv: "made_while_feed_stops_items",
      markdown: "made if the feed stops, items",
      terminal: ["feed|stops|makes", 6.3],
      ifKnown: true,
    }),
    ...SPANS.map(({ min, key, importance }) => {
      const terminal = [`more|in ${min}|min`, importance] as const;
      return difference(({ made_more: more }: TacticResult) => more[key], { terminal, ifKnown: true });
    }),
    texts(({ asks_for: asks }) => asks.map(askText), { csv: "asks_for" }),
    flag(({ granted }) => granted, { csv: "granted" }),
    texts(({ same_as: same }) => same, { csv: "same_as" }),
    flag((tactic) => tactic.slower_for_good, { csv: "slower_for_good" }),
    flag((tactic) => tactic.by_hand, { csv: "by_hand" }),
    flag(({ undominated }) => undominated, { csv: "undominated" }),
    text((tactic) => tactic.beaten_by, { csv: "beaten_by" }),
    texts(({ notes }) => notes.map(noteText), { csv: "notes" }),
    ...moneyColumns(tactics),
    BEATEN_BY,
  ];
}

/** What is made in the first minutes. */
export const MADE: readonly Column[] = [
  text(({ id }) => id, { markdown: "tactic" }),
  ...SPANS.flatMap(({ min, key }) => [
    count(({ made }: TacticResult) => made[key], { markdown: `in ${min} min, items`, ifKnown: true }),
    difference(({ made_more: more }: TacticResult) => more[key], {
      markdown: "more than without a tactic",
      value: ({ made }) => made[key],
      ifKnown: true,
    }),
  ]),
];

export const WHAT_EACH_DOES: readonly Column[] = [
  text(({ id }) => id, { markdown: "tactic" }),
  text(({ does }) => tacticText(does), { markdown: "does" }),
  texts(({ asks_for: asks }) => asks.map(askText), { markdown: "asks for" }),
  text(({ asks_for: asks, granted }) => (asks.length === 0 ? "" : granted ? "yes" : "no"), { markdown: "granted" }),
];
