/**
 * The most that ever lay in each hold-up place at the end of a tick: on the belts of a line, by kind as in `onPlaces`, then in the
 * infeed and outfeed buffers of machine groups. Only where more than ever comes to lie is a place looked at when the tick ends.
 */
import {
  bufferGroup,
  groupCount,
  isRisen,
  itemCount,
  linePlaces,
  onPlaces,
  placePeak,
  risen,
  risenCount,
} from "./memory";

export function changeGroup(buffer: i32, by: i32): void {
  const group = bufferGroup[buffer];
  const count = groupCount[group] + by;
  groupCount[group] = count;
  noteRise(linePlaces * itemCount + group, count);
}

export function noteRise(place: i32, count: i32): void {
  if (count <= placePeak[place] || isRisen[place] === 1) return;
  isRisen[place] = 1;
  const others = risenCount[0];
  risen[others] = place;
  risenCount[0] = others + 1;
}

/** At the end of a tick. */
export function notePeaks(): void {
  const onBelts = linePlaces * itemCount;
  for (let i = 0; i < risenCount[0]; i++) {
    const place = risen[i];
    const count = place < onBelts ? onPlaces[place] : groupCount[place - onBelts];
    if (count > placePeak[place]) placePeak[place] = count;
    isRisen[place] = 0;
  }
  risenCount[0] = 0;
}
