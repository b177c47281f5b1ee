/** Up to eight buffers as lines, told apart by dash and marker as well as by colour, each labelled at its end. */

import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type PictureDataset, picture, valueAxis } from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { INK_SOFT, lineStyle } from "../chart/palette.ts";
import { columns, means } from "../chart/resample.ts";
import type { TimeAxis } from "../chart/time-axis.ts";
import { duration, items, plain } from "../text/figures.ts";
import type { BufferCurve } from "./buffer-curve.ts";

/** More would show single items come and go. */
const MOST_POINTS = 300;
const FULL_DASH = [6, 6];

export function bufferLines(
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
    file: "buffers.png",
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
