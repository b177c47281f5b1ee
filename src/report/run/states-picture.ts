/** What every machine does over time: a strip each, the shares of its states stacked, its uptime at the right. */
import type { Chance } from "../../analysis/chance-results.ts";
import type { MachineResult, Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { label, type Picture, picture, rowAxis } from "../chart/frame.ts";
import { stateCells } from "../chart/grid-cells.ts";
import { key } from "../chart/key.ts";
import { STATE_FILLS, STATES } from "../chart/palette.ts";
import { columns, means } from "../chart/resample.ts";
import { rowHeight, shownRows } from "../chart/rows.ts";
import { type SideColumn, sideColumnRoom, sideColumns } from "../chart/side-columns.ts";
import { shownPart, timeAxis } from "../chart/time-axis.ts";
import { duration, fromStart, inMedianRun, percent, percentCell, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** Wide enough that a column shows a share rather than a single cycle. */
const MOST_COLUMNS = 160;

export function statesPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const { rows: machines, note } = shownRows(series.machines);
  const cut = columns(series.timesMin, MOST_COLUMNS);
  const results = new Map(result.machines.map((machine) => [machine.id, machine]));
  const share = (value: number | null | undefined): string => (typeof value === "number" ? percentCell(value) : "–");
  const side: SideColumn[] = [
    {
      heading: "ramp-up",
      cells: machines.map(({ id }) => share(results.get(id)?.uptime.ramp_up)),
      width: 86,
    },
    {
      heading: "settled",
      cells: machines.map(({ id }) => share(results.get(id)?.uptime.settled)),
      width: 78,
    },
  ];
  const mean = (values: readonly number[]): number[] => means(values, series.timesMin, cut);
  const present = STATES.filter(
    (state) => state === "running" || state === "starved" || machines.some((m) => m[state].some((s) => s > 0)),
  );
  return picture({
    shown: `What every machine does${inMedianRun(result)}${note}`,
    scenarioTitle: result.title,
    finding: findingOf(result),
    plotHeight: Math.round(rowHeight(machines.length) * machines.length),
    time,
    y: rowAxis(machines.map(({ id }) => label(id))),
    datasets: [],
    plugins: [
      stateCells({
        edges: cut.edges.map((edge) => edge * time.scale),
        shares: machines.map((machine) => ({
          running: mean(machine.running),
          starved: mean(machine.starved),
          blocked: mean(machine.blocked),
          down: mean(machine.down),
          held: mean(machine.held),
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
  if (result.chance !== undefined) return byChance(result, result.chance);
  const settled = result.machines.filter(
    (machine): machine is MachineResult & { uptime: { settled: number } } => machine.uptime.settled !== null,
  );
  if (settled.length === 0 || settled.length < result.machines.length) {
    const horizon = result.machines.map(({ uptime }) => uptime.horizon);
    const mean = horizon.reduce((total, share) => total + share, 0) / Math.max(1, horizon.length);
    return plain(`Over the horizon machines run ${percent(mean)} of the time on average.`);
  }
  if (settled.every((machine) => machine.uptime.settled === 0)) {
    return result.settling.time_min
      ? `No machine runs from ${plain(duration(fromStart(result.settling, result.settling.time_min)))} on.`
      : "No machine runs.";
  }
  const last = fromStart(
    result.settling,
    Math.max(0, ...result.machines.map((machine) => machine.full_rate_from_min ?? 0)),
  );
  const idle = settled.filter((machine) => machine.uptime.settled < 1 - 1e-9);
  const from = plain(duration(last));
  if (idle.length === 0) return `Every machine runs all the time from ${from} on.`;
  const least = idle.toSorted((a, b) => a.uptime.settled - b.uptime.settled)[0];
  const who = least === undefined ? "" : `; ${oneLine(least.id)} least, ${percent(least.uptime.settled)}`;
  const always = settled.length - idle.length;
  return plain(
    `From ${from} on ${always} of ${settled.length} machines ${always === 1 ? "runs" : "run"} all the time${who}.`,
  );
}

function byChance({ machines }: Result, { counted_from_min: from }: Chance): string {
  const shares = machines.map(({ id, uptime }) => ({ id, share: uptime.settled ?? uptime.horizon }));
  const mean = shares.reduce((total, { share }) => total + share, 0) / Math.max(1, shares.length);
  const [least] = shares.toSorted((a, b) => a.share - b.share);
  const who = least === undefined || shares.length < 2 ? "" : `; ${oneLine(least.id)} least, ${percent(least.share)}`;
  return plain(`From ${duration(from)} on machines run ${percent(mean)} of the time on average${who}.`);
}
