/** How far ahead the core's calendar of turns reaches (core/schedule.ts). */
import type { Program } from "../network/program.ts";

export interface CalendarSize {
  /** A power of two of ticks ahead, from the present one on; what is later is looked at again at the last of them. */
  readonly ticks: number;
  /** For each tick so many words of 32 places. */
  readonly words: number;
}

const MOST_WORDS = 1 << 15;
const MOST_TICKS = 1024;
const FEWEST_TICKS = 16;

export function calendarSize({ sweepKind }: Program): CalendarSize {
  const words = Math.max(1, Math.ceil(sweepKind.length / 32));
  let ticks = MOST_TICKS;
  while (ticks > FEWEST_TICKS && ticks * words > MOST_WORDS) ticks /= 2;
  return { ticks, words };
}
