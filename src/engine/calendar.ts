/** The ticks to come, and for each of them the places in the sweep that have a turn (schedule.ts). */
import type { Program } from "../network/program.ts";

/** Beyond the ticks of any run. */
export const NEVER = 0x7fffffff;

export interface Calendar {
  /** A power of two of ticks ahead, from the present one on; what is later is looked at again at the last of them. */
  readonly ticks: number;
  /** For each tick so many words of 32 places. */
  readonly words: number;
  readonly bits: Int32Array;
  /** The place whose turn it is: those before it have had theirs. BETWEEN_TICKS, all have. */
  place: number;
}

export const BETWEEN_TICKS = NEVER;

const MOST_WORDS = 1 << 15;
const MOST_TICKS = 1024;
const FEWEST_TICKS = 16;

/** Before the first tick, in which all have a turn. */
export function fullCalendar({ sweepKind }: Program): Calendar {
  const words = Math.max(1, Math.ceil(sweepKind.length / 32));
  let ticks = MOST_TICKS;
  while (ticks > FEWEST_TICKS && ticks * words > MOST_WORDS) ticks /= 2;
  const bits = new Int32Array(ticks * words);
  for (let place = 0; place < sweepKind.length; place++) bits[words + (place >> 5)]! |= 1 << (place & 31);
  return { ticks, words, bits, place: BETWEEN_TICKS };
}
