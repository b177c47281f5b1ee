/** How much of the time pictures of replications show: the ramp-up, and enough after it to see that it is over. */
import type { Replications } from "../../analysis/chance-results.ts";
import { duration, plain } from "../text/figures.ts";
import { roundUp, type TimeAxis } from "./time-axis.ts";

const TIMES_THE_RAMP_UP = 2;

export function chanceTime({ ramp_up_end: ends, to_95_min: to95 }: Replications, horizonMin: number): TimeAxis {
  // The last of what is marked.
  const last = Math.max(ends.mser5_min ?? 0, ends.welch_min ?? 0, to95 ?? 0);
  const endMin = last > 0 ? Math.min(horizonMin, roundUp(TIMES_THE_RAMP_UP * last)) : horizonMin;
  const inHours = endMin > 300;
  const cut = endMin < horizonMin ? ` (the horizon is ${plain(duration(horizonMin))})` : "";
  const scale = inHours ? 1 / 60 : 1;
  return { title: `${inHours ? "hours" : "minutes"}${cut}`, scale, endMin, end: endMin * scale };
}
