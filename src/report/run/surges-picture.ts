/** Surge buffers over time, each filling as a vehicle is unloaded and emptying until the next one comes. */
import type { BatchResult } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { type EndLabel, endLabelRoom, endLabels } from "../chart/end-labels.ts";
import { label, type Picture, type PictureDataset, picture, valueAxis } from "../chart/frame.ts";
import { type KeyEntry, key } from "../chart/key.ts";
import { ALERT, INK_SOFT, lineStyle } from "../chart/palette.ts";
import { shownPart, type TimeAxis, timeAxis } from "../chart/time-axis.ts";
import {
  approximately,
  duration,
  durationBeside,
  inMedianRun,
  items,
  listedShort,
  number,
  plain,
} from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";

/** As many as can be told apart. */
const MOST_LINES = 8;
const ROOM_DASH = [6, 6];
const NEED_DASH = [3, 5];
/** More vehicles would stand on one another's marks. */
const MOST_VEHICLES = 60;

/** Only for plants that have surge buffers. */
export function surgesPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const shown = series.surges.slice(0, MOST_LINES);
  const batchOf = (feed: string): BatchResult | undefined => result.batches.find((batch) => batch.feed === feed);
  const room = shown[0]?.room ?? 1;
  const alike = shown.every((surge) => surge.room === room);
  const top = alike ? room : 100;
  const only = shown.length === 1 ? batchOf(shown[0]?.feed ?? "") : undefined;
  const needed = only?.needed_room ?? null;
  const datasets: PictureDataset[] = [level("room", top, time, INK_SOFT, ROOM_DASH)];
  const keys: KeyEntry[] = [
    {
      kind: "line",
      text: alike ? `room (${plain(items(room))})` : "full (100 % of the room)",
      colour: INK_SOFT,
      width: 1.5,
      dash: ROOM_DASH,
    },
  ];
  if (needed !== null && needed !== room) {
    datasets.push(level("room needed", needed, time, ALERT, NEED_DASH));
    keys.push({
      kind: "line",
      text: `room needed once settled (${plain(number(needed))})`,
      colour: ALERT,
      width: 2.5,
      dash: NEED_DASH,
    });
  }
  const labels: EndLabel[] = [];
  for (const [index, surge] of shown.entries()) {
    const style = lineStyle(index);
    const levels = alike ? surge.level : surge.level.map((count) => (100 * count) / surge.room);
    datasets.push({
      label: surge.feed,
      data: [{ x: 0, y: 0 }, ...levels.map((y, i) => ({ x: (series.timesMin[i] ?? 0) * time.scale, y }))],
      borderColor: style.colour,
      borderDash: [...style.dash],
      borderWidth: 3,
      pointRadius: 0,
    });
    labels.push({ text: label(surge.feed), value: levels.at(-1) ?? 0, colour: style.colour, style });
  }
  const comes = only === undefined ? [] : vehicleTimes(only, time);
  if (comes.length > 0) {
    const { colour } = lineStyle(0);
    datasets.push({
      label: "vehicles",
      data: comes.map((at) => ({ x: at * time.scale, y: 0 })),
      showLine: false,
      pointStyle: "circle",
      pointRadius: 6,
      pointBorderWidth: 0,
      backgroundColor: colour,
      clip: false,
    });
    keys.push({ kind: "dot", text: "a vehicle comes", colour });
  }
  return picture({
    shown: `${shown.length === 1 ? "Surge buffer" : "Surge buffers"}${inMedianRun(result)}`,
    scenarioTitle: result.title,
    finding: findingOf(result, series.surges.length),
    plotHeight: 440,
    time,
    y: valueAxis(alike ? "items" : "% of the room", Math.max(top, alike ? (needed ?? 0) : 0) * 1.06),
    datasets,
    plugins: [endLabels(labels), key(keys)],
    right: endLabelRoom(labels),
    withKey: true,
  });
}

function level(text: string, y: number, time: TimeAxis, colour: string, dash: readonly number[]): PictureDataset {
  return {
    label: text,
    data: [
      { x: 0, y },
      { x: time.end, y },
    ],
    borderColor: colour,
    borderWidth: text === "room" ? 1.5 : 2.5,
    borderDash: [...dash],
    pointRadius: 0,
  };
}

/** When they come, minutes, as far as shown; none where that would be too many. */
function vehicleTimes({ vehicles, cycle }: BatchResult, { endMin }: TimeAxis): number[] {
  // Those that have to wait whole intervals come when there is place for them.
  if (vehicles === null || (cycle?.vehicles_wait_min ?? 0) > 0) return [];
  const [first, every] = [approximately(vehicles.first_min), approximately(vehicles.every_min)];
  const count = Math.floor((endMin - first) / every) + 1;
  return count > MOST_VEHICLES ? [] : Array.from({ length: Math.max(0, count) }, (_, n) => first + n * every);
}

function findingOf({ batches, settling }: Result, count: number): string {
  const own = batches.filter(({ surge }) => surge !== null);
  const held = own.filter(({ cycle }) => (cycle?.held_up_min ?? 0) > 0);
  const [only] = own;
  if (own.length > 1 || only === undefined) {
    const some = count > MOST_LINES ? ` The first ${MOST_LINES} of ${count} are shown.` : "";
    const peaks = own.map(
      ({ feed, surge }) => `${oneLine(feed)} holds at most ${number(surge?.peak ?? 0)} of ${number(surge?.room ?? 0)}`,
    );
    const stops = settling.proved ? `; ${held.length === 0 ? "none holds" : `${held.length} hold`} unloading up` : "";
    return plain(`${listedShort(peaks, 2)}${stops}.${some}`);
  }
  const { feed, cycle, surge } = only;
  const peak = `${oneLine(feed)} holds at most ${plain(number(surge?.peak ?? 0))} of ${plain(items(surge?.room ?? 0))}`;
  if (cycle === null) return `${peak}.`;
  const through = cycle.runs_through ? "; the line runs through" : "; the line does not run through";
  const stops =
    cycle.held_up_min > 0
      ? `; unloading is held up for ${plain(durationBeside(cycle.held_up_min, cycle.length_min))} of every ${plain(duration(cycle.length_min))}`
      : "";
  return `${peak}${through}${stops}.`;
}
