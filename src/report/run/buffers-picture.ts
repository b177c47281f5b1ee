/** Level of every infeed buffer over time: a line each for up to four, whose lines can be told apart where they cross, else a heat map. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import type { Picture } from "../chart/frame.ts";
import { shownPart, timeAxis } from "../chart/time-axis.ts";
import { duration, listedShort, plain } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import type { BufferCurve } from "./buffer-curve.ts";
import { bufferLines } from "./buffer-lines-picture.ts";
import { bufferMap } from "./buffer-map-picture.ts";

const MOST_LINES = 4;

export function buffersPicture(result: Result, whole: Series): Picture {
  const time = timeAxis(result, whole);
  const series = shownPart(whole, time);
  const curves = bufferCurves(result, series);
  const finding = `${findingOf(curves, result.settling.proved)}${runningEmpty(curves)}`;
  return curves.length <= MOST_LINES
    ? bufferLines(result.title, finding, time, series.timesMin, curves)
    : bufferMap(result.title, finding, time, series.timesMin, curves, result.settling.proved ? "never" : "not yet");
}

/** Head of the line first, as the series has the machines. */
function bufferCurves(result: Result, series: Series): BufferCurve[] {
  const machines = new Map(result.machines.map((machine) => [machine.id, machine]));
  return series.machines.flatMap((machine) =>
    machine.infeed.map((buffer) => ({
      name: oneLine(machine.infeed.length > 1 ? `${machine.id} ${buffer.item}` : machine.id),
      capacity: buffer.capacity,
      level: buffer.level,
      fullAtMin: machines.get(machine.id)?.infeed.find(({ item }) => item === buffer.item)?.full_at_min ?? null,
    })),
  );
}

/** Full for a while and empty in the end: what was filled is used up. */
function runningEmpty(curves: readonly BufferCurve[]): string {
  const names = curves.filter(({ level, capacity }) => {
    const highest = level.reduce((most, count) => Math.max(most, count), 0);
    return capacity > 1 && highest >= capacity / 2 && (level.at(-1) ?? 0) < 1;
  });
  if (names.length === 0) return "";
  const verb = names.length === 1 ? "runs" : "run";
  return ` ${listedShort(
    names.map(({ name }) => name),
    2,
  )} ${verb} empty again.`;
}

function findingOf(curves: readonly BufferCurve[], proved: boolean): string {
  if (curves.length === 0) return "There are no infeed buffers.";
  const others: string[] = [];
  let last: { name: string; at: number } | undefined;
  for (const { name, fullAtMin } of curves) {
    if (fullAtMin === null) others.push(name);
    else if (last === undefined || fullAtMin > last.at) last = { name, at: fullAtMin };
  }
  if (last === undefined) return `No buffer is ${proved ? "ever full" : "full by the end"}.`;
  const when = `the last at ${plain(duration(last.at))} (${last.name})`;
  if (others.length === 0) return `All ${curves.length} buffers fill, ${when}.`;
  const names = others.length > 3 ? `the other ${others.length}` : listedShort(others);
  const one = others.length === 1;
  const never = proved ? `never ${one ? "does" : "do"}` : `${one ? "is" : "are"} not full by the end`;
  return `${curves.length - others.length} of ${curves.length} buffers fill, ${when}; ${names} ${never}.`;
}
