/** Charts with a row for each machine: how full its infeed buffers are, and what it does. */
import type { MachineSeries, Series } from "../core.ts";
import { STATES, type State } from "../report/chart/palette.ts";
import { shortNumber } from "./axis.ts";
import type { Drawing, Frame2d } from "./chart.ts";
import { sampleAt } from "./curves.ts";
import { svg } from "./dom.ts";
import type { Answer } from "./worker-messages.ts";

interface Rows {
  readonly height: number;
  readonly drawing: Pick<Drawing, "most" | "height" | "hasRows" | "left">;
  /** The foot of a row. */
  readonly foot: (frame: Frame2d, row: number) => number;
}

const NUMBER = /-(\d+)$/;
/** Of a letter of a name, about. */
const LETTER = 6.6;
const MOST_LETTERS = 14;

/** Numbers alone where all are of one name. */
function labelsOf(machines: readonly MachineSeries[]): string[] {
  const names = new Set(machines.map(({ id }) => id.replace(NUMBER, "")));
  return machines.map(({ id }) => (names.size === 1 ? (NUMBER.exec(id)?.[1] ?? id) : id));
}

function rowsOf(machines: readonly MachineSeries[]): Rows {
  const count = machines.length;
  const letters = labelsOf(machines).map((label) => Math.min(MOST_LETTERS, label.length));
  const height = Math.max(11, Math.min(30, Math.floor(420 / Math.max(1, count))));
  return {
    height,
    drawing: {
      most: 1,
      height: count * height + 34,
      hasRows: true,
      left: Math.max(52, 12 + LETTER * Math.max(0, ...letters)),
    },
    foot: (_, row) => 10 + (row + 1) * height,
  };
}

/** The fullness of all its infeed buffers together, 0 to 1: a machine waits for the emptiest. */
function fullness({ infeed }: MachineSeries, sample: number): number {
  return infeed.reduce(
    (least, { capacity, level }) => Math.min(least, (level[sample] ?? 0) / Math.max(1, capacity)),
    1,
  );
}

/** Whether any gets as much as half full. */
export function fillsBuffers({ series: { machines, timesMin } }: Answer): boolean {
  return timesMin.some((_, sample) => machines.some((machine) => fullness(machine, sample) >= 0.5));
}

function names(machines: readonly MachineSeries[], rows: Rows, marked: string | null, frame: Frame2d): SVGElement[] {
  const every = rows.height >= 14 ? 1 : 2;
  const labels = labelsOf(machines);
  return machines.flatMap(({ id }, row) => {
    if (row % every !== 0 && id !== marked) return [];
    const label = labels[row] ?? id;
    const text = label.length > MOST_LETTERS ? `${label.slice(0, MOST_LETTERS - 1)}…` : label;
    const y = rows.foot(frame, row) - rows.height / 2 + 4;
    return [
      svg("text", { class: id === marked ? "tick marked" : "tick", x: frame.x(0) - 6, y, "text-anchor": "end" }, text),
    ];
  });
}

/** Transparent, over each row, to be clicked. */
function targets(machines: readonly MachineSeries[], rows: Rows, frame: Frame2d, marked: string | null): SVGElement[] {
  return machines.map(({ id }, row) => {
    const y = rows.foot(frame, row) - rows.height;
    const box = { x: 0, y, width: frame.width, height: rows.height, "data-machine": id };
    return svg("rect", { ...box, class: id === marked ? "row marked" : "row" }, svg("title", {}, id));
  });
}

