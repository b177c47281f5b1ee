/** Output over time under chance: where runs lie, their mean with its interval, the median run and one as it comes. */
import type { Result } from "../../analysis/result.ts";
import type { OutputBand } from "../../study/replications/output-band.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { chanceTime } from "../chart/chance-time.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { type Picture, type PictureDataset, type Point, picture, valueAxis } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { type TimeMark, timeMarks } from "../chart/marks.ts";
import { ACCENT, ALERT, CALM, INK, INK_SOFT } from "../chart/palette.ts";
import type { TimeAxis } from "../chart/time-axis.ts";
import { approximately, duration, number, percent, plain, rate } from "../text/figures.ts";

const RANGE = "#dcebf5";
const INTERVAL = "#8fc1e0";
const SAMPLE = "#d39a6a";
const SAMPLE_DASH = [6, 4];
const FULL_DASH = [16, 6];

export function outputBandPicture(result: Result, { replications, band }: ReplicationsSummary): Picture {
  const time = chanceTime(replications, result.horizon_min);
  const full = approximately(result.output.full_per_min);
  const settled = replications.settled_output_per_min?.mean ?? null;
  const line = (label: string, values: readonly number[], style: Partial<PictureDataset>): PictureDataset => ({
    label,
    data: pointsOf(band, values, time),
    pointRadius: 0,
    ...style,
  });
  const labels: EndLabel[] = [
    ...(settled === null
      ? []
      : [{ text: `settled ${plain(rate(settled))}`, value: settled, colour: CALM, bold: true }]),
    { text: `full ${plain(rate(full))}`, value: full, colour: INK_SOFT },
  ];
  const none = { borderWidth: 0 };
  // Data sets listed first are painted on top.
  const datasets = [
    line("mean", band.mean, { borderColor: ACCENT, borderWidth: 5 }),
    line("median run", band.median, { borderColor: INK, borderWidth: 2.5 }),
    line("one run", band.sample, { borderColor: SAMPLE, borderWidth: 2.5, borderDash: SAMPLE_DASH }),
    ...(settled === null ? [] : [level("settled", settled, time, { borderColor: CALM, borderWidth: 3 })]),
    level("full", full, time, { borderColor: INK_SOFT, borderWidth: 3, borderDash: FULL_DASH }),
    ...(band.low === null || band.high === null
      ? []
      : [
          line("interval, above", band.high, { ...none, backgroundColor: INTERVAL, fill: "+1" }),
          line("interval, below", band.low, none),
        ]),
    line("95th percentile", band.p95, { ...none, backgroundColor: RANGE, fill: "+1" }),
    line("5th percentile", band.p5, none),
  ];
  const highest = Math.max(full, settled ?? 0, ...band.p95, ...band.median, ...band.sample);
  return picture({
    shown: `Output, moving average over ${plain(duration(band.averageMin))}`,
    scenarioTitle: result.title,
    finding: findingOf(replications),
    plotHeight: 480,
    time,
    y: valueAxis("items/min", Math.max(1e-6, highest * 1.2)),
    datasets,
    plugins: [
      timeMarks(marksOf(replications, time)),
      endLabels(labels),
      key([
        { kind: "line", text: "mean", colour: ACCENT, width: 5, dash: [] },
        ...(band.low === null ? [] : [fill("its 95 % interval", INTERVAL)]),
        fill("5th to 95th percentile", RANGE),
        { kind: "line", text: "median run", colour: INK, width: 2.5, dash: [] },
        { kind: "line", text: `run ${band.sampleReplication}`, colour: SAMPLE, width: 2.5, dash: SAMPLE_DASH },
      ]),
    ],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

function fill(text: string, colour: string): KeyEntry {
  return { kind: "fill", text, fill: { colour, hatch: "none", hatchColour: colour } };
}

function pointsOf({ timesMin }: OutputBand, values: readonly number[], time: TimeAxis): Point[] {
  // Cut at the axis' end, where filled areas would run over.
  return timesMin.flatMap((at, i) => (at <= time.endMin ? [{ x: at * time.scale, y: values[i] ?? 0 }] : []));
}

function level(label: string, y: number, time: TimeAxis, style: Partial<PictureDataset>): PictureDataset {
  const data = [
    { x: 0, y },
    { x: time.end, y },
  ];
  return { label, data, pointRadius: 0, ...style };
}

function marksOf(
  { ramp_up_end: ends, to_95_min: to95 }: ReplicationsSummary["replications"],
  { scale }: TimeAxis,
): TimeMark[] {
  const marks: readonly (readonly [number | null, string, string, readonly number[]])[] = [
    [ends.mser5_min, "MSER-5", INK, []],
    [ends.welch_min, "Welch", ALERT, [4, 5]],
    [to95, "95 %", CALM, [10, 5]],
  ];
  return marks.flatMap(([at, name, colour, dash]) =>
    at === null ? [] : [{ at: at * scale, text: `${name} ${plain(duration(at))}`, colour, dash }],
  );
}

function findingOf({ n, settled_output_per_min: settled, ramp_up_loss: lost }: ReplicationsSummary["replications"]) {
  if (settled === null) return `The horizon is too short to tell the long run, over ${number(n)} replications.`;
  const { mean, ci95 } = settled;
  const sure = ci95 === null ? "" : ` \u00b1 ${percent((ci95[1] - ci95[0]) / 2 / Math.max(mean, 1e-12))}`;
  const cost = lost === null ? "" : `; the ramp-up costs ${number(lost.mean)} items on average`;
  return plain(`${rate(mean)}${sure} in the long run, over ${number(n)} replications${cost}.`);
}
