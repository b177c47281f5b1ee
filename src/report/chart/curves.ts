/** A few figures over a quantity: a curve each, its name at its end, points whose settling is not proved hollow. */
import { number, plain } from "../text/figures.ts";
import { type EndLabel, endLabelRoom, endLabels } from "./end-labels.ts";
import { type Picture, type PictureDataset, picture, type Scale, valueAxis } from "./frame.ts";
import { type KeyEntry, key } from "./key.ts";
import { type TimeMark, timeMarks } from "./marks.ts";
import { lineStyle, PAPER } from "./palette.ts";

export interface Curves<T> {
  readonly shown: string;
  readonly scenarioTitle: string;
  readonly finding: string;
  readonly x: Scale;
  readonly y: string;
  /** Of the figures at the ends of the lines. */
  readonly unit: string;
  readonly decimals: number;
  readonly curves: readonly { readonly name: string; readonly of: (point: T) => number | null }[];
  /** From left to right. */
  readonly points: readonly T[];
  readonly at: (point: T) => number;
  readonly isProved: (point: T) => boolean;
  readonly marks: readonly TimeMark[];
  /** Whether there is something between two points. */
  readonly joined: boolean;
  /** Whether its values may be looked at from near, without nothing at all. */
  readonly isNear?: boolean;
}

/** Of the highest. */
const CLOSE = 1 / 4;

/** More points would run into one another. */
const MOST_MARKED = 60;

export function curvesPicture<T>(content: Curves<T>): Picture {
  const { points, curves } = content;
  const values = curves.flatMap(({ of }) => points.map((point) => of(point) ?? 0));
  const highest = Math.max(1e-3, ...values);
  const lowest = Math.min(...values);
  // What hardly differs would be one line at the top.
  const isClose = content.isNear === true && highest - lowest < highest * CLOSE;
  const above = isClose ? Math.max(highest - lowest, highest * 0.01) * 0.3 : highest * 0.12;
  const labels = curves.flatMap(({ name, of }, index): EndLabel[] => {
    const value = points.reduce<number | null>((latest, point) => of(point) ?? latest, null);
    const style = lineStyle(index);
    if (value === null) return [];
    const text = `${name} ${plain(number(value, content.decimals))}${content.unit}`;
    return [{ text, value, colour: style.colour, style }];
  });
  const entries = keyEntries(content);
  return picture({
    shown: content.shown,
    scenarioTitle: content.scenarioTitle,
    finding: content.finding,
    plotHeight: 480,
    x: content.x,
    y: valueAxis(
      isClose ? `${content.y} (axis not from 0)` : content.y,
      highest + above,
      isClose ? lowest - above : Math.min(0, lowest),
    ),
    datasets: curves.map((_, index) => curveDataset(content, index)),
    plugins: [timeMarks(content.marks), endLabels(labels), key(entries)],
    right: endLabelRoom(labels),
    withKey: entries.length > 0,
  });
}

function curveDataset<T>({ curves, points, at, isProved, joined }: Curves<T>, index: number): PictureDataset {
  const style = lineStyle(index);
  const curve = curves[index];
  return {
    label: curve?.name ?? "",
    // A point without the figure leaves a gap.
    data: points.map((point) => ({ x: at(point), y: curve?.of(point) ?? Number.NaN })),
    showLine: joined,
    borderColor: style.colour,
    borderDash: [...style.dash],
    borderWidth: 3.5,
    pointStyle: style.marker,
    pointRadius: !joined || points.length <= MOST_MARKED ? 6 : 0,
    pointBorderWidth: 2.5,
    pointBorderColor: style.colour,
    pointBackgroundColor: points.map((point) => (isProved(point) ? style.colour : PAPER)),
    clip: false,
  };
}

function keyEntries<T>({ points, isProved, joined }: Curves<T>): KeyEntry[] {
  if ((joined && points.length > MOST_MARKED) || points.every(isProved)) return [];
  return [{ kind: "dot", text: "hollow: settling not proved" }];
}
