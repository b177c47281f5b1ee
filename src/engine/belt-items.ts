/** What lies on belts, from the head back. */
import type { Program } from "../network/program.ts";
import { BELT, BELT_INTS, PLACE, PLACE_INTS } from "./record-offsets.ts";
import type { State } from "./state.ts";

/** Each item on a belt: its kind, the tick from which it may leave, and the one at which it was fed or made. */
export function onBelt(
  { belt }: Program,
  { belts, places }: State,
  b: number,
  see: (item: number, ready: number, born: number) => void,
): void {
  const [ring, capacity] = [belt.ring[b]!, belt.capacity[b]!];
  const record = belts.subarray(b * BELT_INTS, (b + 1) * BELT_INTS);
  // Looked at once, not for every item: an import takes longer than an array.
  const [width, offset] = [PLACE_INTS, PLACE];
  let place = ring + (record[BELT.head]! - record[BELT.ring]!) / (4 * width);
  for (let n = record[BELT.count]!; n > 0; n--) {
    const at = place * width;
    see(places[at + offset.item]!, places[at + offset.ready]!, places[at + offset.born]!);
    place = place + 1 === ring + capacity ? ring : place + 1;
  }
}

/** Each item in a buffer: the tick at which it was fed or made. */
export function inBuffer({ buffer }: Program, state: State, b: number, see: (born: number) => void): void {
  const [ring, capacity, head] = [buffer.ring[b]!, buffer.capacity[b]!, state.bufferHead[b]!];
  for (let n = 0; n < state.bufferCount[b]!; n++) see(state.bufferBorn[ring + ((head + n) % capacity)]!);
}
