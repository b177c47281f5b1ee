/** How much of the time pictures show, and in which unit. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { duration, fromStart, plain } from "../text/figures.ts";

export interface TimeAxis {
  readonly title: string;
  /** Units of the axis per minute. */
  readonly scale: number;
  readonly endMin: number;
  /** In units of the axis. */
  readonly end: number;
}

/**
 * All of the series, or where the line is proved to repeat, the ramp-up and a good part of what repeats. The axis is in
 * hours where it shows more than five of them.
 */
export function timeAxis(result: Result, series: Series): TimeAxis {
  const last = Math.max(series.timesMin.at(-1) ?? 0, 1e-3);
  const endMin = Math.min(last, rampUpEnd(result) ?? last);
  const inHours = endMin > 300;
  const scale = inHours ? 1 / 60 : 1;
  const unit = inHours ? "hours" : "minutes";
  const repeats = endMin < result.horizon_min && result.settling.proved;
  const title = repeats ? `${unit} (repeats until the end, ${plain(duration(result.horizon_min))})` : unit;
  return { title, scale, endMin, end: endMin * scale };
}

function rampUpEnd({ settling, machines, hold_up }: Result): number | null {
  if (!settling.proved || settling.time_min === null) return null;
  let last = Math.max(fromStart(settling, settling.time_min) + 2 * (settling.period_min ?? 0), hold_up.peak_at_min);
  for (const machine of machines) {
    last = Math.max(last, fromStart(settling, machine.full_rate_from_min ?? 0));
    for (const buffer of machine.infeed) last = Math.max(last, buffer.full_at_min ?? 0);
  }
  return roundUp(1.25 * last);
}

/** To the next 1, 1.5, 2, 2.5, 3, 4, 5, 6 or 8 times a power of ten. */
export function roundUp(value: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(value, 1e-3)));
  const step = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10].find((factor) => factor * power >= value) ?? 10;
  return step * power;
}

/** The series up to the axis' end, and the sample that reaches beyond it. */
export function shownPart(series: Series, { endMin }: TimeAxis): Series {
  const beyond = series.timesMin.findIndex((time) => time >= endMin);
  if (beyond < 0) return series;
  const cut = (values: readonly number[]): readonly number[] => values.slice(0, beyond + 1);
  return {
    ...series,
    timesMin: cut(series.timesMin),
    machines: series.machines.map((machine) => ({
      id: machine.id,
      infeed: machine.infeed.map((buffer) => ({ ...buffer, level: cut(buffer.level) })),
      running: cut(machine.running),
      starved: cut(machine.starved),
      blocked: cut(machine.blocked),
      down: cut(machine.down),
      held: cut(machine.held),
    })),
    output: {
      perMin: cut(series.output.perMin),
      movingAveragePerMin: cut(series.output.movingAveragePerMin),
      averagedOverMin: series.output.averagedOverMin,
    },
    holdUp: series.holdUp.map((kind) => ({ ...kind, level: cut(kind.level) })),
    surges: series.surges.map((surge) => ({ ...surge, level: cut(surge.level) })),
  };
}
