/** The charts of a run: output, buffers, states, hold-up. A run before it stands behind in grey. */
import type { Series } from "../core.ts";
import { shortNumber } from "./axis.ts";
import type { Drawing, Frame2d } from "./chart.ts";
import { svg } from "./dom.ts";
import type { Answer } from "./worker-messages.ts";

/** The sample that speaks of a minute; beyond the last the line goes on as in its last period. */
export function sampleAt({ timesMin, repeatsWithMin }: Series, minute: number): number {
  const last = timesMin.length - 1;
  const end = timesMin[last] ?? 0;
  const period = repeatsWithMin ?? 0;
  const looked = minute <= end || period <= 0 ? minute : end - period + ((minute - end) % period);
  let [low, high] = [0, last];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((timesMin[middle] ?? 0) < looked - 1e-9) low = middle + 1;
    else high = middle;
  }
  return low;
}

function curve(frame: Frame2d, series: Series, value: (sample: number) => number, name: string): SVGElement {
  const points: string[] = [];
  const steps = Math.min(600, frame.width);
  for (let i = 0; i <= steps; i++) {
    const minute = (frame.endMin * i) / steps;
    points.push(`${frame.x(minute).toFixed(1)},${frame.y(value(sampleAt(series, minute))).toFixed(1)}`);
  }
  return svg("polyline", { class: name, points: points.join(" "), fill: "none" });
}

function holdUpAt({ holdUp }: Series, sample: number): number {
  return holdUp.reduce((sum, { level }) => sum + (level[sample] ?? 0), 0);
}

export function outputDrawing({ series, result }: Answer, before: Answer | null): Drawing {
  const { output } = series;
  const at = (of: Series) => (sample: number) => of.output.movingAveragePerMin[sample] ?? 0;
  const full = ratio(result.output.full_per_min);
  const all = [...output.movingAveragePerMin, ...(before?.series.output.movingAveragePerMin ?? [])];
  return {
    title: "Output",
    unit: "products per minute",
    most: Math.max(full, ...all) * 1.05,
    paint: (frame) => [
      svg("line", { class: "aim", x1: frame.x(0), x2: frame.x(frame.endMin), y1: frame.y(full), y2: frame.y(full) }),
      ...(before === null ? [] : [curve(frame, before.series, at(before.series), "old")]),
      curve(frame, series, at(series), "new"),
      svg(
        "text",
        { class: "tick", x: frame.x(frame.endMin), y: frame.y(full) - 4, "text-anchor": "end" },
        `full output ${shortNumber(full)}`,
      ),
    ],
    read: (minute) => {
      const was = before === null ? "" : `, was ${shortNumber(at(before.series)(sampleAt(before.series, minute)))}`;
      return `${shortNumber(at(series)(sampleAt(series, minute)))}/min${was}`;
    },
    heads: ["per minute", ...(before === null ? [] : ["was"])],
    row: (minute) =>
      [series, ...(before === null ? [] : [before.series])].map((one) => shortNumber(at(one)(sampleAt(one, minute)))),
  };
}

export function holdUpDrawing({ series }: Answer, before: Answer | null): Drawing {
  const sums = [series, ...(before === null ? [] : [before.series])].flatMap((one) =>
    one.timesMin.map((_, i) => holdUpAt(one, i)),
  );
  return {
    title: "Items on the line",
    unit: "on belts and in buffers",
    most: Math.max(1, ...sums) * 1.05,
    paint: (frame) => [
      ...(before === null ? [] : [curve(frame, before.series, (i) => holdUpAt(before.series, i), "old")]),
      curve(frame, series, (i) => holdUpAt(series, i), "new"),
    ],
    read: (minute) => {
      const sample = sampleAt(series, minute);
      const kinds = series.holdUp.map(({ item, level }) => `${shortNumber(level[sample] ?? 0)} ${item}`);
      return series.holdUp.length === 1
        ? (kinds[0] ?? "")
        : `${shortNumber(holdUpAt(series, sample))}: ${kinds.join(", ")}`;
    },
    heads: series.holdUp.map(({ item }) => item),
    row: (minute) => series.holdUp.map(({ level }) => shortNumber(level[sampleAt(series, minute)] ?? 0)),
  };
}

function ratio(exact: string): number {
  const [over = "0", under = "1"] = exact.split("/");
  return Number(over) / Number(under);
}
