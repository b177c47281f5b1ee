/** Differences on the same luck: each variant less the leader with its interval, against zero. What crosses zero is not told apart. */
import type { SKRSContext2D } from "@napi-rs/canvas";
import type { LuckFigureName, PairedFigure, SameLuck } from "../../study/luck-results.ts";
import {
  acrossAxis,
  label,
  type Picture,
  type PictureDataset,
  type PicturePlugin,
  picture,
  rowAxis,
} from "../chart/frame.ts";
import { key } from "../chart/key.ts";
import { ACCENT, INK, INK_SOFT, PAPER } from "../chart/palette.ts";
import { rowHeight } from "../chart/rows.ts";
import { sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import { BASELINE, nameOf } from "../text/baseline.ts";
import { listedShort, plain } from "../text/figures.ts";
import { differenceCell, FIGURES, figureOf } from "./luck-figures.ts";

interface Row {
  readonly id: string;
  readonly paired: PairedFigure | null;
}

const RADIUS = 8;
const ZERO = { colour: INK, width: 2.5, dash: [] };

export function differencesPicture(
  luck: SameLuck,
  name: LuckFigureName,
  { title, finding }: { readonly title: string; readonly finding: string },
): Picture {
  const figure = figureOf(luck, name);
  const words = FIGURES[name];
  const leader = figure?.leader ?? null;
  const better = figure?.better === "more" ? -1 : 1;
  const rows = (figure?.variants ?? [])
    .filter(({ id, from_leader: paired }) => id === leader || paired !== null)
    .map(({ id, from_leader: paired }): Row => ({ id, paired }))
    // The leader on top, then the nearest to it.
    .toSorted(
      (a, b) =>
        better * ((a.paired?.mean ?? 0) - (b.paired?.mean ?? 0)) || Number(b.id === leader) - Number(a.id === leader),
    );
  const { shown, beyond } = withoutFar(rows);
  const ends = shown.flatMap(({ paired }) => paired?.interval ?? []);
  const [least, most] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const room = 0.06 * (most - least || 1);
  const columns = [
    {
      heading: `${words.unit}`,
      cells: rows.map(({ paired }) => (paired === null ? "leads" : plain(differenceCell(paired, words)))),
      width: 190,
    },
  ];
  return picture({
    shown: `Differences of ${words.name} on the same luck`,
    scenarioTitle: title,
    finding:
      beyond.length === 0
        ? finding
        : `${finding} Beyond the picture: ${listedShort(beyond.map(({ id }) => label(id)))}.`,
    plotHeight: Math.max(220, rows.length * rowHeight(rows.length)),
    x: acrossAxis(
      `${words.name} less that of ${leader === null ? "the leader" : label(nameOf(leader))}, ${words.unit}`,
      most + room,
      least - room,
    ),
    y: rowAxis(rows.map(({ id }) => label(id === BASELINE ? `${BASELINE} (as it is)` : id))),
    datasets: [dots(rows, beyond)],
    plugins: [
      intervals(rows, beyond),
      sideColumns("mean \u00b1 half of the interval", columns),
      key([
        { kind: "line", text: "95 % interval, all together", colour: ACCENT, width: 4, dash: [] },
        { kind: "dot", text: "told apart", colour: ACCENT },
        { kind: "dot", text: "not told apart" },
      ]),
    ],
    right: sideColumnRoom(columns),
    withKey: true,
  });
}

/** So many times as far off as the next, it would press the others together; its figures stand at its row all the same. */
const FAR = 3;

function withoutFar(rows: readonly Row[]): { readonly shown: readonly Row[]; readonly beyond: readonly Row[] } {
  const reach = ({ paired }: Row): number => Math.max(0, ...(paired?.interval ?? []).map(Math.abs));
  for (let count = 3; count < rows.length; count++) {
    const far = rows[count];
    const nearest = Math.max(...rows.slice(0, count).map(reach));
    if (far !== undefined && reach(far) > FAR * nearest)
      return { shown: rows.slice(0, count), beyond: rows.slice(count) };
  }
  return { shown: rows, beyond: [] };
}

function isTold({ paired }: Row): boolean {
  return paired === null || paired.told !== null;
}

function dots(rows: readonly Row[], beyond: readonly Row[]): PictureDataset {
  const within = rows.filter((row) => !beyond.includes(row));
  return {
    label: "difference",
    data: rows.flatMap((row, y) => (beyond.includes(row) ? [] : [{ x: row.paired?.mean ?? 0, y }])),
    showLine: false,
    pointRadius: RADIUS,
    pointBorderWidth: 2.5,
    pointBackgroundColor: within.map((row) => (isTold(row) ? ACCENT : PAPER)),
    pointBorderColor: within.map((row) => (isTold(row) ? ACCENT : INK)),
    clip: false,
  };
}

/** Zero, and the intervals with short ends, under the dots. */
function intervals(rows: readonly Row[], beyond: readonly Row[]): PicturePlugin {
  return {
    id: "intervals",
    beforeDatasetsDraw(chart) {
      const ctx: SKRSContext2D = chart.ctx;
      const { x: across, y: down } = chart.scales;
      if (across === undefined || down === undefined) return;
      const { top, bottom } = chart.chartArea;
      const stroke = (from: readonly [number, number], to: readonly [number, number]): void => {
        ctx.beginPath();
        ctx.moveTo(...from);
        ctx.lineTo(...to);
        ctx.stroke();
      };
      ctx.save();
      ctx.strokeStyle = ZERO.colour;
      ctx.lineWidth = ZERO.width;
      stroke([across.getPixelForValue(0), top], [across.getPixelForValue(0), bottom]);
      for (const [row, one] of rows.entries()) {
        const { paired } = one;
        if (paired === null || beyond.includes(one)) continue;
        const y = down.getPixelForValue(row);
        const [low, high] = paired.interval.map((end) => across.getPixelForValue(end));
        if (low === undefined || high === undefined) continue;
        ctx.strokeStyle = paired.told === null ? INK_SOFT : ACCENT;
        ctx.lineWidth = 4;
        stroke([low, y], [high, y]);
        ctx.lineWidth = 3;
        for (const end of [low, high]) stroke([end, y - 9], [end, y + 9]);
      }
      ctx.restore();
    },
  };
}
