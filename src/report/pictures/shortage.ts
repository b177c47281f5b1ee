/** A feed lowered step by step: settled output, and how evenly the shortage is shared, over the feed. */
import type { LevelResult, Shortage } from "../../study/shortage-results.ts";
import { approximately, plain } from "../figures.ts";
import { INK, INK_SOFT, type LineStyle, lineStyle } from "../palette.ts";
import { jainOf, same, settledOf, variantName } from "../shortage/shortage-figures.ts";
import { type ShortageFindingCode, shortageFindings } from "../shortage/shortage-findings.ts";
import { evennessInBrief } from "../shortage/who-findings.ts";
import { acrossAxis, type Picture, type PictureDataset, type Point, picture, valueAxis } from "./frame.ts";
import { type KeyEntry, key } from "./key.ts";
import { type PointLabel, pointLabels } from "./point-labels.ts";

const IDEAL = "#b9b9b9";
/** Laid over one another. */
const BAND_OPACITY = "2e";
/** More points would run into one another. */
const MOST_MARKED = 60;

export function shortageOutputPicture(shortage: Shortage): Picture {
  const lines = linesOf(shortage, settledOf);
  const ideal = idealPoints(shortage);
  const bands = lines.flatMap((line) => bandsOf(shortage, line));
  const highest = Math.max(
    ...[ideal, ...lines.map(({ points }) => points)].flat().map(({ y }) => y),
    ...bands.flatMap(({ high }) => high.map(({ y }) => y)),
  );
  const entries = keyEntries(ideal.length > 0, bands);
  return picture({
    file: "shortage.png",
    shown: "Settled output over the feed",
    scenarioTitle: shortage.title,
    finding: findingOf(shortage, ["output", "stopped", "who"]),
    plotHeight: 560,
    x: feedAxis(),
    y: valueAxis("items/min", 1.12 * (highest || 1)),
    datasets: [
      ...lines.map((line) => lineDataset(line, shortage)),
      ...bands.flatMap(bandDatasets),
      ...(ideal.length > 0
        ? [{ label: "ideal", data: ideal, borderColor: IDEAL, borderWidth: 9, pointRadius: 0, clip: false } as const]
        : []),
    ],
    plugins: [pointLabels(labelsOf(lines)), key(entries)],
    right: 40,
    withKey: entries.length > 0,
  });
}

/** Each band by its variant's name, or where there is no room for that, all in one. */
function keyEntries(anyIdeal: boolean, bands: readonly Band[]): KeyEntry[] {
  const fill = (colour: string) => ({ colour, hatch: "none", hatchColour: colour }) as const;
  const ideal: KeyEntry[] = anyIdeal
    ? [{ kind: "line", text: "in proportion", colour: IDEAL, width: 9, dash: [] }]
    : [];
  if (bands.length === 0) return ideal;
  if (bands.length > MOST_NAMED) return [...ideal, { kind: "fill", text: "swings", fill: fill("#d5dde3") }];
  return [
    ...ideal,
    ...bands.map(({ name, colour }): KeyEntry => {
      return { kind: "fill", text: `${name} swings`, fill: fill(`${colour}${BAND_OPACITY}`) };
    }),
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
    file: "evenness.png",
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

interface Band {
  readonly name: string;
  readonly colour: string;
  readonly low: readonly Point[];
  readonly high: readonly Point[];
}

/** From level to level, drawn to the line where the output is steady; of all variants that a line stands for. */
function bandsOf({ levels, variants }: Shortage, line: VariantLine): Band[] {
  return variants.flatMap(({ id }, variant): Band[] => {
    if (!line.names.includes(variantName(id))) return [];
    const results = levels.flatMap(({ level, variants: all }) => {
      const result = all[variant];
      return result === undefined ? [] : [{ x: 100 * approximately(level), result }];
    });
    if (!results.some(({ result }) => result.fluctuation.swings)) return [];
    const edge = (of: "low_per_min" | "high_per_min"): Point[] =>
      results.map(({ x, result }) => ({
        x,
        y: result.fluctuation.swings ? result.fluctuation[of] : settledOf(result),
      }));
    const colour = lineStyle(variant).colour;
    return [{ name: variantName(id), colour, low: edge("low_per_min"), high: edge("high_per_min") }];
  });
}

function bandDatasets({ name, colour, low, high }: Band): PictureDataset[] {
  const edge = { pointRadius: 0, borderColor: `${colour}88`, borderWidth: 1.25 };
  return [
    { label: `${name}, highest`, data: [...high], ...edge, backgroundColor: `${colour}${BAND_OPACITY}`, fill: "+1" },
    { label: `${name}, lowest`, data: [...low], ...edge },
  ];
}
