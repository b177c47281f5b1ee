/** Output over time through a dip of the feed, each variant named at its line. */
import type { Dip, DipCurve } from "../../study/shortage/shortage-results.ts";
import { acrossAxis, type Picture, type PictureDataset, type Point, picture, valueAxis } from "../chart/frame.ts";
import { timeMarks } from "../chart/marks.ts";
import { CALM, INK, INK_SOFT, lineStyle } from "../chart/palette.ts";
import { pointLabels } from "../chart/point-labels.ts";
import { plain } from "../text/figures.ts";
import { dipFindings } from "./dip-findings.ts";
import { levelText, same, variantName } from "./shortage-figures.ts";

interface DipLine {
  readonly names: readonly string[];
  readonly variant: number;
  readonly points: readonly Point[];
}

/** @param curves of as many of the variants as there are, in any order */
export function dipPicture(dip: Dip, curves: readonly DipCurve[]): Picture {
  const times = curves.flatMap(({ timesMin }) => [timesMin[0] ?? 0, timesMin.at(-1) ?? 0]);
  const inHours = Math.max(0, ...times) > 300;
  const scale = inHours ? 1 / 60 : 1;
  const lines = linesOf(dip, curves, scale);
  const { level, from_min: fromMin, for_min: forMin } = dip.dip;
  const end = Math.max((fromMin + forMin) * scale, ...times.map((time) => time * scale));
  const start = times.length === 0 ? 0 : Math.min(...times) * scale;
  const highest = Math.max(1e-6, ...lines.flatMap(({ points }) => points.map(({ y }) => y)));
  const all = dipFindings(dip);
  const finding = all.find(({ code }) => code === "recovery") ?? all.find(({ code }) => code === "stopped") ?? all[0];
  return picture({
    shown: "Output through the dip",
    scenarioTitle: dip.title,
    finding: plain(finding?.text ?? ""),
    plotHeight: 560,
    x: acrossAxis(inHours ? "hours" : "minutes", end, start),
    y: valueAxis("items/min", highest * 1.12),
    datasets: lines.map(lineDataset),
    plugins: [
      timeMarks([
        { at: fromMin * scale, text: `feed at ${plain(levelText(level))}`, colour: INK_SOFT, dash: [4, 5] },
        { at: (fromMin + forMin) * scale, text: "feed back", colour: CALM, dash: [4, 5] },
      ]),
      pointLabels(
        lines.map(({ names, points, variant }) => ({
          lines: [names.join(", ")],
          bold: false,
          ink: INK,
          colour: INK_SOFT,
          line: points,
          style: lineStyle(variant),
        })),
        [fromMin, fromMin + forMin].map((time) => [
          { x: time * scale, y: 0 },
          { x: time * scale, y: highest * 1.12 },
        ]),
      ),
    ],
    right: 40,
    withKey: false,
  });
}

/** Variants with the same curve are one line. */
function linesOf({ variants }: Dip, curves: readonly DipCurve[], scale: number): DipLine[] {
  const lines: DipLine[] = [];
  for (const [variant, { id }] of variants.entries()) {
    const curve = curves.find((one) => one.id === id);
    if (curve === undefined || curve.timesMin.length === 0) continue;
    const points = curve.timesMin.map((time, i) => ({ x: time * scale, y: curve.outputPerMin[i] ?? 0 }));
    const twin = lines.findIndex((line) => line.points.every(({ y }, i) => same(y, points[i]?.y ?? NaN)));
    const found = lines[twin];
    if (found === undefined) lines.push({ names: [variantName(id)], variant, points });
    else lines[twin] = { ...found, names: [...found.names, variantName(id)] };
  }
  return lines;
}

function lineDataset({ names, variant, points }: DipLine): PictureDataset {
  const style = lineStyle(variant);
  return {
    label: names.join(", "),
    data: [...points],
    borderColor: style.colour,
    borderDash: [...style.dash],
    borderWidth: 3.5,
    pointRadius: 0,
  };
}