export function buffersDrawing({ series }: Answer, before: Answer | null, marked: string | null): Drawing {
  const { machines } = series;
  const rows = rowsOf(machines);
  const path = (of: Series, machine: MachineSeries, frame: Frame2d, row: number): string => {
    const foot = rows.foot(frame, row);
    const steps = Math.min(260, Math.floor(frame.width / 3));
    const points = Array.from({ length: steps + 1 }, (_, i) => {
      const minute = (frame.endMin * i) / steps;
      const share = fullness(machine, sampleAt(of, minute));
      return `${frame.x(minute).toFixed(1)} ${(foot - share * (rows.height - 2)).toFixed(1)}`;
    });
    return `M${frame.x(0)} ${foot}L${points.join("L")}L${frame.x(frame.endMin)} ${foot}Z`;
  };
  return {
    title: "Infeed buffers",
    unit: "each machine's, empty to full",
    ...rows.drawing,
    paint: (frame) => [
      ...machines.map((machine, row) => svg("path", { class: "fill", d: path(series, machine, frame, row) })),
      ...(before === null
        ? []
        : before.series.machines
            .slice(0, machines.length)
            .map((machine, row) =>
              svg("path", { class: "old", fill: "none", d: path(before.series, machine, frame, row) }),
            )),
      ...names(machines, rows, marked, frame),
      ...targets(machines, rows, frame, marked),
    ],
    read: (minute) => readBuffers(series, sampleAt(series, minute), marked),
    heads: machines.map(({ id }) => id),
    row: (minute) => {
      const sample = sampleAt(series, minute);
      return machines.map(({ infeed }) => infeed.map(({ level }) => shortNumber(level[sample] ?? 0)).join(" + "));
    },
  };
}

function readBuffers({ machines }: Series, sample: number, marked: string | null): string {
  const full = machines.filter((machine) => fullness(machine, sample) >= 1).length;
  const own = machines.find(({ id }) => id === marked);
  const levels = own?.infeed.map(({ item, level, capacity }) => `${level[sample] ?? 0} of ${capacity} ${item}`) ?? [];
  return `${full} of ${machines.length} buffers full${own === undefined ? "" : `; ${own.id}: ${levels.join(", ")}`}`;
}

export function statesDrawing({ series }: Answer, marked: string | null): Drawing {
  const { machines } = series;
  const rows = rowsOf(machines);
  const told = STATES.filter((state) => machines.some((machine) => machine[state].some((share) => share > 0)));
  return {
    title: "What machines do",
    unit: told.join(", "),
    ...rows.drawing,
    paint: (frame) => [
      ...machines.flatMap((machine, row) => bands(series, machine, frame, rows.foot(frame, row), rows.height - 2)),
      ...names(machines, rows, marked, frame),
      ...targets(machines, rows, frame, marked),
    ],
    read: (minute) => {
      const sample = sampleAt(series, minute);
      const own = machines.find(({ id }) => id === marked);
      const share = (of: readonly MachineSeries[], state: State): string =>
        shortNumber((100 * of.reduce((sum, one) => sum + (one[state][sample] ?? 0), 0)) / Math.max(1, of.length));
      const words = told.map((state) => `${share(own === undefined ? machines : [own], state)} % ${state}`);
      return `${own === undefined ? "all" : own.id}: ${words.join(", ")}`;
    },
    heads: machines.map(({ id }) => id),
    row: (minute) => {
      const sample = sampleAt(series, minute);
      return machines.map((one) =>
        told
          .filter((state) => (one[state][sample] ?? 0) > 0)
          .map((state) => `${state} ${shortNumber(100 * (one[state][sample] ?? 0))} %`)
          .join(", "),
      );
    },
  };
}

/** Shares of each state, one on the other, in steps of a few pixels; a stretch that is all of one state is one piece. */
function bands(series: Series, machine: MachineSeries, frame: Frame2d, foot: number, height: number): SVGElement[] {
  const steps = Math.min(200, Math.floor(frame.width / 4));
  const edges = new Map<string, string[]>();
  for (let i = 0; i < steps; i++) {
    const from = frame.x((frame.endMin * i) / steps);
    const to = frame.x((frame.endMin * (i + 1)) / steps);
    const sample = sampleAt(series, (frame.endMin * (i + 0.5)) / steps);
    let below = foot;
    for (const state of STATES) {
      const share = (machine[state][sample] ?? 0) * height;
      if (share <= 0.05) continue;
      const piece = `M${from.toFixed(1)} ${below.toFixed(1)}H${to.toFixed(1)}V${(below - share).toFixed(1)}H${from.toFixed(1)}Z`;
      edges.set(state, [...(edges.get(state) ?? []), piece]);
      below -= share;
    }
  }
  return [...edges].map(([state, pieces]) => svg("path", { class: `state-${state}`, d: pieces.join("") }));
}
