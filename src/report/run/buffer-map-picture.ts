/** Many buffers as a heat map, the head of the line on top, in which the fill front shows as a diagonal. */

import { label, type Picture, picture, rowAxis } from "../chart/frame.ts";
import { levelCells } from "../chart/grid-cells.ts";
import { key } from "../chart/key.ts";
import { INK, PAPER } from "../chart/palette.ts";
import { columns, lastLevels } from "../chart/resample.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import type { TimeAxis } from "../chart/time-axis.ts";
import { minutesCell } from "../text/figures.ts";
import type { BufferCurve } from "./buffer-curve.ts";

const MOST_COLUMNS = 900;

export function bufferMap(
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
    file: "buffers.png",
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
