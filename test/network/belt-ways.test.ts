/**
 * The ways of belts on the grid, recomputed from the places alone: by a shortest way (after E. W. Dijkstra, "A note on two problems in
 * connexion with graphs", Numerische Mathematik 1, 1959) along the middles of rows, aisles, columns and gaps, through no
 * footprint. All that the oracle shares with the product is where things stand.
 */
import { describe, expect, test } from "vitest";
import { beltWays, isToScale, withWays } from "../../src/network/belt-ways.ts";
import { expand } from "../../src/network/expand.ts";
import { type FloorPlan, floorPlan, type Place } from "../../src/network/floor-plan.ts";
import { approximate, exact, rational, sum, whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { candidatesFor, givenFor } from "../../src/study/layouts/candidates.ts";
import { counts } from "../../src/study/layouts/layout-runs.ts";
import { scenarioOf } from "../layouts/shared-lines.ts";

/** Equal or unequal machines on a chain, in metres. */
function plant(needs: readonly number[]): Scenario {
  const total = needs.reduce((all, need) => all + need, 0);
  return scenarioOf(`
feeds: { silo: { item: can, rate: ${total}/min } }
machines:
${needs.map((need, i) => `  m${i + 1}: { cycle: 60/${need} s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20, footprint: { length: ${1 + (i % 3)} m, width: ${2 + (i % 2)} m } }`).join("\n")}
lines:
  main:
    layout: chain
    from: silo
    to: [${needs.map((_, i) => `m${i + 1}`).join(", ")}]
    belt: { length: 2 m, speed: 900 m/min, pitch: 100 mm }
`);
}

type Spot = readonly [number, number];

/** From middle to middle of facing sides, as DEVELOPERS.md tells: right to left, or straight in one column; returns join from below. */
function ends(from: Place | undefined, to: Place, returns: boolean): readonly [Spot, Spot] {
  const [x, y] = [approximate(to.xM), approximate(to.yM)];
  const [wide, high] = [approximate(to.lengthM), approximate(to.widthM)];
  if (from === undefined)
    return [
      [0, 0],
      [x, y + high / 2],
    ];
  const [fx, fy] = [approximate(from.xM), approximate(from.yM)];
  const [fw, fh] = [approximate(from.lengthM), approximate(from.widthM)];
  if (returns)
    return [
      [fx + fw, fy + fh / 2],
      [x + wide / 2, y + high],
    ];
  if (from.column !== to.column)
    return [
      [fx + fw, fy + fh / 2],
      [x, y + high / 2],
    ];
  return from.row < to.row
    ? [
        [fx + fw / 2, fy + fh],
        [x + wide / 2, y],
      ]
    : [
        [fx + fw / 2, fy],
        [x + wide / 2, y + high],
      ];
}

/** Lines along which belts may run: the middles of gaps and columns, of rows and aisles, and the edge; and what stands in each cell. */
interface Ground {
  readonly across: readonly number[];
  readonly along: readonly number[];
  /** Whether something stands there. */
  readonly isTaken: (x: number, y: number) => boolean;
}

const NEAR = 1e-6;
const isOne = (list: readonly number[], value: number): boolean => list.some((one) => Math.abs(one - value) < NEAR);
const unique = (values: readonly number[]): number[] =>
  [...new Set(values.map((v) => Number(v.toFixed(9))))].sort((p, q) => p - q);

function groundOf(plan: FloorPlan): Ground {
  const spans = (list: FloorPlan["rows"]): (readonly [number, number, number])[] =>
    list.map(({ fromM, sizeM, freeM }) => [approximate(fromM), approximate(sizeM), approximate(freeM)]);
  const [columns, rows] = [spans(plan.columns), spans(plan.rows)];
  const boxes = new Map(
    plan.places.map(({ column, row, xM, yM, lengthM, widthM }) => {
      const [x, y] = [approximate(xM), approximate(yM)];
      return [`${column} ${row}`, [x, y, x + approximate(lengthM), y + approximate(widthM)] as const];
    }),
  );
  const within = (list: readonly (readonly [number, number, number])[], at: number): number =>
    list.findIndex(([from, size]) => at > from - NEAR && at < from + size + NEAR);
  return {
    across: unique([0, ...columns.flatMap(([from, size, free]) => [from + size / 2, from - free / 2])]),
    along: unique([0, ...rows.flatMap(([from, size, free]) => [from + size / 2, from + size + free / 2])]),
    isTaken: (x, y) => {
      const box = boxes.get(`${within(columns, x)} ${within(rows, y)}`);
      return !!box && x > box[0] + NEAR && x < box[2] - NEAR && y > box[1] + NEAR && y < box[3] - NEAR;
    },
  };
}

/** @param through a height that the way has to come by, of a row that is its own */
function shortest(ground: Ground, [a, b]: readonly [Spot, Spot], through: number | null): number {
  if (through === null) return shortestWay(ground, a, b);
  // Behind the element that it comes from, down to its row, back, and up behind the one that it comes to.
  const to = ground.across.map((x) => [x, shortestWay(ground, a, [x, through])] as const);
  const from = ground.across.map((x) => [x, shortestWay(ground, [x, through], b)] as const);
  return Math.min(...to.flatMap(([x, before]) => from.map(([other, after]) => before + Math.abs(x - other) + after)));
}

/** Of keys with their weights, the least first (J. W. J. Williams, "Algorithm 232: Heapsort", Communications of the ACM 7(6), 1964). */
class Heap {
  readonly #weights: number[] = [];
  readonly #keys: number[] = [];

  add(weight: number, key: number): void {
    this.#keys.push(key);
    this.#weights.push(weight);
    let at = this.#keys.length - 1;
    for (let above = (at - 1) >> 1; at > 0 && this.#isLess(at, above); above = (at - 1) >> 1) {
      this.#swap(at, above);
      at = above;
    }
  }

  takeLeast(): number | null {
    const last = this.#keys.length - 1;
    if (last < 0) return null;
    this.#swap(0, last);
    const key = this.#keys.pop() ?? null;
    this.#weights.pop();
    for (let at = 0; ; ) {
      let least = at;
      for (const below of [2 * at + 1, 2 * at + 2]) if (below < last && this.#isLess(below, least)) least = below;
      if (least === at) return key;
      this.#swap(at, least);
      at = least;
    }
  }

  #isLess(a: number, b: number): boolean {
    return (this.#weights[a] ?? 0) < (this.#weights[b] ?? 0);
  }

  #swap(a: number, b: number): void {
    for (const list of [this.#weights, this.#keys]) {
      const [one, other] = [list[a] ?? 0, list[b] ?? 0];
      list[a] = other;
      list[b] = one;
    }
  }
}

/** By A* (P. Hart, N. Nilsson, B. Raphael, 1968, from memory): Dijkstra's way with the distance still to go added. */
function shortestWay({ across, along, isTaken }: Ground, a: Spot, b: Spot): number {
  const [xs, ys] = [unique([...across, a[0], b[0]]), unique([...along, a[1], b[1]])];
  // Across only in the middle of a gap or column, along only in the middle of a row or aisle, or at the edge.
  const [isAcross, isAlong] = [xs.map((x) => isOne(across, x)), ys.map((y) => isOne(along, y))];
  const indexOf = (list: readonly number[], value: number): number =>
    list.findIndex((one) => Math.abs(one - value) < NEAR);
  const [goalX, goalY] = [indexOf(xs, b[0]), indexOf(ys, b[1])];
  const best = new Map<number, number>([[indexOf(xs, a[0]) * ys.length + indexOf(ys, a[1]), 0]]);
  const done = new Set<number>();
  const open = new Heap();
  for (const key of best.keys()) open.add(0, key);
  const left = (key: number): number =>
    Math.abs((xs[Math.floor(key / ys.length)] ?? 0) - b[0]) + Math.abs((ys[key % ys.length] ?? 0) - b[1]);
  for (let top = open.takeLeast(); top !== null; top = open.takeLeast()) {
    if (done.has(top)) continue;
    done.add(top);
    const [i, k] = [Math.floor(top / ys.length), top % ys.length];
    if (i === goalX && k === goalY) return best.get(top) ?? 0;
    for (const [ni, nk] of [
      [i - 1, k],
      [i + 1, k],
      [i, k - 1],
      [i, k + 1],
    ] as const) {
      const [x, y, nx, ny] = [xs[i] ?? 0, ys[k] ?? 0, xs[ni], ys[nk]];
      const key = ni * ys.length + nk;
      if (nx === undefined || ny === undefined || done.has(key)) continue;
      if (!(ni === i ? isAcross[i] : isAlong[k]) || isTaken((x + nx) / 2, (y + ny) / 2)) continue;
      const way = (best.get(top) ?? 0) + Math.abs(x - nx) + Math.abs(y - ny);
      if (way >= (best.get(key) ?? Infinity)) continue;
      best.set(key, way);
      open.add(way + left(key) * (1 + 1e-12), key);
    }
  }
  return Infinity;
}

/** The height at which a returning belt has to lead back: of its own row, or of the aisle behind one that is taken. */
function heightOf(plan: FloorPlan, row: number): number {
  const [from, size, free] = [plan.rows[row]?.fromM, plan.rows[row]?.sizeM, plan.rows[row]?.freeM].map((metres) =>
    approximate(metres ?? whole(0)),
  );
  const isTaken = plan.places.some((place) => place.row === row);
  return (from ?? 0) + (isTaken ? (size ?? 0) + (free ?? 0) / 2 : (size ?? 0) / 2);
}

describe("all layouts of 2 to 40 machines, equal and unequal", () => {
  // Every size by FILLFRONT_CASES=2; every day all small ones and some large.
  const every = Array.from({ length: 39 }, (_, i) => i + 2);
  const isWide = Number(process.env.FILLFRONT_CASES ?? 1) > 1;
  const some = every.filter((count) => count <= 16 || [20, 23, 30, 36, 40].includes(count));
  const equal = (isWide ? every : some).map((count) => Array.from({ length: count }, () => 6));
  const unequal = (isWide ? every : [2, 3, 5, 7, 8, 11, 17, 26, 40]).map((count, i) =>
    Array.from({ length: count }, (_, place) => 1 + ((place * 7 + i * 5 + (place % 3)) % 4)),
  );

  test.each([...equal, ...unequal].map((needs) => [needs.length, needs] as const))("%i machines: %j", (_, needs) => {
    const scenario = plant(needs);
    const [line] = scenario.lines;
    if (line?.layout !== "chain") throw new Error("it is a chain");
    let checked = 0;
    for (const { id, drawn } of candidatesFor(givenFor(scenario, line, 3))) {
      if (drawn === null || id === "today") continue;
      const { floor: plan, elements } = drawn;
      const ground = groundOf(plan);
      const places = new Map(plan.places.map((place) => [place.id, place]));
      const back = new Map(plan.grid.back.map((one) => [`${one.from} ${one.to}`, one.row]));
      const off: string[] = [];
      for (const { id: belt, from, to, belt: spec } of elements.connections) {
        const end = places.get(to);
        if (end === undefined || !spec?.metres) continue;
        const row = back.get(`${from} ${to}`);
        const points = ends(places.get(from), end, row !== undefined);
        const isBeside = places.get(from)?.column === end.column;
        const way = shortest(ground, points, row === undefined || isBeside ? null : heightOf(plan, row));
        if (Math.abs(approximate(spec.metres.lengthM) - Math.max(2, way)) > 1e-6) off.push(`${belt} ${way}`);
      }
      expect({ id, off }).toEqual({ id, off: [] });
      expect(exact(sum(elements.connections.map(({ belt }) => belt?.metres?.lengthM ?? whole(0))))).toBe(
        exact(rational(String(counts(elements).belt_m))),
      );
      expectApart(plan);
      checked++;
    }
    expect(checked).toBeGreaterThan(2);
  });
});

/** All on the floor, nothing over another. */
function expectApart({ places, lengthM, widthM }: FloorPlan): void {
  const boxes = places.map(({ xM, yM, lengthM: long, widthM: wide }) =>
    [xM, yM, xM.add(long), yM.add(wide)].map(approximate),
  );
  const [right, bottom] = [approximate(lengthM) + 1e-9, approximate(widthM) + 1e-9];
  const outside = boxes.filter(([x = -1, y = -1, toX = 0, toY = 0]) => x < 0 || y < 0 || toX > right || toY > bottom);
  const over = boxes.filter(([x = 0, y = 0, toX = 0, toY = 0], i) =>
    boxes
      .slice(i + 1)
      .some(
        ([u = 0, v = 0, toU = 0, toV = 0]) =>
          Math.min(toX, toU) - Math.max(x, u) > 1e-9 && Math.min(toY, toV) - Math.max(y, v) > 1e-9,
      ),
  );
  expect({ outside, over }).toEqual({ outside: [], over: [] });
}

test("by hand: four equal machines of 3 m by 2 m in a tree, gaps of 0.8 m, aisles of 1 m", () => {
  const text = `feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { count: 4, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines: { main: { layout: tree, from: silo, to: m, belt: { length: 1 m, speed: 30 m/min, pitch: 100 mm } } }`;
  const scenario = scenarioOf(text);
  const network = expand(scenario);
  const ways = beltWays(floorPlan(scenario, network, "main"), network.connections);
  expect([...ways.values()].map(({ connection, lengthM }) => `${connection} ${exact(lengthM)}`)).toEqual([
    "main.through-1 9/5", // corner to the middle of the first row: 0.8 + 1
    "main.through-2 4/5", // to the divider beside it
    "main.branch-1 4/5", // along the row, the divider beside the machine
    "main.branch-2 19/5", // a row of 3 m further
    "main.through-3 5", // straight down two rows of 3 m, less a divider of 1 m
    "main.branch-3 13/5", // past a column of 1 m and two gaps
    "main.branch-4 28/5",
  ]);
  const longer = withWays(network, ways).connections.map(({ belt }) => exact(belt?.metres?.lengthM ?? whole(0)));
  expect(longer).toEqual(["9/5", "1", "1", "19/5", "5", "13/5", "28/5"]);
  const first = withWays(network, ways).connections[0]?.belt;
  expect([first?.capacity, exact(first?.transitMin ?? whole(0)), exact(first?.ratePerMin ?? whole(0))]).toEqual([
    18,
    "3/50",
    "300",
  ]);
  expect(isToScale(network)).toBe(true);
  const untold = scenarioOf(
    text.replace("{ length: 1 m, speed: 30 m/min, pitch: 100 mm }", "{ rate: 300/min, capacity: 10 }"),
  );
  expect(isToScale(expand(untold))).toBe(false);
});
