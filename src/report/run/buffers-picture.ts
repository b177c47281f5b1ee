/** Level of every infeed buffer over time: a line each for up to four, whose lines can be told apart where they cross, else a heat map. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type PictureDataset, picture, rowAxis, valueAxis } from "../chart/frame.ts";
import { levelCells } from "../chart/grid-cells.ts";
import { key } from "../chart/key.ts";
import { INK, INK_SOFT, lineStyle, PAPER } from "../chart/palette.ts";
import { columns, lastLevels, means } from "../chart/resample.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import { shownPart, type TimeAxis, timeAxis } from "../chart/time-axis.ts";
import { duration, items, listedShort, minutesCell, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

const MOST_LINES = 4;

export function buffersPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const curves = bufferCurves(result, series);
  const finding = `${findingOf(curves, result.settling.proved)}${runningEmpty(curves)}`;
  return curves.length <= MOST_LINES
    ? bufferLines(result.title, finding, time, series.timesMin, curves)
    : bufferMap(result.title, finding, time, series.timesMin, curves, result.settling.proved ? "never" : "not yet");
}

/** Head of the line first, as the series has the machines. */
function bufferCurves(result: Result, series: Series): BufferCurve[] {
  const machines = new Map(result.machines.map((machine) => [machine.id, machine]));
  return series.machines.flatMap((machine) =>
    machine.infeed.map((buffer) => ({
      name: oneLine(machine.infeed.length > 1 ? `${machine.id} ${buffer.item}` : machine.id),
      capacity: buffer.capacity,
      level: buffer.level,
      fullAtMin: machines.get(machine.id)?.infeed.find(({ item }) => item === buffer.item)?.full_at_min ?? null,
    })),
  );
}

/** Full for a while and empty in the end: what was filled is used up. */
function runningEmpty(curves: readonly BufferCurve[]): string {
  const names = curves.filter(({ level, capacity }) => {
    const highest = level.reduce((most, count) => Math.max(most, count), 0);
    return capacity > 1 && highest >= capacity / 2 && (level.at(-1) ?? 0) < 1;
  });
  if (names.length === 0) return "";
  const verb = names.length === 1 ? "runs" : "run";
  return ` ${listedShort(
    names.map(({ name }) => name),
    2,
  )} ${verb} empty again.`;
}

function findingOf(curves: readonly BufferCurve[], proved: boolean): string {
  if (curves.length === 0) return "There are no infeed buffers.";
  const others: string[] = [];
  let last: { name: string; at: number } | undefined;
  for (const { name, fullAtMin } of curves) {
    if (fullAtMin === null) others.push(name);
    else if (last === undefined || fullAtMin > last.at) last = { name, at: fullAtMin };
  }
  if (last === undefined) return `No buffer is ${proved ? "ever full" : "full by the end"}.`;
  const when = `the last at ${plain(duration(last.at))} (${last.name})`;
  if (others.length === 0) return `All ${curves.length} buffers fill, ${when}.`;
  const names = others.length > 3 ? `the other ${others.length}` : listedShort(others);
  const one = others.length === 1;
  const never = proved ? `never ${one ? "does" : "do"}` : `${one ? "is" : "are"} not full by the end`;
  return `${curves.length - others.length} of ${curves.length} buffers fill, ${when}; ${names} ${never}.`;
}

const MOST_COLUMNS = 900;

function bufferMap(
  scenarioTitle: string,
  finding: string,
  time: TimeAxis,
  timesMin: readonly number[],
  all: readonly BufferCurve[],
  notFull: string,
): Picture {
  const { rows: curves, note } = shownRows(all);
  const cut = columns(timesMin, MOST_COLUMNS);
  const height = rowHeight(curves.length);
  const fullMarks = curves.flatMap(({ fullAtMin }, y) =>
    fullAtMin === null || fullAtMin * time.scale > time.end ? [] : [{ x: fullAtMin * time.scale, y }],
  );
  const side: SideColumn[] = [
    {
      heading: "min",
      cells: curves.map(({ fullAtMin }) => (fullAtMin === null ? notFull : minutesCell(fullAtMin))),
      width: 78,
    },
  ];
  return picture({
    shown: `Infeed buffers${note}, head of the line on top`,
    scenarioTitle,
    finding,
    plotHeight: Math.round(height * curves.length),
    time,
    y: rowAxis(curves.map(({ name }) => label(name))),
    datasets: [
      {
        label: "full for the first time",
        data: fullMarks,
        showLine: false,
        pointStyle: "circle",
        pointRadius: Math.min(6, height / 3.2),
        pointBackgroundColor: PAPER,
        pointBorderColor: INK,
        pointBorderWidth: height >= 20 ? 2 : 1,
      },
    ],
    plugins: [
      levelCells({
        edges: cut.edges.map((edge) => edge * time.scale),
        shares: curves.map(({ level, capacity }) => lastLevels(level, cut).map((count) => count / capacity)),
      }),
      sideColumns("full at", side),
      key([
        { kind: "levels", before: "empty", text: "full, 100 % of capacity" },
        { kind: "dot", text: "full for the first time" },
      ]),
    ],
    right: sideColumnRoom(side),
    withKey: true,
  });
}

