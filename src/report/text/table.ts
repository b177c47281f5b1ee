/** Tables for the terminal: columns as wide as their widest cell, the least important ones left off for want of room. */
import { padEnd, padStart, shorten, textWidth } from "./text-width.ts";

export interface Column {
  /** Lines above the cells. */
  readonly heading: readonly string[];
  readonly cells: readonly string[];
  readonly align: "left" | "right";
  /** Columns of lower importance go first where the table is too wide. */
  readonly importance: number;
}

const GAP = 2;

/**
 * @param mostColumns room in the terminal; names in the first column are cut to it
 * @returns heading lines and row lines, none wider than `mostColumns`, without spaces at their ends
 */
export function table(columns: readonly Column[], mostColumns: number): { heading: string[]; rows: string[] } {
  const kept = fitting(columns, mostColumns);
  const first = kept[0];
  if (first === undefined) return { heading: [], rows: [] };
  const others = kept.slice(1).reduce((total, column) => total + GAP + widthOf(column), 0);
  const widths = kept.map((column) =>
    column === first ? Math.min(widthOf(first), mostColumns - others) : widthOf(column),
  );
  const line = (cellOf: (column: Column) => string): string =>
    kept
      .map((column, index) => {
        const width = widths[index] ?? 0;
        const cell = shorten(cellOf(column), width);
        return column.align === "left" ? padEnd(cell, width) : padStart(cell, width);
      })
      .join(" ".repeat(GAP))
      .trimEnd();
  const headingLines = Math.max(...kept.map(({ heading }) => heading.length));
  return {
    heading: Array.from({ length: headingLines }, (_, index) =>
      line(({ heading }) => heading[index - (headingLines - heading.length)] ?? ""),
    ),
    rows: first.cells.map((_, row) => line(({ cells }) => cells[row] ?? "")),
  };
}

/** The first and the last rows of a long table, where there is room for so many, and a line for those between. */
export function endsOf<Row>(
  all: readonly Row[],
  most: number,
  file: string,
): { readonly shown: readonly Row[]; readonly between: (rows: readonly string[]) => readonly string[] } {
  if (all.length <= most) return { shown: all, between: (rows) => rows };
  const [first, last] = [Math.floor(most / 2), Math.floor(most / 3)];
  const left = `… ${all.length - first - last} more, in ${file}`;
  return {
    shown: [...all.slice(0, first), ...all.slice(-last)],
    between: (rows) => [...rows.slice(0, first), left, ...rows.slice(first)],
  };
}

/** Sooner than cutting names to less than this a column is left off. */
const LEAST_NAME = 16;

function fitting(columns: readonly Column[], most: number): readonly Column[] {
  let kept = columns;
  while (kept.length > 1) {
    const width = kept.reduce(
      (total, column, index) => total + (index === 0 ? Math.min(LEAST_NAME, widthOf(column)) : GAP + widthOf(column)),
      0,
    );
    if (width <= most) return kept;
    const least = kept.slice(1).reduce((a, b) => (b.importance < a.importance ? b : a));
    kept = kept.filter((column) => column !== least);
  }
  return kept;
}

function widthOf({ heading, cells }: Column): number {
  return [...heading, ...cells].reduce((most, text) => Math.max(most, textWidth(text)), 0);
}
