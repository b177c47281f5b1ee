/** Layouts side by side for the terminal: the answer and one table; findings, further tables and cautions as details. */
import type { LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { SameLuck } from "../../study/luck/luck-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { lossMinColumn, luckColumns, to95Column } from "../luck/luck-table.ts";
import { countOrDash, indexOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { duration } from "../text/figures.ts";
import { moneyOrDash, yearsOrDash } from "../text/money-text.ts";
import { CAUTIONS, DRAWING_CAUTIONS } from "../text/notes.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import {
  areaOrDash,
  beltCell,
  buildable,
  commonOutput,
  evennessNote,
  limitedIn,
  lineInBrief,
  oneMoreCell,
} from "./layout-figures.ts";
import { layoutsAnswer } from "./layouts-answer.ts";
import { layoutsFindings, whatIsWeighed } from "./layouts-findings.ts";

/** @returns lines with a line break at the end of each */
export function layoutsText(study: LayoutStudy, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const all = buildable(study);
  const page = {
    title: study.title,
    answer: layoutsAnswer(study),
    table: all.length === 0 ? [] : lined(layoutColumns(study, all), style),
    isWholeInDetails: true,
    details: [
      wrap(lineInBrief(oneLine(study.line), study), COLUMNS),
      layoutsFindings(study).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      ...(all.length === 0 ? [] : [...tables(study, all, style), notes(study).flatMap((note) => wrap(note, COLUMNS))]),
      study.layouts.flatMap(({ id, does }) => bullet(`${oneLine(id)}: ${oneLine(does)}`)),
      handCautions(byHand(all), style),
      [...DRAWING_CAUTIONS, ...CAUTIONS.slice(-1)].flatMap(bullet).map(style.warning),
    ],
    caution: "A drawing is no installation plan.",
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["infeasible", "over-limits", "stopped", "unsettled", "no-end"]);

function notes(study: LayoutStudy): string[] {
  if (study.replications !== undefined) return luckNotes(study, study.replications);
  return [
    `* Not beaten: no other is at least as good in ${whatIsWeighed(study)}, and better in one.`,
    evenAndMore(study),
  ];
}

function evenAndMore(study: LayoutStudy): string {
  return `Even: ${evennessNote(study)} on half the feed. One more: elements added and torn out for one more ${study.leads_to.slice(0, -1)} like the last.`;
}

function luckNotes(study: LayoutStudy, { counted_from_min: from }: SameLuck): string[] {
  return [
    `* Not beaten: no other is told better in one of ${whatIsWeighed(study)}, and worse in none.`,
    `Lost: up to ${duration(from)}, against the most that any makes once settled. From leader: less the one that leads, replication by replication, with half of the 95 % interval for all together; ? tells nothing.`,
    evenAndMore(study),
  ];
}

/** Tactics that some layout is best primed with and that need hands. */
export function byHand(layouts: readonly LayoutResult[]): string[] {
  const names = layouts.flatMap(({ primed }) => (primed?.by_hand === true ? [oneLine(primed.tactic)] : []));
  return [...new Set(names)];
}

/** What each does, primed too, and what it takes to build; in one the tables are too wide for a terminal. */
function tables(study: LayoutStudy, all: readonly LayoutResult[], style: Style): string[][] {
  const primed = all.filter((layout) => layout.primed !== null);
  const { replications: luck } = study;
  return [
    luck === undefined ? doing(study, all) : doingOnLuck(luck, all),
    ...(primed.length === 0 ? [] : [priming(primed)]),
    building(study, all),
  ].map((columns) => lined(columns, style));
}

function lined(columns: readonly Column[], style: Style): string[] {
  const { heading, rows } = table(columns, COLUMNS);
  return [...heading.map(style.heading), ...rows];
}

type CellOf = (layout: LayoutResult) => string;

/** Heading, importance and cells; so few that whole names have room. */
type Sketch = readonly [readonly string[], number, CellOf];

/** Of little interest where all make the same. */
const MAKES: Sketch = [["makes", "/min"], 9.5, (layout) => rateOrDash(layout.settled_per_min)];

const OVER_LIMIT: Sketch = [["over", "limit", "min"], 12, (layout) => minutesOrDash(layout.over_limit_min)];
const TOO_LONG: Sketch = [["too long", "there", "items"], 11, (layout) => countOrDash(layout.over_limit_items)];

function columnsOf(all: readonly LayoutResult[], columns: readonly Sketch[]): Column[] {
  const names: Column = {
    heading: ["  layout"],
    importance: 99,
    align: "left",
    cells: all.map(({ id, undominated }) => `${undominated ? "*" : " "} ${oneLine(id)}`),
  };
  return [
    names,
    ...columns.map(([heading, importance, cell]): Column => {
      return { heading, importance, align: "right", cells: all.map(cell) };
    }),
  ];
}

function doing(study: LayoutStudy, all: readonly LayoutResult[]): Column[] {
  const differ = commonOutput(study) === null;
  const limited = limitedIn(study);
  return columnsOf(all, [
    // Limits come first.
    ...(limited.holdUp ? [OVER_LIMIT] : []),
    ...(limited.dwell ? [TOO_LONG] : []),
    [["settles", "at", "min"], 10, (layout) => minutesOrDash(layout.settling_min)],
    [["lost", "items"], 9, (layout) => countOrDash(layout.ramp_up_loss)],
    [["settled", "hold-up", "items"], 8, (layout) => countOrDash(layout.hold_up_settled)],
    [["peak", "hold-up", "items"], 5, (layout) => countOrDash(layout.hold_up_peak)],
    [["mean", "dwell", "min"], 6, (layout) => minutesOrDash(layout.dwell_mean_min)],
    [["even"], 7, (layout) => indexOrDash(layout.evenness_at_half_feed)],
    ...(differ ? [MAKES] : []),
  ]);
}

/** What counts most of each, in one table. */
export function layoutColumns(study: LayoutStudy, all: readonly LayoutResult[]): Column[] {
  if (study.replications !== undefined) return doingOnLuck(study.replications, all);
  const limited = limitedIn(study);
  return columnsOf(all, [
    ...(limited.holdUp ? [OVER_LIMIT] : []),
    ...(limited.dwell ? [TOO_LONG] : []),
    ...(commonOutput(study) === null ? [MAKES] : []),
    [["settles", "at", "min"], 10, (layout) => minutesOrDash(layout.settling_min)],
    [["lost", "items"], 9, (layout) => countOrDash(layout.ramp_up_loss)],
    [["hold-up", "items"], 8, (layout) => countOrDash(layout.hold_up_settled)],
    [["even"], 7, (layout) => indexOrDash(layout.evenness_at_half_feed)],
    [
      ["dividers,", "merges"],
      6,
      ({ dividers, merges }) => countOrDash(dividers === null ? null : dividers + (merges ?? 0)),
    ],
    [["floor", `${study.length_unit}²`], 6.5, (layout) => areaOrDash(layout.floor_m2, study.length_unit)],
    ...priced(all),
    [["one", "more"], 5, (layout) => oneMoreCell(layout.one_more)],
  ]);
}

function priced(all: readonly LayoutResult[]): Sketch[] {
  const [money] = all.flatMap((layout) => layout.money ?? []);
  if (money === undefined) return [];
  return [
    [["costs", money.currency], 6.8, (layout) => moneyOrDash(layout.money?.build, money)],
    [["paid", "after", "years"], 6.7, (layout) => yearsOrDash(layout.money?.paid_after_years)],
  ];
}

/** Means, and differences from whichever leads in each. */
function doingOnLuck(luck: SameLuck, all: readonly LayoutResult[]): Column[] {
  const ids = all.map(({ id }) => id);
  return [
    ...columnsOf(all, []),
    ...luckColumns(luck, "ramp_up_loss", ids),
    lossMinColumn(luck, ids),
    to95Column(all),
    ...luckColumns(luck, "settled_output_per_min", ids).slice(0, 1),
    ...luckColumns(luck, "hold_up_settled", ids).slice(0, 1),
    ...luckColumns(luck, "evenness_at_half_feed", ids).slice(0, 1),
  ];
}

/** With the tactic that comes first for each. */
function priming(all: readonly LayoutResult[]): Column[] {
  return [
    ...columnsOf(all, [
      [["primed,", "settles", "min"], 10, ({ primed }) => minutesOrDash(primed?.settling_min ?? null)],
      [["lost", "items"], 9, ({ primed }) => countOrDash(primed?.ramp_up_loss ?? null)],
      [["handled", "items"], 8, ({ primed }) => countOrDash(primed?.items_handled ?? null)],
      [["peak", "hold-up", "items"], 6, ({ primed }) => countOrDash(primed?.hold_up_peak ?? null)],
    ]),
    {
      heading: ["with"],
      importance: 7,
      align: "left",
      cells: all.map(({ primed }) => oneLine(primed?.tactic ?? "")),
    },
  ];
}

function building(study: LayoutStudy, all: readonly LayoutResult[]): Column[] {
  const { length_unit: unit } = study;
  return columnsOf(all, [
    [["di-", "viders"], 10, (layout) => countOrDash(layout.dividers)],
    [["merges"], 9, (layout) => countOrDash(layout.merges)],
    [["belt", unit], 8, (layout) => beltCell(layout, study)],
    [["floor", `${unit}²`], 7, (layout) => areaOrDash(layout.floor_m2, unit)],
    [["headroom", "/min"], 6, (layout) => rateOrDash(layout.headroom_per_min)],
    ...priced(all),
    [["one", "more"], 5, (layout) => oneMoreCell(layout.one_more)],
  ]);
}
