/** One figure of a sweep over two quantities: the first from left to right, the second upwards. */

import type { Sweep, SweepPoint, SweptQuantity } from "../../study/sweep/sweep-results.ts";
import { pixels, textPixels } from "../chart/font.ts";
import { columnAxis, label, type Picture, picture, rowAxis, TEXT_SIZE } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { NO_FIGURE, type ValueCell, valueCells } from "../chart/value-cells.ts";
import { number, plain } from "../text/figures.ts";
import { oneLine, shorten } from "../text/text-width.ts";
import { quantityInWords } from "./sweep-figures.ts";

export interface MapContent {
  readonly shown: string;
  readonly finding: string;
  readonly of: (point: SweepPoint) => number | null;
  readonly cell: (value: number) => string;
}

export function sweepMap(
  { title, points }: Sweep,
  across: SweptQuantity,
  upwards: SweptQuantity,
  content: MapContent,
): Picture {
  const columns = shownRows(across.values);
  const rows = shownRows(fromTop(upwards));
  const { cells, range } = mapCells(points, columns.rows, rows.rows, content);
  const [acrossTitle, upwardsTitle] = [across, upwards].map((one) => cutTitle(quantityInWords(one)));
  return picture({
    shown: `${content.shown}${columns.note || rows.note}`,
    scenarioTitle: title,
    finding: content.finding,
    plotHeight: Math.round(
      Math.max(rowHeight(rows.rows.length) * rows.rows.length, textPixels(upwardsTitle ?? "", TEXT_SIZE) + 8),
    ),
    x: columnAxis(labelsOf(across, columns.rows), acrossTitle ?? ""),
    y: rowAxis(labelsOf(upwards, rows.rows), upwardsTitle),
    datasets: [{ label: content.shown, data: [] }],
    plugins: [valueCells(columns.rows.length, rows.rows.length, cells), key(keyEntries(range, cells))],
    right: 24,
    withKey: true,
  });
}

/** @returns the cells, and the lowest and the highest figure in words; `null` where there is none */
export function mapCells(
  points: readonly SweepPoint[],
  columns: readonly string[],
  rows: readonly string[],
  { of, cell }: Pick<MapContent, "of" | "cell">,
): { readonly cells: ValueCell[]; readonly range: readonly [string, string] | null } {
  const values = points.flatMap((point) => of(point) ?? []);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const cells = points.flatMap((point): ValueCell[] => {
    const x = columns.indexOf(point.values[0] ?? "");
    const y = rows.indexOf(point.values[1] ?? "");
    if (x < 0 || y < 0) return [];
    const value = of(point);
    if (value === null) return [{ x, y, share: null, text: "" }];
    return [{ x, y, share: high > low ? (value - low) / (high - low) : 0, text: cell(value) }];
  });
  return { cells, range: values.length > 0 ? [cell(low), cell(high)] : null };
}

/** Of an axis, upright or not: no longer than a picture is high. */
const TITLE_WIDTH = 500;

function cutTitle(title: string): string {
  return shorten(oneLine(title), TITLE_WIDTH, pixels(TEXT_SIZE));
}

/** Numbers rise from the foot of the picture; words stand as they are listed. */
function fromTop({ values, numbers }: SweptQuantity): readonly string[] {
  const [first = 0] = numbers ?? [];
  const last = numbers?.at(-1) ?? first;
  return numbers !== null && last > first ? values.toReversed() : values;
}

/** Numbers without their unit, which stands at the axis. */
function labelsOf({ values, numbers }: SweptQuantity, shown: readonly string[]): string[] {
  return shown.map((value) => {
    const figure = numbers?.[values.indexOf(value)];
    return figure === undefined ? label(value) : plain(number(figure, 4));
  });
}

function keyEntries(range: readonly [string, string] | null, cells: readonly ValueCell[]): KeyEntry[] {
  const [low, high] = range ?? ["", ""];
  return [
    ...(range === null ? [] : [{ kind: "levels", before: plain(low), text: plain(high) } as const]),
    ...(cells.some(({ share }) => share === null)
      ? [{ kind: "fill", text: "not settled within the horizon, or stopped", fill: NO_FIGURE } as const]
      : []),
  ];
}
