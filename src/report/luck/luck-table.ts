/** Tables of a comparison on the same luck: means of each variant, and differences from the leader and from doing nothing. */
import type { LuckFigure, SameLuck } from "../../study/luck/luck-results.ts";
import { nameOf } from "../comparison/baseline.ts";
import { minutesOrDash, NONE } from "../text/cells.ts";
import { type Cell, csv } from "../text/csv.ts";
import { number } from "../text/figures.ts";
import { escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";
import type { Column } from "../text/table.ts";
import { oneLine } from "../text/text-width.ts";
import { differenceCell, FIGURES, lossMin } from "./luck-figures.ts";
import { capital } from "./luck-findings.ts";

/** A figure's mean and its difference, for a terminal. @param ids in the order of the rows */
export function luckColumns(luck: SameLuck, name: LuckFigure["figure"], ids: readonly string[]): Column[] {
  const figure = luck.figures.find((one) => one.figure === name);
  if (figure === undefined) return [];
  const words = FIGURES[name];
  const of = ids.map((id) => figure.variants.find((variant) => variant.id === id));
  const heading = HEADINGS[name];
  const from = luck.baseline === null ? "leader" : luck.baseline;
  return [
    {
      heading: heading.mean,
      importance: heading.importance,
      align: "right",
      cells: of.map((variant) => (variant?.value ? words.cell(variant.value.mean) : NONE)),
    },
    {
      heading: ["from", oneLine(from), heading.unit],
      importance: heading.importance - 0.5,
      align: "right",
      cells: of.map((variant) =>
        differenceCell((luck.baseline === null ? variant?.from_leader : variant?.from_baseline) ?? null, words),
      ),
    },
  ];
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
export function to95Column(variants: readonly { readonly to_95_min: number | null }[]): Column {
  return {
    heading: ["95 %", "at", "min"],
    importance: 8,
    align: "right",
    cells: variants.map(({ to_95_min: at }) => minutesOrDash(at)),
  };
}

export function lossMinColumn(luck: SameLuck, ids: readonly string[]): Column {
  const cells = ids.map((id) => minutesOrDash(lossMin(luck, id)));
  return { heading: ["lost", "min of", "output"], importance: 6, align: "right", cells };
}

/** A section for each figure. */
export function luckSections(luck: SameLuck): string[] {
  return luck.figures.flatMap((figure) => {
    const { name, unit } = FIGURES[figure.figure];
    return [`### ${capital(name)}, ${unit}`, figureTable(luck, figure)];
  });
}

function figureTable({ baseline }: SameLuck, { figure, variants, leader }: LuckFigure): string {
  const words = FIGURES[figure];
  const withBase = baseline !== null;
  return markdownTable(
    [
      left(""),
      right("mean"),
      right("95 % interval"),
      right("5 to 95 % of runs"),
      right("replications"),
      right(leader === null ? "from the leader" : `from ${escapeMarkdown(leader)}`),
      ...(withBase ? [right("from none")] : []),
    ],
    variants.map(({ id, value, from_leader: fromLeader, from_baseline: fromBaseline }) => [
      escapeMarkdown(nameOf(id)),
      value === null ? NONE : words.cell(value.mean),
      value?.ci95 ? value.ci95.map(words.cell).join(" to ") : NONE,
      value === null ? NONE : `${words.cell(value.p5)} to ${words.cell(value.p95)}`,
      value === null ? "0" : number(value.n),
      id === leader ? "leads" : differenceCell(fromLeader, words),
      ...(withBase ? [differenceCell(fromBaseline, words)] : []),
    ]),
  );
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
