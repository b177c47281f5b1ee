/** The mean level of every infeed buffer over replications: a heat map, the head of the line on top. */
import type { Result } from "../../analysis/result.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { chanceTime } from "../chart/chance-time.ts";
import { label, type Picture, picture, rowAxis } from "../chart/frame.ts";
import { levelCells } from "../chart/grid-cells.ts";
import { key } from "../chart/key.ts";
import { columns, lastLevels } from "../chart/resample.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import { duration, number, percent, percentCell, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

const MOST_COLUMNS = 900;

export function meanBuffersPicture(result: Result, summed: ReplicationsSummary): Picture {
  const { replications, grid } = summed;
  const time = chanceTime(replications, result.horizon_min);
  const several = new Set(
    summed.buffers.map(({ machine }) => machine).filter((machine, i, all) => all.indexOf(machine) !== i),
  );
  const all = summed.buffers.map(({ machine, item, capacity, level }) => ({
    name: oneLine(several.has(machine) ? `${machine} ${item}` : machine),
    shares: level.map((items) => items / capacity),
  }));
  const { rows, note } = shownRows(all);
  const timesMin = Array.from({ length: grid.points }, (_, i) => (i + 1) * grid.stepMin);
  const shown = timesMin.findIndex((at) => at >= time.endMin);
  const cut = columns(timesMin.slice(0, shown < 0 ? timesMin.length : shown + 1), MOST_COLUMNS);
  const fromMin = replications.hold_up_counted_from_min ?? replications.counted_from_min ?? result.horizon_min / 2;
  const from = timesMin.findIndex((at) => at > fromMin);
  const settled = rows.map(({ shares }) => meanOf(shares.slice(Math.max(0, from))));
  const side: SideColumn[] = [{ heading: "%", cells: settled.map(percentCell), width: 78 }];
  return picture({
    shown: `Infeed buffers, mean of ${number(replications.n)} replications${note}, head of the line on top`,
    scenarioTitle: result.title,
    finding: findingOf(rows, settled, fromMin),
    plotHeight: Math.round(rowHeight(rows.length) * rows.length),
    time,
    y: rowAxis(rows.map(({ name }) => label(name))),
    datasets: [],
    plugins: [
      levelCells({
        edges: cut.edges.map((edge) => edge * time.scale),
        shares: rows.map(({ shares }) => lastLevels(shares, cut)),
      }),
      sideColumns("settled", side),
      key([{ kind: "levels", before: "empty", text: "full, 100 % of capacity" }]),
    ],
    right: sideColumnRoom(side),
    withKey: true,
  });
}

function findingOf(rows: readonly { readonly name: string }[], settled: readonly number[], fromMin: number): string {
  const [first] = settled;
  if (first === undefined) return "There are no infeed buffers.";
  const [low, high] = [settled.indexOf(Math.min(...settled)), settled.indexOf(Math.max(...settled))];
  const one = (row: number): string => `${rows[row]?.name ?? ""} ${percent(settled[row] ?? 0)}`;
  const after = `From ${duration(fromMin)} on`;
  if (rows.length === 1) return plain(`${after} the buffer is ${percent(first)} full on average.`);
  return plain(`${after} buffers are ${percent(meanOf(settled))} full on average: ${one(high)}, ${one(low)}.`);
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}
