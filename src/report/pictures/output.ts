/** Output over time against its settled level, with the moments from which it is within tolerance and settled. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { approximately, duration, longRun, percent, plain, rate } from "../figures.ts";
import { ACCENT, ALERT, CALM, INK, INK_SOFT } from "../palette.ts";
import { type EndLabel, endLabelRoom, endLabels } from "./end-labels.ts";
import { type Picture, type PictureDataset, type Point, picture, valueAxis } from "./frame.ts";
import { type KeyEntry, key } from "./key.ts";
import { type TimeMark, timeMarks } from "./marks.ts";
import { columns, means } from "./resample.ts";
import { shownPart, type TimeAxis, timeAxis } from "./time-axis.ts";

const MOST_MEANS = 160;
const SHORT_MEAN = "#9db9cc";
const BAND = "#cfe8df";
const FULL_DASH = [16, 6];

/** Data sets listed first are painted on top. */
interface Content {
  readonly datasets: PictureDataset[];
  readonly labels: EndLabel[];
  readonly key: KeyEntry[];
}

export function outputPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const full = approximately(result.output.full_per_min);
  const settled = longRun(result.output);
  const content: Content = { datasets: [], labels: [], key: [] };
  addMovingAverage(content, result, whole, time);
  addShortMeans(content, result, shownPart(whole, time), time);
  if (settled !== null) addSettled(content, result, settled, time);
  if (settled === null || Math.abs(full - settled) > 1e-6 * full) addFull(content, full, time);
  const highest = Math.max(full, settled ?? 0, ...whole.output.movingAveragePerMin);
  return picture({
    file: "output.png",
    shown: "Output",
    scenarioTitle: result.title,
    finding: findingOf(result),
    plotHeight: 480,
    time,
    y: valueAxis("items/min", Math.max(1e-6, highest * 1.25)),
    datasets: content.datasets,
    plugins: [timeMarks(marksOf(result, time)), endLabels(content.labels), key(content.key)],
    right: endLabelRoom(content.labels),
    withKey: true,
  });
}

function addMovingAverage(content: Content, { settling }: Result, { timesMin, output }: Series, time: TimeAxis): void {
  const width = settling.moving_average_min;
  // It looks half its width ahead, which the end of the series cuts short.
  const lastWhole = (timesMin.at(-1) ?? 0) - width / 2;
  const points: Point[] = [];
  for (const [i, at] of timesMin.entries()) {
    if (at <= lastWhole) points.push({ x: at * time.scale, y: output.movingAveragePerMin[i] ?? 0 });
  }
  const line = { borderColor: ACCENT, borderWidth: 5 };
  content.datasets.push({ label: "moving average", data: points, pointRadius: 0, ...line });
  const text = `moving average over ${plain(duration(width))}`;
  content.key.push({ kind: "line", text, colour: ACCENT, width: 5, dash: [] });
}

function addShortMeans(content: Content, { settling }: Result, { timesMin, output }: Series, time: TimeAxis): void {
  // Means much shorter than the moving average would show single cycles rather than the output.
  const width = settling.moving_average_min;
  const enough = width > 0 ? Math.ceil((4 * time.endMin) / width) : MOST_MEANS;
  const cut = columns(timesMin, Math.min(MOST_MEANS, enough));
  const points = means(output.perMin, timesMin, cut).map((y, i): Point => {
    const middle = ((cut.edges[i] ?? 0) + (cut.edges[i + 1] ?? 0)) / 2;
    return { x: middle * time.scale, y };
  });
  const line = { borderColor: SHORT_MEAN, borderWidth: 2 };
  content.datasets.push({ label: "short means", data: points, pointRadius: 0, ...line });
  const text = `mean over ${plain(duration(cut.edges[1] ?? 0))}`;
  content.key.push({ kind: "line", text, colour: SHORT_MEAN, width: 2, dash: [] });
}

function addSettled(content: Content, { settling }: Result, settled: number, time: TimeAxis): void {
  const { tolerance, basis } = settling;
  const word = basis === "measured" ? "measured" : "settled";
  const band = { borderWidth: 0, backgroundColor: BAND };
  content.datasets.push(
    { ...level("settled", settled, time), borderColor: CALM, borderWidth: 3 },
    { ...level("tolerance, above", settled * (1 + tolerance), time), ...band, fill: "+1" },
    { ...level("tolerance, below", settled * (1 - tolerance), time), ...band },
  );
  content.labels.push({ text: `${word} ${plain(rate(settled))}`, value: settled, colour: CALM, bold: true });
  const fill = { colour: BAND, hatch: "none", hatchColour: BAND } as const;
  content.key.push({ kind: "fill", text: `within ${plain(percent(tolerance))} of ${word}`, fill });
}

function addFull(content: Content, full: number, time: TimeAxis): void {
  const line = { borderColor: INK_SOFT, borderWidth: 3, borderDash: FULL_DASH };
  content.datasets.push({ ...level("full", full, time), ...line });
  content.labels.push({ text: `full ${plain(rate(full))}`, value: full, colour: INK_SOFT });
}

function level(label: string, y: number, time: TimeAxis): PictureDataset {
  return {
    label,
    data: [
      { x: 0, y },
      { x: time.end, y },
    ],
    pointRadius: 0,
  };
}

function marksOf({ settling }: Result, { scale }: TimeAxis): TimeMark[] {
  const marks: TimeMark[] = [];
  if (settling.time_min !== null) {
    const text = `${settling.proved ? "settled for good at" : "settled at about"} ${plain(duration(settling.time_min))}`;
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
  const horizon = `the horizon of ${duration(horizon_min)}`;
  const within =
    settling.within_tolerance_min === null
      ? ""
      : `; within ${percent(settling.tolerance)} from ${duration(settling.within_tolerance_min)}`;
  if (settled === null) return plain(`Not settled within ${horizon}.`);
  if (settling.time_min === null) {
    return plain(`${rate(settled)} in the long run, not settled within ${horizon}${within}.`);
  }
  const how = settling.proved ? "for good from" : "from about";
  return plain(`Settled at ${rate(settled)} ${how} ${duration(settling.time_min)}${within}.`);
}
