/** How much of the time pictures of replications show: the ramp-up, and enough after it to see that it is over. */
import type { Replications } from "../../analysis/chance-results.ts";
import { duration, plain } from "../figures.ts";
import { roundUp, type TimeAxis } from "./time-axis.ts";

const TIMES_THE_RAMP_UP = 4;

export function chanceTime(
  { ramp_up_end: ends, counted_from_min: counted }: Replications,
  horizonMin: number,
): TimeAxis {
  const isFound = ends.mser5_min !== null || ends.welch_min !== null;
  const last = Math.max(counted, ends.band_min ?? 0);
  const endMin = isFound && last > 0 ? Math.min(horizonMin, roundUp(TIMES_THE_RAMP_UP * last)) : horizonMin;
  const inHours = endMin > 300;
  const cut = endMin < horizonMin ? ` (the horizon is ${plain(duration(horizonMin))})` : "";
  const scale = inHours ? 1 / 60 : 1;
  return { title: `${inHours ? "hours" : "minutes"}${cut}`, scale, endMin, end: endMin * scale };
}
