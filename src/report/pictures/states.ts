/** What every machine does over time: a strip each, the shares of its states stacked, its uptime at the right. */
import type { MachineResult, Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { duration, percent, percentCell, plain } from "../figures.ts";
import { STATE_FILLS, STATES } from "../palette.ts";
import { oneLine } from "../text-width.ts";
import { stateCells } from "./cells.ts";
import { label, type Picture, picture, rowAxis } from "./frame.ts";
import { key } from "./key.ts";
import { columns, meanShares } from "./resample.ts";
import { rowHeight } from "./rows.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "./side-columns.ts";
import { shownPart, timeAxis } from "./time-axis.ts";

const MOST_COLUMNS = 450;

export function statesPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const cut = columns(series.timesMin, MOST_COLUMNS);
  const results = new Map(result.machines.map((machine) => [machine.id, machine]));
  const share = (value: number | null | undefined): string => (typeof value === "number" ? percentCell(value) : "–");
  const side: SideColumn[] = [
    {
      heading: "ramp-up",
      cells: series.machines.map(({ id }) => share(results.get(id)?.uptime.ramp_up)),
      width: 86,
    },
    {
      heading: "settled",
      cells: series.machines.map(({ id }) => share(results.get(id)?.uptime.settled)),
      width: 78,
    },
  ];
  const means = (values: readonly number[]): number[] => meanShares(values, series.timesMin, cut);
  const present = STATES.filter(
    (state) => state === "running" || state === "starved" || series.machines.some((m) => m[state].some((s) => s > 0)),
  );
  return picture({
    file: "states.png",
    shown: "What every machine does",
    scenarioTitle: result.title,
    finding: findingOf(result),
    plotHeight: Math.round(rowHeight(series.machines.length) * series.machines.length),
    time,
    y: rowAxis(series.machines.map(({ id }) => label(id))),
    datasets: [],
    plugins: [
      stateCells({
        edges: cut.edges.map((edge) => edge * time.scale),
        shares: series.machines.map((machine) => ({
          running: means(machine.running),
          starved: means(machine.starved),
          blocked: means(machine.blocked),
          down: means(machine.down),
          held: means(machine.held),
        })),
      }),
      sideColumns("uptime, %", side),
      key(present.map((state) => ({ kind: "fill", text: state, fill: STATE_FILLS[state] }))),
    ],
    right: sideColumnRoom(side),
    withKey: true,
  });
}

function findingOf(result: Result): string {
  const settled = result.machines.filter(
    (machine): machine is MachineResult & { uptime: { settled: number } } => machine.uptime.settled !== null,
  );
  if (settled.length === 0 || settled.length < result.machines.length) {
    const horizon = result.machines.map(({ uptime }) => uptime.horizon);
    const mean = horizon.reduce((total, share) => total + share, 0) / Math.max(1, horizon.length);
    return plain(`Over the horizon machines run ${percent(mean)} of the time on average.`);
  }
  const last = Math.max(0, ...result.machines.map((machine) => machine.full_rate_from_min ?? 0));
  const idle = settled.filter((machine) => machine.uptime.settled < 1 - 1e-9);
  const from = plain(duration(last));
  if (idle.length === 0) return `Every machine runs all the time from ${from} on.`;
  const least = idle.toSorted((a, b) => a.uptime.settled - b.uptime.settled)[0];
  const who = least === undefined ? "" : `; ${oneLine(least.id)} least, ${percent(least.uptime.settled)}`;
  const always = settled.length - idle.length;
  return plain(`From ${from} on ${always} of ${settled.length} machines run all the time${who}.`);
}
