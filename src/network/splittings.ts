/** Ways for one divider to split what goes to some targets into equal parts. */

/** For each outlet, how much of each target goes there. */
export type Splitting = readonly (readonly number[])[];

/**
 * Each splitting once or a few times, outlets being alike and targets of the same count too.
 * @param counts largest first; their sum divided by the number of outlets is whole
 * @param how `whole`: a target as large as an outlet's part fills outlets, and what is left of it goes to one outlet; `all`:
 *   every way there is
 * @param spend a step is taken from it for each target placed; with nothing left there are no further splittings
 */
export function* splittings(
  counts: readonly number[],
  outlets: number,
  how: "whole" | "all",
  spend: { left: number },
): Generator<Splitting> {
  const size = counts.reduce((sum, count) => sum + count, 0) / outlets;
  const rooms = Array.from({ length: outlets }, () => size);
  const chosen: number[][] = [];
  function* place(target: number): Generator<Splitting> {
    if (target === counts.length) {
      yield rooms.map((_, outlet) => chosen.map((amounts) => amounts[outlet] ?? 0));
      return;
    }
    const count = counts[target] ?? 0;
    if (count === 1) {
      // All that are left are single parts: as many to each outlet as it has room for.
      if (--spend.left <= 0) return;
      let next = target;
      const filled = rooms.map((room, outlet) => {
        const amounts = chosen.slice(0, target).map((one) => one[outlet] ?? 0);
        const ones = counts
          .slice(target)
          .map((_, index) => (index >= next - target && index < next - target + room ? 1 : 0));
        next += room;
        return [...amounts, ...ones];
      });
      yield filled;
      return;
    }
    const before = counts[target - 1] === count ? (chosen[target - 1] ?? null) : null;
    for (const amounts of how === "all" ? cut(count, rooms) : fitted(count, size, rooms)) {
      if (--spend.left <= 0) return;
      if (before !== null && isAfter(amounts, before)) continue;
      if (target === 0 && amounts.some((amount, outlet) => amount > (amounts[outlet - 1] ?? amount))) continue;
      chosen[target] = amounts;
      for (const [outlet, amount] of amounts.entries()) rooms[outlet] = (rooms[outlet] ?? 0) - amount;
      yield* place(target + 1);
      for (const [outlet, amount] of amounts.entries()) rooms[outlet] = (rooms[outlet] ?? 0) + amount;
    }
  }
  yield* place(0);
}

/** Every way to put a count into the rooms. */
function* cut(count: number, rooms: readonly number[]): Generator<number[]> {
  const [room, ...others] = rooms;
  if (room === undefined) return;
  const elsewhere = others.reduce((sum, one) => sum + one, 0);
  if (others.length === 0) {
    if (count <= room) yield [count];
    return;
  }
  for (let here = Math.min(count, room); here >= Math.max(0, count - elsewhere); here--) {
    for (const rest of cut(count - here, others)) yield [here, ...rest];
  }
}

/** Whole outlets first, as many as the count fills; what is left in one outlet. */
function* fitted(count: number, size: number, rooms: readonly number[]): Generator<number[]> {
  const amounts = rooms.map(() => 0);
  let rest = count;
  for (const [outlet, room] of rooms.entries()) {
    if (rest < size || room < size) continue;
    amounts[outlet] = size;
    rest -= size;
  }
  if (rest === 0) {
    yield amounts;
    return;
  }
  const tried = new Set<number>();
  for (const [outlet, room] of rooms.entries()) {
    if (amounts[outlet] !== 0 || room < rest || tried.has(room)) continue;
    tried.add(room);
    yield amounts.with(outlet, rest);
  }
}

function isAfter(amounts: readonly number[], before: readonly number[]): boolean {
  const first = amounts.findIndex((amount, outlet) => amount !== before[outlet]);
  return first >= 0 && (amounts[first] ?? 0) > (before[first] ?? 0);
}
