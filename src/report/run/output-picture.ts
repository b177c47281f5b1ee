/** Output over time against its settled level, with the moments from which it is within tolerance and settled. */
import type { PlantSettling, Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { type Picture, type PictureDataset, type Point, picture, valueAxis } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { type TimeMark, timeMarks } from "../chart/marks.ts";
import { ACCENT, ALERT, CALM, INK, INK_SOFT } from "../chart/palette.ts";
import { columns, means } from "../chart/resample.ts";
import { shownPart, type TimeAxis, timeAxis } from "../chart/time-axis.ts";
import { approximately, below, duration, fromStart, longRun, percent, plain, rate, rateWord } from "../text/figures.ts";
import { nothingMade, standsStill } from "../text/standstill.ts";

const MOST_MEANS = 160;
/** So many times longer the short means may be to span whole periods. */
const MOST_PERIOD_STRETCH = 2;
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
  // By chance the average over a few cycles swings wildly, and the longer means tell more.
  const [average, short] = result.chance === undefined ? [STRONG, FAINT] : [FAINT, STRONG];
  const add = [
    () => addMovingAverage(content, result, whole, time, average),
    () => addShortMeans(content, result, shownPart(whole, time), time, short),
  ];
  for (const one of result.chance === undefined ? add : add.reverse()) one();
  if (settled !== null) addSettled(content, result, settled, time);
  if (settled === null || Math.abs(full - settled) > 1e-6 * full) addFull(content, full, time);
  const highest = Math.max(full, settled ?? 0, ...whole.output.movingAveragePerMin);
  return picture({
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

interface Stroke {
  readonly colour: string;
  readonly width: number;
}

const STRONG: Stroke = { colour: ACCENT, width: 5 };
const FAINT: Stroke = { colour: SHORT_MEAN, width: 2 };

function addMovingAverage(
  content: Content,
  { settling }: Result,
  { timesMin, output }: Series,
  time: TimeAxis,
  { colour, width: stroke }: Stroke,
): void {
  const width = output.averagedOverMin;
  // It looks half its width ahead, which the end of the series cuts short unless what follows is known.
  const lastWhole = (timesMin.at(-1) ?? 0) - (settling.proved ? 0 : width / 2);
  const points: Point[] = [];
  for (const [i, at] of timesMin.entries()) {
    if (at <= lastWhole) points.push({ x: at * time.scale, y: output.movingAveragePerMin[i] ?? 0 });
  }
  const line = { borderColor: colour, borderWidth: stroke };
  content.datasets.push({ label: "moving average", data: points, pointRadius: 0, ...line });
  const text = `moving average over ${plain(duration(width))}`;
  content.key.push({ kind: "line", text, colour, width: stroke, dash: [] });
}

function addShortMeans(
  content: Content,
  { settling }: Result,
  { timesMin, output }: Series,
  time: TimeAxis,
  { colour, width: stroke }: Stroke,
): void {
  // Means much shorter than the moving average would show single cycles rather than the output.
  const width = output.averagedOverMin;
  const enough = width > 0 ? Math.ceil((4 * time.endMin) / width) : MOST_MEANS;
  const most = Math.min(MOST_MEANS, enough);
  const step = samplesOfPeriods(settling, timesMin, MOST_PERIOD_STRETCH / most);
  const cut = columns(timesMin, most, step ?? 1);
  // Means over other than whole periods would make the output of a settled line seem to go up and down.
  const lastMin = step === null && settling.time_min !== null ? fromStart(settling, settling.time_min) : Infinity;
  const points = means(output.perMin, timesMin, cut).flatMap((y, i): Point[] => {
    const [from = 0, to = 0] = cut.edges.slice(i, i + 2);
    const isWhole = step === null || ((cut.starts[i + 1] ?? 0) - (cut.starts[i] ?? 0)) % step === 0;
    return to <= lastMin && isWhole ? [{ x: ((from + to) / 2) * time.scale, y }] : [];
  });
  const line = { borderColor: colour, borderWidth: stroke };
  content.datasets.push({ label: "short means", data: points, pointRadius: 0, ...line });
  const text = `mean over ${plain(duration(cut.edges[1] ?? 0))}`;
  content.key.push({ kind: "line", text, colour, width: stroke, dash: [] });
}

/**
 * The fewest samples that make whole periods; `null` where they would be more than a share of all. Where nothing is
 * proved to repeat, any number will do.
 */
function samplesOfPeriods({ proved, period_min: period }: PlantSettling, timesMin: readonly number[], share: number) {
  if (!proved || period === null) return 1;
  const perPeriod = period / (timesMin[0] ?? period);
  for (let samples = 1; samples <= share * timesMin.length; samples++) {
    const periods = samples / perPeriod;
    if (periods > 1 - 1e-6 && Math.abs(periods - Math.round(periods)) < 1e-6) return samples;
  }
  return null;
}

function addSettled(content: Content, { settling }: Result, settled: number, time: TimeAxis): void {
  const { tolerance } = settling;
  const word = rateWord(settling);
  const band = { borderWidth: 0, backgroundColor: BAND };
  content.datasets.push(
    { ...level("settled", settled, time), borderColor: CALM, borderWidth: 3 },
    { ...level("tolerance, above", settled * (1 + tolerance), time), ...band, fill: "+1" },
    { ...level("tolerance, below", settled * (1 - tolerance), time), ...band },
  );
  content.labels.push({ text: `${word} ${plain(rate(settled))}`, value: settled, colour: CALM, bold: true });
  if (settled === 0) return;
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

function marksOf(result: Result, { scale }: TimeAxis): TimeMark[] {
  const { settling } = result;
  const isStill = standsStill(result);
  const marks: TimeMark[] = [];
  if (settling.time_min !== null && !(isStill && result.output.made === 0)) {
    const at = fromStart(settling, settling.time_min);
    const isFull = !below(longRun(result.output) ?? 0, approximately(result.output.full_per_min));
    const text = `${isStill ? "nothing made" : isFull ? "full" : "settled"} from ${plain(duration(at))}`;
    marks.push({ at: at * scale, text, colour: INK, dash: [] });
  }
  if (settling.to_95_min !== null) {
    const at = fromStart(settling, settling.to_95_min);
    marks.push({ at: at * scale, text: `95 % from ${plain(duration(at))}`, colour: ALERT, dash: [4, 5] });
  }
  return marks;
}

function findingOf(result: Result): string {
  const { settling, output, horizon_min, chance } = result;
  if (chance !== undefined) {
    const { mean } = chance.settled_output_per_min;
    return plain(`${rate(mean)} after ${duration(chance.counted_from_min)} in this one run; chance plays a part.`);
  }
  if (standsStill(result)) return plain(`${nothingMade(result)}: the line stops for good.`);
  const settled = longRun(output);
  const horizon = `the horizon of ${duration(horizon_min)}`;
  if (settled === null) return plain(`Not settled within ${horizon}.`);
  if (settling.time_min === null || settling.to_95_min === null) {
    return plain(`${rate(settled)} in the long run, not settled within ${horizon}.`);
  }
  const [at95, full] = [settling.to_95_min, settling.time_min].map((min) => duration(fromStart(settling, min)));
  return plain(`Settles at ${rate(settled)}: 95 % from ${at95}, all of it from ${full}.`);
}
