/** Tables of a comparison on the same luck: means of each variant, and differences from the leader and from doing nothing. */
import type { LuckFigure, PairedFigure, SameLuck } from "../../study/luck-results.ts";
import { nameOf } from "../text/baseline.ts";
import { NONE } from "../text/cells.ts";
import { type Cell, csv } from "../text/csv.ts";
import { count, figure, minutes, reportTable, type StudyColumn, text } from "../text/study-table.ts";
import { oneLine } from "../text/text-width.ts";
import { differenceCell, FIGURES, type FigureWords, lossMin } from "./luck-figures.ts";
import { capital } from "./luck-findings.ts";

interface Named {
  readonly id: string;
}

/** A figure's mean and its difference, for a terminal. */
export function luckColumns<Row extends Named>(luck: SameLuck, name: LuckFigure["figure"]): StudyColumn<Row>[] {
  const figureThere = luck.figures.find((one) => one.figure === name);
  if (figureThere === undefined) return [];
  const words = FIGURES[name];
  const of = ({ id }: Row): LuckFigure["variants"][number] | undefined =>
    figureThere.variants.find((variant) => variant.id === id);
  const { mean, unit, importance } = HEADINGS[name];
  const { baseline } = luck;
  const from = (row: Row): PairedFigure | null =>
    (baseline === null ? of(row)?.from_leader : of(row)?.from_baseline) ?? null;
  return [
    figure((row: Row) => meanCell(of(row)?.value ?? null, words), { terminal: [mean, importance] }),
    figure((row: Row) => differenceCell(from(row), words), {
      terminal: [["from", oneLine(baseline ?? "leader"), unit], importance - 0.5],
    }),
  ];
}

function meanCell(value: { readonly mean: number } | null, { cell }: FigureWords): string {
  return value === null ? NONE : cell(value.mean);
}

const HEADINGS: Readonly<
  Record<LuckFigure["figure"], { readonly mean: readonly string[]; readonly unit: string; readonly importance: number }>
> = {
  ramp_up_loss: { mean: ["lost", "items"], unit: "items", importance: 10 },
  settled_output_per_min: { mean: ["makes", "/min"], unit: "/min", importance: 7 },
  hold_up_settled: { mean: ["settled", "hold-up", "items"], unit: "items", importance: 5 },
  evenness_at_half_feed: { mean: ["even"], unit: "index", importance: 3 },
};

/** Without interval, as the time of a mean curve is. */
export const TO_95: StudyColumn<{ readonly to_95_min: number | null }> = minutes(({ to_95_min: at }) => at, {
  markdown: "95 % at, min",
  terminal: ["95 %|at|min", 8],
});

export function lossMinColumn<Row extends Named>(luck: SameLuck): StudyColumn<Row> {
  return minutes((row: Row) => lossMin(luck, row.id), {
    markdown: "lost, min of output",
    terminal: ["lost|min of|output", 6],
  });
}

/** A section for each figure. */
export function luckSections(luck: SameLuck): string[] {
  return luck.figures.flatMap((figure) => {
    const { name, unit } = FIGURES[figure.figure];
    return [`### ${capital(name)}, ${unit}`, figureTable(luck, figure)];
  });
}

function figureTable({ baseline }: SameLuck, { figure: name, variants, leader }: LuckFigure): string {
  const words = FIGURES[name];
  type Row = LuckFigure["variants"][number];
  const columns: StudyColumn<Row>[] = [
    text(({ id }) => nameOf(id), { markdown: "" }),
    figure(({ value }) => meanCell(value, words), { markdown: "mean" }),
    figure(({ value }) => (value?.ci95 ? value.ci95.map(words.cell).join(" to ") : NONE), {
      markdown: "95 % interval",
    }),
    figure(({ value }) => (value === null ? NONE : `${words.cell(value.p5)} to ${words.cell(value.p95)}`), {
      markdown: "5 to 95 % of runs",
    }),
    count(({ value }) => value?.n ?? 0, { markdown: "replications" }),
    figure(({ id, from_leader: from }) => (id === leader ? "leads" : differenceCell(from, words)), {
      markdown: leader === null ? "from the leader" : `from ${leader}`,
    }),
  ];
  if (baseline !== null)
    columns.push(figure(({ from_baseline: from }) => differenceCell(from, words), { markdown: "from none" }));
  return reportTable(columns, variants);
}

export const LUCK_NOTE = [
  "Each has been played with the same seeds: replication 1 with the file's, replication i with a seed made from it and i. Streams",
  "of chance are named by element, so that what variants share breaks down, stops and arrives alike. Differences are means over",
  "replications, one less the other, with intervals that hold together for all in a table (Bonferroni; so they are wider than one",
  "alone): 97.5 % at a first look, 98.75 % at a second, so that going on names a false winner in 5 % of studies at most. Those",
  'with a "?" contain 0 and tell nothing apart.',
].join("\n");

/** What figures are under chance. */
export const LUCK_ASSUMPTIONS: readonly string[] = [
  "Losses are counted up to one end for all, the latest at which MSER-5 or Welch's procedure has the mean output of any of them settled, and against one settled output. So two losses differ by just the products that one has made by then and the other not; with ends of their own, the one whose ramp-up seems over sooner would be charged with less of it.",
  "95 % at: from when the mean output over all replications keeps up with 95 % of its settled output for good, but for a cycle or so and what may be luck, which with few replications is so much that it comes early; it has no interval, and decides nothing.",
];

/** differences.csv: a row for each figure and variant. */
export function luckCsv(luck: SameLuck): string {
  const header = [
    "figure",
    "id",
    "replications",
    "mean",
    "ci95_low",
    "ci95_high",
    "p5",
    "p95",
    ...["leader", "baseline"].flatMap((from) =>
      ["mean", "low", "high", "level", "told", "about", "gain"].map((name) => `from_${from}_${name}`),
    ),
  ];
  const rows = luck.figures.flatMap(({ figure, variants }) =>
    variants.map(({ id, value, from_leader: fromLeader, from_baseline: fromBaseline }): Cell[] => [
      figure,
      id,
      value?.n ?? 0,
      value?.mean ?? null,
      value?.ci95?.[0] ?? null,
      value?.ci95?.[1] ?? null,
      value?.p5 ?? null,
      value?.p95 ?? null,
      ...[fromLeader, fromBaseline].flatMap((paired): Cell[] =>
        paired === null
          ? [null, null, null, null, null, null, null]
          : [paired.mean, ...paired.interval, paired.level, paired.told, paired.about, paired.gain],
      ),
    ]),
  );
  return csv([header, ...rows]);
}