/** More would show single items come and go. */
const MOST_POINTS = 300;
const FULL_DASH = [6, 6];

function bufferLines(
  scenarioTitle: string,
  finding: string,
  time: TimeAxis,
  timesMin: readonly number[],
  curves: readonly BufferCurve[],
): Picture {
  const capacity = curves[0]?.capacity ?? 1;
  const alike = curves.every((curve) => curve.capacity === capacity);
  const top = alike ? capacity : 100;
  const cut = columns(timesMin, MOST_POINTS);
  const joined = cut.edges.length - 1 < timesMin.length;
  const datasets: PictureDataset[] = [
    {
      label: "full",
      data: [
        { x: 0, y: top },
        { x: time.end, y: top },
      ],
      borderColor: INK_SOFT,
      borderWidth: 1.5,
      borderDash: FULL_DASH,
      pointRadius: 0,
    },
  ];
  const labels: EndLabel[] = [];
  for (const [index, curve] of curves.entries()) {
    const style = lineStyle(index);
    const level = joined ? means(curve.level, timesMin, cut) : curve.level;
    const levels = alike ? level : level.map((count) => (100 * count) / curve.capacity);
    const points = levels.map((y, i) => ({ x: (cut.edges[i + 1] ?? 0) * time.scale, y }));
    const look = {
      borderColor: style.colour,
      backgroundColor: style.colour,
      pointStyle: style.marker,
      pointBorderWidth: 3,
    };
    const marked = markedAt(levels, top, index / curves.length);
    // By themselves, since points of more than one size take chart.js as long as all else. The last is beneath all others.
    datasets.push(
      { ...look, label: "marks", data: points.filter((_, i) => marked[i]), showLine: false, pointRadius: 8 },
      { ...look, label: curve.name, data: points, borderDash: [...style.dash], borderWidth: 3.5, pointRadius: 0 },
    );
    labels.push({ text: label(curve.name), value: levels.at(-1) ?? 0, colour: style.colour, style });
  }
  const over = joined ? ` (mean over ${plain(duration(cut.edges[1] ?? 0))})` : "";
  return picture({
    shown: "Infeed buffers",
    scenarioTitle,
    finding,
    plotHeight: 500,
    time,
    y: valueAxis(`level, ${alike ? "items" : "% of capacity"}${over}`, top * 1.06),
    datasets,
    plugins: [
      endLabels(labels),
      key([
        {
          kind: "line",
          text: alike ? `full (${plain(items(capacity))})` : "full (100 % of capacity)",
          colour: INK_SOFT,
          width: 1.5,
          dash: FULL_DASH,
        },
      ]),
    ],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

/**
 * Markers halfway up the first rise, and at every eighth of the time while the level is neither empty nor full, where
 * lines would only cover one another.
 * @param offset 0 to 1, so that each line has its markers at its own moments
 */
function markedAt(levels: readonly number[], top: number, offset: number): boolean[] {
  const every = Math.max(1, Math.floor(levels.length / 8));
  const half = levels.findIndex((level) => level >= top / 2);
  const first = Math.floor(every * offset);
  return levels.map((level, i) => {
    const between = level > 0.06 * top && level < 0.94 * top;
    const near = Math.abs(i - half) < every / 3;
    return i === half || (between && !near && i % every === first);
  });
}

/** The level of one infeed buffer over time, as the pictures show it. */
export interface BufferCurve {
  readonly name: string;
  readonly capacity: number;
  /** Items at the end of each sample. */
  readonly level: readonly number[];
  readonly fullAtMin: number | null;
}
