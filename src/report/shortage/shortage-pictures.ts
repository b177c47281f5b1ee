/** A feed lowered step by step: settled output, and how evenly the shortage is shared, over the feed. */
import type { LevelResult, Shortage } from "../../study/shortage/shortage-results.ts";
import { acrossAxis, type Picture, type PictureDataset, type Point, picture, valueAxis } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { INK, INK_SOFT, type LineStyle, lineStyle } from "../chart/palette.ts";
import { type PointLabel, pointLabels } from "../chart/point-labels.ts";
import { approximately, plain } from "../text/figures.ts";
import { jainOf, same, settledOf, variantName } from "./shortage-figures.ts";
import { type ShortageFindingCode, shortageFindings } from "./shortage-findings.ts";
import { evennessInBrief } from "./who-findings.ts";

const IDEAL = "#b9b9b9";
/** More points would run into one another. */
const MOST_MARKED = 60;

export function shortageOutputPicture(shortage: Shortage): Picture {
  const lines = linesOf(shortage, settledOf);
  const ideal = idealPoints(shortage);
  const swings = lines.flatMap((line) => swingsOf(shortage, line));
  const highest = Math.max(
    ...[ideal, ...lines.map(({ points }) => points)].flat().map(({ y }) => y),
    ...swings.flatMap(({ ranges }) => ranges.map(({ high }) => high)),
  );
  const entries = keyEntries(ideal.length > 0, swings);
  return picture({
    shown: "Settled output over the feed",
    scenarioTitle: shortage.title,
    finding: findingOf(shortage, ["output", "stopped", "who"]),
    plotHeight: 560,
    x: feedAxis(),
    y: valueAxis("items/min", 1.12 * (highest || 1)),
    datasets: [
      ...lines.map((line) => lineDataset(line, shortage)),
      ...swings.flatMap(swingDatasets),
      ...(ideal.length > 0
        ? [{ label: "ideal", data: ideal, borderColor: IDEAL, borderWidth: 9, pointRadius: 0, clip: false } as const]
        : []),
    ],
    plugins: [pointLabels(labelsOf(lines)), key(entries)],
    right: 40,
    withKey: entries.length > 0,
  });
}

/** The swings of each variant by its colour, or where there is no room for that, all in one. */
function keyEntries(anyIdeal: boolean, swings: readonly Swings[]): KeyEntry[] {
  const entry = (text: string, colour: string): KeyEntry => ({ kind: "line", text, colour, width: 2, dash: [] });
  const named = swings.map(({ name, style }) => entry(`${name} swings`, style.colour));
  return [
    ...(anyIdeal ? [{ kind: "line", text: "in proportion", colour: IDEAL, width: 9, dash: [] } as const] : []),
    ...(named.length > MOST_NAMED ? [entry("upright: swings", INK)] : named),
  ];
}

/** As the key has room for. */
const MOST_NAMED = 4;

/** `null` where nothing is shared. */
export function evennessPicture(shortage: Shortage): Picture | null {
  const lines = linesOf(shortage, jainOf);
  if (lines.length === 0) return null;
  const several = shortage.levels.some(({ variants }) => variants.some((result) => result.lines.length > 1));
  return picture({
    shown: "How evenly the shortage is shared",
    scenarioTitle: shortage.title,
    finding: plain(evennessInBrief(shortage) ?? findingOf(shortage, ["starving", "steady"])),
    plotHeight: 480,
    x: feedAxis(),
    y: valueAxis(several ? "Jain's index of the least even line" : "Jain's index", 1.06),
    datasets: lines.map((line) => lineDataset(line, shortage)),
    plugins: [pointLabels(labelsOf(lines))],
    right: 40,
    withKey: false,
  });
}

function feedAxis() {
  return acrossAxis("feed, % of full", 100);
}

function findingOf(shortage: Shortage, codes: readonly ShortageFindingCode[]): string {
  const all = shortageFindings(shortage);
  const texts = codes.flatMap((code) => all.find((finding) => finding.code === code)?.text ?? []);
  return plain(texts[0] ?? "The plant as written, with less and less feed.");
}

/** Variants with the same figures at every level are one line. */
interface VariantLine {
  readonly names: readonly string[];
  /** Place of the first of them among the variants. */
  readonly variant: number;
  readonly points: readonly Point[];
  readonly style: LineStyle;
}

