/** The table of a study of short feeds: a row for each level and variant. */
import type { LevelResult, Shortage } from "../../study/shortage/shortage-results.ts";
import { minutesOrDash, NONE, rateOrDash, settlingOrDash } from "../text/cells.ts";
import { approximately, listedShort, percent, percentCell } from "../text/figures.ts";
import { count, flag, index, minutes, quantity, rate, type StudyColumn, share, text } from "../text/study-table.ts";
import { jainOf, levelText, settledOf, settlesCell, shareOf, variantName } from "./shortage-figures.ts";

export interface LevelRow {
  readonly level: string;
  readonly idealPerMin: number | null;
  readonly result: LevelResult;
  /** Of its level. */
  readonly isFirst: boolean;
}

/** @param most levels */
export function levelRows({ levels }: Shortage, most = Infinity): LevelRow[] {
  return levels
    .slice(0, most)
    .flatMap(({ level, ideal_per_min: idealPerMin, variants }) =>
      variants.map((result, v) => ({ level, idealPerMin, result, isFirst: v === 0 })),
    );
}

function levelCell(level: string): string {
  return percentCell(approximately(level));
}

function fullyOf({ machines }: LevelResult): number {
  return machines.filter((machine) => shareOf(machine) >= 0.999).length;
}

function leastOf({ machines }: LevelResult): number {
  return Math.min(1, ...machines.map(shareOf));
}

export function shortageColumns({ levels }: Shortage): StudyColumn<LevelRow>[] {
  const machines = levels[0]?.variants[0]?.machines.map(({ id }) => id) ?? [];
  return [
    quantity(({ level, isFirst }) => (isFirst ? levelCell(level) : ""), {
      csv: "feed_share",
      markdown: "feed",
      terminal: ["feed|%", 99],
      inFull: ({ level }) => levelText(level),
      value: ({ level }) => approximately(level),
    }),
    text(({ result }) => variantName(result.id), {
      csv: "variant",
      markdown: "variant",
      terminal: ["variant", 98],
      value: ({ result }) => result.id,
    }),
    rate(({ idealPerMin }) => idealPerMin, { csv: "ideal_items_per_min", markdown: "in proportion, items/min" }),
    rate(({ result }) => settledOf(result), {
      csv: "settled_items_per_min",
      markdown: "settled, items/min",
      terminal: ["settled|/min", 10],
      inFull: ({ result }) => `${rateOrDash(settledOf(result))}${result.basis === "measured" ? " (measured)" : ""}`,
    }),
    text(({ result }) => result.basis, { csv: "basis" }),
    share(({ result }) => result.share_of_full, {
      csv: "share_of_full",
      markdown: "of full output",
      inFull: ({ result }) => percent(result.share_of_full),
    }),
    rate(({ result }) => result.fluctuation.low_per_min, {
      csv: "low_items_per_min",
      markdown: "low, items/min",
      terminal: ["low|/min", 5],
    }),
    rate(({ result }) => result.fluctuation.high_per_min, {
      csv: "high_items_per_min",
      markdown: "high, items/min",
      terminal: ["high|/min", 5],
    }),
    minutes(({ result }) => result.fluctuation.period_min, {
      csv: "period_min",
      markdown: "period, min",
      terminal: ["period|min", 2],
    }),
    flag(({ result }) => result.fluctuation.swings, { csv: "swings", markdown: "swings" }),
    index(({ result }) => jainOf(result), {
      csv: "jain_index",
      markdown: "Jain's index",
      terminal: ["Jain's|index", 9],
    }),
    text(({ result }) => result.jain_line, { csv: "jain_line" }),
    count(({ result }) => fullyOf(result), { terminal: ["fully", 8] }),
    share(({ result }) => leastOf(result), { terminal: ["least|%", 7] }),
    text(({ result }) => starving(result), {
      csv: "starving_machines",
      markdown: "starving",
      value: ({ result }) => result.starving.length,
    }),
    quantity(({ result }) => settlesCell(result, minutesOrDash), {
      csv: "settling_min",
      markdown: "settles at, min",
      terminal: ["settles|at|min", 6],
      inFull: ({ result }) => settlesCell(result, (at) => settlingOrDash(at, result.proved)),
      value: ({ result }) => result.settling_min,
    }),
    minutes(({ result }) => result.stops_at_min, { csv: "stops_at_min" }),
    count(({ result }) => result.hold_up_settled, {
      csv: "hold_up_settled_items",
      markdown: "settled hold-up, items",
      terminal: ["hold-up|items", 3],
    }),
    minutes(({ result }) => result.over_limit_min, { csv: "over_limit_min" }),
    count(({ result }) => result.over_limit_items, { csv: "over_limit_items" }),
    ...machines.map((id, m): StudyColumn<LevelRow> => {
      const of = ({ result }: LevelRow): number | null => {
        const own = result.machines[m];
        return own === undefined ? null : shareOf(own);
      };
      return share(of, { csv: `share_of_need:${id}` });
    }),
  ];
}

type Level = Shortage["levels"][number];

/** A row for each level: the plant as written, and of each variant the least share that a machine has. */
export function levelColumns({ variants }: Shortage): StudyColumn<Level>[] {
  const of =
    <Value>(read: (result: LevelResult) => Value, variant = 0) =>
    ({ variants: all }: Level): Value | null => {
      const result = all[variant];
      return result === undefined ? null : read(result);
    };
  return [
    quantity(({ level }) => levelCell(level), { terminal: ["feed|%", 99] }),
    rate(of(settledOf), { terminal: ["makes|/min", 10] }),
    quantity((level) => of((result) => settlesCell(result, minutesOrDash))(level) ?? NONE, {
      terminal: ["settles|at|min", 8],
    }),
    count(of(fullyOf), { terminal: ["run|fully", 7] }),
    ...variants.map(({ id }, v) =>
      share(of(leastOf, v), { terminal: [["least, %,", ...variantName(id).split(" ")], 9 - v] }),
    ),
  ];
}

function starving({ starving: all, machines }: LevelResult): string {
  if (all.length === 0) return "none";
  return all.length === machines.length && machines.length > 1 ? `all ${machines.length}` : listedShort(all, 3);
}
