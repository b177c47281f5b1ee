/** What all pictures share: size, title, subtitle, time axis, fonts. */
import type { ChartConfiguration, Plugin } from "chart.js";
import { number, plain } from "../text/figures.ts";
import { oneLine, shorten, wrapAtMost } from "../text/text-width.ts";
import { FONT_FAMILY, pixels } from "./font.ts";
import { GRID, INK, INK_SOFT } from "./palette.ts";
import type { TimeAxis } from "./time-axis.ts";

export interface Point {
  readonly x: number;
  readonly y: number;
}

export type PictureConfig = ChartConfiguration<"line", Point[]>;
export type PictureDataset = PictureConfig["data"]["datasets"][number];
export type PicturePlugin = Plugin<"line">;
export type Scale = NonNullable<NonNullable<NonNullable<PictureConfig["options"]>["scales"]>[string]>;

/** One picture before it is painted; its file is named by who lists it (../pictures.ts). */
export interface Picture {
  readonly title: string;
  /** What was found: the subtitle, and the words for readers who can't see the picture. */
  readonly finding: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  readonly config: PictureConfig;
}

/** Pixels; the text stays legible when the picture is shown as wide as a phone. */
const WIDTH = 1200;
export const TEXT_SIZE = 23;
const TITLE_SIZE = 32;
const SUBTITLE_SIZE = 26;

const EDGE = 24;
const LABEL_WIDTH = 230;
/** The topmost figure of the value axis reaches into it. */
const KEY_HEIGHT = 60;
/** Time axis with its figures and title. */
const FOOT = 84;

/** A name cut to the room that rows and lines have for labels. */
export function label(name: string): string {
  return shorten(oneLine(name), LABEL_WIDTH, pixels(TEXT_SIZE));
}

function axisTitle(text: string): { display: true; text: string; color: string; font: { size: number } } {
  return { display: true, text, color: INK, font: { size: TEXT_SIZE } };
}

const TICKS = {
  color: INK,
  font: { size: TEXT_SIZE },
  includeBounds: false,
  callback: (value: string | number): string => (typeof value === "number" ? number(value, 4) : value),
} as const;

/** A value axis, from 0 unless told otherwise. */
export function valueAxis(title: string, max: number, min = 0): Scale {
  return {
    type: "linear",
    min,
    max,
    title: axisTitle(title),
    ticks: { ...TICKS, maxTicksLimit: 7 },
    grid: { color: GRID },
    border: { color: INK_SOFT },
  };
}

/** From left to right. @param whole only whole numbers are written */
export function acrossAxis(title: string, max: number, min = 0, whole = false): Scale {
  return {
    type: "linear",
    min,
    max,
    title: axisTitle(title),
    ticks: { ...TICKS, maxTicksLimit: 11, maxRotation: 0, ...(whole ? { precision: 0 } : {}) },
    grid: { color: GRID },
    border: { color: INK_SOFT },
  };
}

/** One row each, the first on top; as many labels as there is room for. */
export function rowAxis(labels: readonly string[], title?: string): Scale {
  return { ...namesAxis(labels, title), ticks: { ...NAME_TICKS, padding: 8 } };
}

/** The same from left to right. */
export function columnAxis(labels: readonly string[], title: string): Scale {
  return { ...namesAxis(labels, title), ticks: { ...NAME_TICKS, autoSkipPadding: 12, maxRotation: 0 } };
}

const NAME_TICKS = { color: INK, font: { size: TEXT_SIZE }, autoSkip: true, autoSkipPadding: 0 } as const;

function namesAxis(labels: readonly string[], title: string | undefined) {
  return {
    type: "category" as const,
    labels: [...labels],
    offset: true,
    ...(title === undefined ? {} : { title: axisTitle(title) }),
    grid: { display: false },
    border: { display: false },
  };
}

/** Keeps room to the right of the plot, but not of the title, which padding would do. */
function emptyAxis(width: number): Scale {
  return {
    type: "linear",
    position: "right",
    // Otherwise its figures are put into words all the same, in a formatter whose making takes 20 ms.
    ticks: { display: false, callback: () => "" },
    grid: { display: false },
    border: { display: false },
    afterFit(scale) {
      scale.width = Math.max(0, width);
    },
  };
}

interface FrameParts {
  /** What is shown. */
  readonly shown: string;
  readonly scenarioTitle: string;
  readonly finding: string;
  /** Height of the plot, pixels. */
  readonly plotHeight: number;
  readonly y: Scale;
  readonly datasets: readonly PictureDataset[];
  readonly plugins: readonly PicturePlugin[];
  /** Room to the right of the plot, pixels. */
  readonly right: number;
  /** Whether a key, or the headings of side columns, stand between subtitle and plot. */
  readonly withKey: boolean;
}

/** From left to right runs time, or what `x` says. */
export type Frame = FrameParts & ({ readonly time: TimeAxis } | { readonly x: Scale });

export function picture(frame: Frame): Picture {
  const title = oneLine(`${frame.shown} · ${frame.scenarioTitle}`);
  const titleLines = wrapAtMost(title, WIDTH - 2 * EDGE, 2, pixels(TITLE_SIZE));
  const findingLines = wrapAtMost(frame.finding, WIDTH - 2 * EDGE, 2, pixels(SUBTITLE_SIZE));
  const keyHeight = frame.withKey ? KEY_HEIGHT : 12;
  const head = EDGE + 8 + titleLines.length * TITLE_SIZE * 1.2 + findingLines.length * SUBTITLE_SIZE * 1.2 + keyHeight;
  return {
    title,
    finding: plain(frame.finding),
    width: WIDTH,
    height: Math.round(head + frame.plotHeight + FOOT),
    config: {
      type: "line",
      data: { datasets: [...frame.datasets] },
      options: {
        responsive: false,
        animation: false,
        parsing: false,
        devicePixelRatio: 1,
        font: { family: FONT_FAMILY, size: TEXT_SIZE },
        // Thick lines would throw spikes where they turn.
        elements: { line: { borderJoinStyle: "round" } },
        layout: { padding: { left: EDGE, right: EDGE, top: EDGE - 8, bottom: 8 } },
        plugins: {
          legend: { display: false },
          tooltip: { enabled: false },
          title: {
            display: true,
            align: "start",
            text: titleLines,
            color: INK,
            font: { family: FONT_FAMILY, size: TITLE_SIZE, weight: 600 },
            padding: { top: 0, bottom: 4 },
          },
          subtitle: {
            display: true,
            align: "start",
            text: findingLines,
            color: INK_SOFT,
            font: { family: FONT_FAMILY, size: SUBTITLE_SIZE },
            padding: { top: 0, bottom: keyHeight },
          },
        },
        scales: {
          x: "time" in frame ? acrossAxis(frame.time.title, frame.time.end) : frame.x,
          y: frame.y,
          room: emptyAxis(frame.right - EDGE),
        },
      },
      plugins: [...frame.plugins],
    },
  };
}