function linesOf({ levels, variants }: Shortage, of: (result: LevelResult) => number | null): VariantLine[] {
  const lines: VariantLine[] = [];
  for (const [variant, { id }] of variants.entries()) {
    const points = levels.flatMap(({ level, variants: all }): Point[] => {
      const result = all[variant];
      const y = result === undefined ? null : of(result);
      return y === null ? [] : [{ x: 100 * approximately(level), y }];
    });
    if (points.length === 0) continue;
    const twin = lines.findIndex(
      (line) =>
        line.points.length === points.length &&
        line.points.every(({ x, y }, i) => same(x, points[i]?.x ?? NaN) && same(y, points[i]?.y ?? NaN)),
    );
    const found = lines[twin];
    if (found === undefined) lines.push({ names: [variantName(id)], variant, points, style: lineStyle(variant) });
    else lines[twin] = { ...found, names: [...found.names, variantName(id)] };
  }
  return lines;
}

function lineDataset({ names, points, style }: VariantLine, { levels }: Shortage): PictureDataset {
  return {
    label: names.join(", "),
    data: [...points],
    borderColor: style.colour,
    borderDash: [...style.dash],
    borderWidth: 3.5,
    pointStyle: style.marker,
    pointRadius: levels.length <= MOST_MARKED ? 6 : 0,
    pointBorderWidth: 2.5,
    pointBorderColor: style.colour,
    pointBackgroundColor: style.colour,
    clip: false,
  };
}

function labelsOf(lines: readonly VariantLine[]): PointLabel[] {
  return lines.map(({ names, points, style }) => ({
    lines: names.length > 3 ? [`${names.slice(0, 2).join(", ")},`, names.slice(2).join(", ")] : [names.join(", ")],
    bold: false,
    ink: INK,
    colour: INK_SOFT,
    line: points,
    // The line has markers of its own at every level, so the label needs none.
    style: { ...style, marker: "dash" },
  }));
}

/** Straight from no feed to where full output begins, level from there. */
function idealPoints({ levels }: Shortage): Point[] {
  const known = levels.map(({ level, ideal_per_min: y }) => ({ x: 100 * approximately(level), y }));
  const most = Math.max(0, ...known.map(({ y }) => y));
  const slope = Math.max(0, ...known.map(({ x, y }) => y / x));
  const last = Math.max(0, ...known.map(({ x }) => x));
  if (most === 0 || slope === 0) return [];
  const bend = Math.min(last, most / slope);
  return [{ x: 0, y: 0 }, { x: bend, y: most }, ...(bend < last ? [{ x: last, y: most }] : [])];
}

interface Swings {
  readonly name: string;
  readonly style: LineStyle;
  /** At the levels that were run. */
  readonly ranges: readonly { readonly x: number; readonly low: number; readonly high: number }[];
}

/** Of all variants that a line stands for, those whose output swings; a little apart, where several do at one level. */
function swingsOf({ levels, variants }: Shortage, line: VariantLine): Swings[] {
  return variants.flatMap(({ id }, variant): Swings[] => {
    if (!line.names.includes(variantName(id))) return [];
    const ranges = levels.flatMap(({ level, variants: all }) => {
      const swing = all[variant]?.fluctuation;
      if (swing === undefined || !swing.swings) return [];
      const x = 100 * approximately(level) + APART * (variant - (variants.length - 1) / 2);
      return [{ x, low: swing.low_per_min, high: swing.high_per_min }];
    });
    return ranges.length === 0 ? [] : [{ name: variantName(id), style: lineStyle(variant), ranges }];
  });
}

/** In % of the feed. */
const APART = 0.5;

/** An upright stroke for each level; between levels nothing was run, and nothing is drawn. */
function swingDatasets({ name, style, ranges }: Swings): PictureDataset[] {
  return [
    {
      label: `${name} swings`,
      data: ranges.flatMap(({ x, low, high }) => [
        { x, y: low },
        { x, y: high },
        { x, y: Number.NaN },
      ]),
      borderColor: style.colour,
      borderWidth: 2,
      pointStyle: "line",
      pointRadius: 5,
      pointBorderWidth: 2,
      pointBorderColor: style.colour,
      clip: false,
    },
  ];
}
