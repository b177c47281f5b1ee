/** Nothing is lost or made up: kind by kind, items placed and in = items held + items taken by cycles + items out. */
import type { Program } from "../network/program.ts";
import { onBelt } from "./belt-items.ts";
import type { State } from "./state.ts";

export class ConservationError extends Error {
  override readonly name = "ConservationError";
}

/**
 * Recounts every item from the belts and buffers themselves and holds the count against the totals.
 * @throws ConservationError naming the first kind that does not balance, or place whose booked count is wrong
 */
export function checkConservation(program: Program, state: State): void {
  const onPlaces = countOnPlaces(program, state);
  checkPlaces(program, state, onPlaces);
  const counted = countItems(program, state, onPlaces);
  for (const [item, name] of program.network.items.entries()) {
    const { placed, fedItems, made, taken, left } = state.totals;
    const owed = placed[item]! + fedItems[item]! + made[item]! - taken[item]! - left[item]!;
    if (owed !== counted[item] || owed !== state.noted.holdUp[item]) {
      throw new ConservationError(
        `tick ${state.tick}: ${counted[item]} ${name} are held, ${owed} should be, ${state.noted.holdUp[item]} are booked`,
      );
    }
  }
}

/** On belts, at `place * items + item`. */
function countOnPlaces(program: Program, state: State): Int32Array {
  const { belt, places, itemCount } = program;
  const counted = new Int32Array(places.length * itemCount);
  for (let b = 0; b < belt.count; b++) {
    onBelt(program, state, b, (item) => {
      counted[belt.at[b]! * itemCount + item]! += 1;
    });
  }
  return counted;
}

function checkPlaces({ places, itemCount }: Program, state: State, counted: Int32Array): void {
  const wrong = counted.findIndex((count, i) => count !== state.onPlaces[i]);
  if (wrong < 0) return;
  const at = places[Math.floor(wrong / itemCount)]?.id;
  throw new ConservationError(
    `tick ${state.tick}: ${counted[wrong]} lie at ${at}, ${state.onPlaces[wrong]} are booked`,
  );
}

function countItems(program: Program, state: State, onPlaces: Int32Array): Float64Array {
  const counted = new Float64Array(program.itemCount);
  for (const [i, count] of onPlaces.entries()) counted[i % program.itemCount]! += count;
  for (let buffer = 0; buffer < program.buffer.count; buffer++) {
    counted[program.buffer.item[buffer]!]! += state.bufferCount[buffer]!;
  }
  return counted;
}
