/** What lies on belts, from the head back. */
import type { Program } from "../network/program.ts";
import { BELT, BELT_INTS, PLACE, PLACE_INTS } from "./records.ts";
import type { State } from "./state.ts";

/** Each item on a belt: its kind, the tick from which it may leave, and the one at which it was fed or made. */
export function onBelt(
  { belt }: Program,
  { belts, places }: State,
  b: number,
  see: (item: number, ready: number, born: number) => void,
): void {
  const [record, ring] = [b * BELT_INTS, belt.ring[b]! * PLACE_INTS];
  const end = ring + belt.capacity[b]! * PLACE_INTS;
  let at = ring + (belts[record + BELT.head]! - belts[record + BELT.ring]!) / Int32Array.BYTES_PER_ELEMENT;
  for (let n = belts[record + BELT.count]!; n > 0; n--) {
    see(places[at + PLACE.item]!, places[at + PLACE.ready]!, places[at + PLACE.born]!);
    at += PLACE_INTS;
    if (at === end) at = ring;
  }
}

/** Each item in a buffer: the tick at which it was fed or made. */
export function inBuffer({ buffer }: Program, state: State, b: number, see: (born: number) => void): void {
  const [ring, capacity, head] = [buffer.ring[b]!, buffer.capacity[b]!, state.bufferHead[b]!];
  for (let n = 0; n < state.bufferCount[b]!; n++) see(state.bufferBorn[ring + ((head + n) % capacity)]!);
}
