/** Output over time against its settled level, with the moments from which it is within tolerance and settled. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { approximately, duration, longRun, percent, plain, rate } from "../figures.ts";
import { ACCENT, ALERT, CALM, INK, INK_SOFT } from "../palette.ts";
import { type EndLabel, endLabelRoom, endLabels } from "./end-labels.ts";
import { type Picture, type PictureDataset, picture, valueAxis } from "./frame.ts";
import { type KeyEntry, key } from "./key.ts";
import { type TimeMark, timeMarks } from "./marks.ts";
import { columns, means } from "./resample.ts";
import { shownPart, timeAxis } from "./time-axis.ts";

const MOST_MEANS = 160;
const RAW = "#9db9cc";
const BAND = "#cfe8df";
const FULL_DASH = [16, 6];

export function outputPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const { settling, output } = result;
  const settled = longRun(output);
  const full = approximately(output.full_per_min);
  const showFull = settled === null || Math.abs(full - settled) > 1e-6 * full;
  const reference = Math.max(full, settled ?? 0, ...series.output.movingAveragePerMin);
  const max = Math.max(1e-6, reference * 1.25);

  // Shorter means would show single cycles rather than the output.
  const fewest =
    settling.moving_average_min > 0 ? Math.ceil((4 * time.endMin) / settling.moving_average_min) : MOST_MEANS;
  const cut = columns(series.timesMin, Math.min(MOST_MEANS, fewest));

  const level = (label: string, y: number, look: object): PictureDataset => ({
    label,
    data: [
      { x: 0, y },
      { x: time.end, y },
    ],
    pointRadius: 0,
    ...look,
  });
  const datasets: PictureDataset[] = [];
  const labels: EndLabel[] = [];
  const entries: KeyEntry[] = [
    { kind: "line", text: `mean over ${plain(duration(cut.edges[1] ?? 0))}`, colour: RAW, width: 2, dash: [] },
    {
      kind: "line",
      text: `moving average over ${plain(duration(settling.moving_average_min))}`,
      colour: ACCENT,
      width: 5,
      dash: [],
    },
  ];
  // Lines listed first are painted on top.
  datasets.push({
    label: "moving average",
    data: series.output.movingAveragePerMin.map((y, i) => ({ x: (series.timesMin[i] ?? 0) * time.scale, y })),
    borderColor: ACCENT,
    borderWidth: 5,
    pointRadius: 0,
  });
  datasets.push({
    label: "short means",
    data: means(series.output.perMin, series.timesMin, cut).map((y, i) => ({
      x: (((cut.edges[i] ?? 0) + (cut.edges[i + 1] ?? 0)) / 2) * time.scale,
      y,
    })),
    borderColor: RAW,
    borderWidth: 2,
    pointRadius: 0,
  });
  if (settled !== null) {
    const low = settled * (1 - settling.tolerance);
    const high = settled * (1 + settling.tolerance);
    datasets.push(level("settled", settled, { borderColor: CALM, borderWidth: 3 }));
    datasets.push(level("tolerance, above", high, { borderWidth: 0, fill: "+1", backgroundColor: BAND }));
    datasets.push(level("tolerance, below", low, { borderWidth: 0 }));
    const word = settling.basis === "measured" ? "measured" : "settled";
    labels.push({ text: `${word} ${plain(rate(settled))}`, value: settled, colour: CALM, bold: true });
    entries.push({
      kind: "fill",
      text: `within ${plain(percent(settling.tolerance))} of ${word}`,
      fill: { colour: BAND, hatch: "none", hatchColour: BAND },
    });
  }
  if (showFull) {
    datasets.push(level("full", full, { borderColor: INK_SOFT, borderWidth: 3, borderDash: FULL_DASH }));
    labels.push({ text: `full ${plain(rate(full))}`, value: full, colour: INK_SOFT });
  }
  const marks = marksOf(result, time.scale);
  return picture({
    file: "output.png",
    shown: "Output",
    scenarioTitle: result.title,
    finding: findingOf(result),
    plotHeight: 480,
    time,
    y: valueAxis("items/min", max),
    datasets,
    plugins: [timeMarks(marks), endLabels(labels), key(entries)],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

function marksOf({ settling }: Result, scale: number): TimeMark[] {
  const marks: TimeMark[] = [];
  if (settling.time_min !== null) {
    const text = `${settling.proved ? "settled for good at" : "settled (estimate) at"} ${plain(duration(settling.time_min))}`;
    marks.push({ at: settling.time_min * scale, text, colour: INK, dash: [] });
  }
  if (settling.within_tolerance_min !== null) {
    const text = `within ${plain(percent(settling.tolerance))} from ${plain(duration(settling.within_tolerance_min))}`;
    marks.push({ at: settling.within_tolerance_min * scale, text, colour: ALERT, dash: [4, 5] });
  }
  return marks;
}

function findingOf({ settling, output, horizon_min }: Result): string {
  const settled = longRun(output);
  const within =
    settling.within_tolerance_min === null
      ? ""
      : `; within ${percent(settling.tolerance)} from ${duration(settling.within_tolerance_min)}`;
  if (settled === null) return plain(`Not settled within the horizon of ${duration(horizon_min)}.`);
  if (settling.time_min === null) {
    return plain(
      `${rate(settled)} in the long run, not settled within the horizon of ${duration(horizon_min)}${within}.`,
    );
  }
  const how = settling.proved ? "for good from" : "by estimate from";
  return plain(`Settled at ${rate(settled)} ${how} ${duration(settling.time_min)}${within}.`);
}
