/**
 * The way of each belt of a line on the grid on which its floor is counted (floor-plan.ts), along rows and columns and past
 * no footprint.
 *
 * A belt leaves an element at its right side and comes to the next one's left side, from middle to middle; between elements of
 * one column it goes straight from the one to the other. It changes rows in the gap behind the column that it comes from. Past
 * elements that stand in its end's row it runs in the aisle on the side that it comes from. A belt that leads back goes
 * along the row that it has to itself, or the aisle of one in which it begins, up the gap behind the element that it comes to, and joins it from below. What comes
 * from outside the grid, feeds and machines whose products are collected, begins at the grid's corner.
 *
 * So a belt is as long as its ends are apart along and across, but for detours past what stands in its way, and returns.
 */
import { type Rational, sum, ZERO } from "../quantity/rational.ts";
import { measuredBelt } from "../scenario/belts.ts";
import type { FloorPlan, Place, Stretch } from "./floor-plan.ts";
import type { Connection, LineElements } from "./network.ts";

export interface Point {
  readonly xM: Rational;
  readonly yM: Rational;
}

export interface BeltWay {
  readonly connection: string;
  /** Corners, from end to end; each piece runs along or across. */
  readonly points: readonly Point[];
  readonly lengthM: Rational;
}

/** By connection; of those that lead to an element of the line's grid, direct hand-overs too. */
export function beltWays(plan: FloorPlan, connections: readonly Connection[]): Map<string, BeltWay> {
  const places = new Map(plan.places.map((place) => [place.id, place]));
  const taken = new Set(plan.places.map(({ column, row }) => `${column} ${row}`));
  const back = new Map(plan.grid.back.map(({ from, to, row }) => [`${from}\n${to}`, row]));
  const ways = new Map<string, BeltWay>();
  for (const { id, from, to } of connections) {
    const [start, end] = [places.get(from), places.get(to)];
    if (end === undefined) continue;
    const row = back.get(`${from}\n${to}`);
    const points = pointsOf({ plan, taken }, start, end, row);
    ways.set(id, { connection: id, points, lengthM: lengthOf(points) });
  }
  return ways;
}

interface Ground {
  readonly plan: FloorPlan;
  readonly taken: ReadonlySet<string>;
}

function pointsOf(ground: Ground, start: Place | undefined, end: Place, back: number | undefined): Point[] {
  const { plan } = ground;
  if (start === undefined) {
    const x = gapBefore(plan, end.column);
    return [at(ZERO, ZERO), at(x, ZERO), at(x, middleY(end)), leftOf(end)];
  }
  if (back !== undefined) return backPoints(ground, start, end, back);
  return start.column === end.column ? downPoints(ground, start, end) : onwardPoints(ground, start, end);
}

function onwardPoints({ plan, taken }: Ground, start: Place, end: Place): Point[] {
  const between = Array.from({ length: end.column - start.column - 1 }, (_, i) => start.column + 1 + i);
  const isFree = between.every((column) => !taken.has(`${column} ${end.row}`));
  const behind = gapBefore(plan, start.column + 1);
  const turn = at(behind, middleY(start));
  if (isFree) return [rightOf(start), turn, at(behind, middleY(end)), leftOf(end)];
  const aisle = aisleAfter(plan, start.row < end.row ? end.row - 1 : end.row);
  const before = gapBefore(plan, end.column);
  return [rightOf(start), turn, at(behind, aisle), at(before, aisle), at(before, middleY(end)), leftOf(end)];
}

/** Or up. */
function downPoints({ plan, taken }: Ground, start: Place, end: Place): Point[] {
  const isDown = start.row < end.row;
  const [first, last] = isDown ? [start.row, end.row] : [end.row, start.row];
  const isFree = !Array.from({ length: last - first - 1 }, (_, i) => first + 1 + i).some((row) =>
    taken.has(`${start.column} ${row}`),
  );
  const [from, to] = isDown ? [below(start), above(end)] : [above(start), below(end)];
  if (isFree) return [from, to];
  const [leaving, coming] = isDown
    ? [aisleAfter(plan, start.row), aisleAfter(plan, end.row - 1)]
    : [aisleAfter(plan, start.row - 1), aisleAfter(plan, end.row)];
  const x = gapBefore(plan, start.column);
  return [from, at(from.xM, leaving), at(x, leaving), at(x, coming), at(to.xM, coming), to];
}

function backPoints({ plan }: Ground, start: Place, end: Place, row: number): Point[] {
  const [behind, x] = [gapBefore(plan, start.column + 1), gapBefore(plan, end.column + 1)];
  const isFree = !plan.places.some((place) => place.row === row);
  const [along, aisle] = [isFree ? middleOf(plan.rows[row]) : aisleAfter(plan, row), aisleAfter(plan, end.row)];
  return [
    rightOf(start),
    at(behind, middleY(start)),
    // Beside one another it needs no row.
    ...(start.column === end.column ? [] : [at(behind, along), at(x, along)]),
    at(x, aisle),
    at(below(end).xM, aisle),
    below(end),
  ];
}

function gapBefore({ columns }: FloorPlan, column: number): Rational {
  const own = columns[column];
  return own === undefined ? ZERO : own.fromM.sub(own.freeM.div(2n));
}

function aisleAfter({ rows }: FloorPlan, row: number): Rational {
  const own = rows[row];
  return own === undefined ? ZERO : own.fromM.add(own.sizeM).add(own.freeM.div(2n));
}

function middleOf(stretch: Stretch | undefined): Rational {
  return stretch === undefined ? ZERO : stretch.fromM.add(stretch.sizeM.div(2n));
}

const middleY = ({ yM, widthM }: Place): Rational => yM.add(widthM.div(2n));
const middleX = ({ xM, lengthM }: Place): Rational => xM.add(lengthM.div(2n));
const leftOf = (place: Place): Point => at(place.xM, middleY(place));
const rightOf = (place: Place): Point => at(place.xM.add(place.lengthM), middleY(place));
const above = (place: Place): Point => at(middleX(place), place.yM);
const below = (place: Place): Point => at(middleX(place), place.yM.add(place.widthM));

function at(xM: Rational, yM: Rational): Point {
  return { xM, yM };
}

function lengthOf(points: readonly Point[]): Rational {
  return sum(
    points.slice(1).map(({ xM, yM }, i) => {
      const before = points[i] ?? { xM, yM };
      return xM.sub(before.xM).abs().add(yM.sub(before.yM).abs());
    }),
  );
}

/** What the line adds to the network, with each belt as long as its way, and at least as long as stated. */
export function withWays<E extends LineElements>(elements: E, ways: ReadonlyMap<string, BeltWay>): E {
  return { ...elements, connections: elements.connections.map((one) => lengthened(one, ways)) };
}

function lengthened(connection: Connection, ways: ReadonlyMap<string, BeltWay>): Connection {
  const way = ways.get(connection.id)?.lengthM;
  const { belt } = connection;
  if (way === undefined || !belt?.metres || belt.metres.lengthM.compare(way) >= 0) return connection;
  return { ...connection, belt: measuredBelt({ ...belt.metres, lengthM: way }, belt.ratePerMin) };
}

/** Whether each belt is stated in metres, and elements hand over directly to none; a feed may stand at the head. */
export function isToScale({ connections, dividers, merges }: LineElements): boolean {
  const inside = new Set([...dividers, ...merges].map(({ id }) => id));
  return connections.every(({ from, belt }) => (belt === null ? !inside.has(from) : belt.metres !== null));
}
