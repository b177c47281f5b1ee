/** Output over time of all tactics, or of whatever else is played side by side, on one axis, each named at its line. */
import type { Comparison, TacticCurve, TacticResult } from "../../study/results.ts";
import { endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type PictureDataset, type Point, picture, valueAxis } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { CALM, INK, INK_SOFT } from "../chart/palette.ts";
import { pointLabels } from "../chart/point-labels.ts";
import { columns, means } from "../chart/resample.ts";
import type { TimeAxis } from "../chart/time-axis.ts";
import { plain, rate } from "../text/figures.ts";
import { winnerInBrief } from "./comparison-findings.ts";
import {
  type Contender,
  type Contest,
  comparisonTime,
  isBaseline,
  lineDataset,
  shownSamples,
  type TacticLine,
  tacticLines,
} from "./tactic-lines.ts";

const MOST_POINTS = 300;
const BAND = "#cfe8df";
const TOLERANCE = 0.05;

export function tacticsOutputPicture(
  comparison: Comparison,
  curves: readonly TacticCurve[],
  shown = "Output with each tactic",
): Picture {
  const { replications: luck, tactics } = comparison;
  // Under chance output never comes to rest, and hours of it would hide how it begins.
  const contest = luck === undefined ? comparison : { ...comparison, tactics: tactics.map(begun) };
  return outputsPicture(contest, curves, shown, winnerInBrief(comparison));
}

/** Of the 95 % time. */
const SHOWN_BY_CHANCE = 4;

function begun({ to_95_min: at, ...tactic }: TacticResult): Contender {
  return { ...tactic, settling_min: at === null ? null : at * SHOWN_BY_CHANCE };
}

export function outputsPicture(
  comparison: Contest,
  curves: readonly TacticCurve[],
  shown: string,
  finding: string,
): Picture {
  const time = comparisonTime(comparison, curves);
  const lines = tacticLines(comparison, curves).map((line) => ({ line, points: outputPoints(line, time) }));
  // A standstill is no level to come to.
  const settled = comparison.settled_per_min || null;
  const highest = Math.max(settled ?? 0, ...lines.flatMap(({ points }) => points.map(({ y }) => y)));
  const end =
    settled === null ? [] : [{ text: `settled ${plain(rate(settled))}`, value: settled, colour: CALM, bold: true }];
  const entries = keyEntries(
    lines.map(({ line }) => line),
    settled !== null,
  );
  return picture({
    shown,
    scenarioTitle: comparison.title,
    finding,
    plotHeight: 560,
    time,
    y: valueAxis("items/min", Math.max(1e-6, highest * 1.12)),
    datasets: [
      ...lines.map(({ line, points }) => lineDataset(line, points)),
      ...(settled === null ? [] : settledDatasets(settled, time)),
    ],
    plugins: [
      pointLabels(
        labelled(lines).map(({ line, points }) => ({
          lines: [label(isBaseline(line.tactic) ? asItIs(line.tactic.id) : line.tactic.id)],
          bold: line.stands,
          ink: line.stands ? INK : INK_SOFT,
          colour: line.style.colour,
          line: points,
          style: line.style,
        })),
      ),
      endLabels(end),
      key(entries),
    ],
    right: settled === null ? 24 : endLabelRoom(end),
    withKey: entries.length > 0,
  });
}

/** Unless its name says so. */
function asItIs(id: string): string {
  return id === "today" ? id : `${id} (as it is)`;
}

/** What is beaten stays grey and without a name; the table has all of it. */
export function labelled<T extends { readonly line: TacticLine }>(lines: readonly T[]): T[] {
  return lines.filter(({ line }) => line.stands || line.tactic.as === "assumed");
}

export function keyEntries(lines: readonly TacticLine[], anySettled: boolean): KeyEntry[] {
  const entries: KeyEntry[] = [];
  const thin = (text: string, one: TacticLine | undefined): void => {
    if (one) entries.push({ kind: "line", text, colour: one.style.colour, width: 1.75, dash: one.style.dash });
  };
  thin(
    "beaten",
    lines.find(({ stands, tactic }) => !stands && tactic.as !== "assumed"),
  );
  thin(
    "possible if (not weighed)",
    lines.find(({ tactic }) => tactic.as === "assumed"),
  );
  if (anySettled) {
    const fill = { colour: BAND, hatch: "none", hatchColour: BAND } as const;
    entries.push({ kind: "fill", text: "within 5 % of settled", fill });
  }
  return entries;
}

function outputPoints({ curve }: TacticLine, time: TimeAxis): Point[] {
  const shown = shownSamples(curve, time);
  const timesMin = curve.timesMin.slice(0, shown);
  const cut = columns(timesMin, MOST_POINTS);
  return means(curve.outputPerMin.slice(0, shown), timesMin, cut).map((y, i) => ({
    x: (((cut.edges[i] ?? 0) + (cut.edges[i + 1] ?? 0)) / 2) * time.scale,
    y,
  }));
}

function settledDatasets(settled: number, { end }: TimeAxis): PictureDataset[] {
  const level = (name: string, y: number): PictureDataset => ({
    label: name,
    data: [
      { x: 0, y },
      { x: end, y },
    ],
    pointRadius: 0,
  });
  const band = { borderWidth: 0, backgroundColor: BAND };
  return [
    { ...level("settled", settled), borderColor: CALM, borderWidth: 2 },
    { ...level("tolerance, above", settled * (1 + TOLERANCE)), ...band, fill: "+1" },
    { ...level("tolerance, below", settled * (1 - TOLERANCE)), ...band },
  ];
}
