/**
 * The ways of belts on the grid, recomputed from the places alone: by a shortest way (E. W. Dijkstra, "A note on two problems in
 * connexion with graphs", Numerische Mathematik 1, 1959) along the middles of rows, aisles, columns and gaps, through no
 * footprint. All that the oracle shares with the product is where things stand.
 */
import { describe, expect, test } from "vitest";
import { beltWays, isToScale, withWays } from "../../src/network/belt-ways.ts";
import { expand } from "../../src/network/expand.ts";
import { type FloorPlan, floorPlan, type Place } from "../../src/network/floor-plan.ts";
import { approximate, exact, sum, whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { candidatesFor, givenFor } from "../../src/study/layouts-candidates.ts";
import { scenarioOf } from "../layouts/shared-lines.ts";
import { randomWeights } from "../layouts/weights.ts";

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

/** From middle to middle of facing sides, as DEVELOPERS tell: right to left, or straight in one column; returns join from below. */
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

/** @param through a height that the way has to come by, of a row that is its own */
function shortest(plan: FloorPlan, [a, b]: readonly [Spot, Spot], through: number | null): number {
  const middles = (list: FloorPlan["rows"], isBefore: boolean): number[] =>
    list.flatMap(({ fromM, sizeM, freeM }) => {
      const [from, size, free] = [approximate(fromM), approximate(sizeM), approximate(freeM)];
      return [from + size / 2, isBefore ? from - free / 2 : from + size + free / 2];
    });
  const unique = (values: readonly number[]): number[] =>
    [...new Set(values.map((v) => Number(v.toFixed(9))))].sort((p, q) => p - q);
  const [across, along] = [unique(middles(plan.columns, true)), unique([...middles(plan.rows, false), 0])];
  const xs = unique([...across, 0, a[0], b[0]]);
  const ys = unique([...along, a[1], b[1]]);
  const boxes = plan.places.map(({ xM, yM, lengthM, widthM }) => {
    const [x, y] = [approximate(xM), approximate(yM)];
    return [x, y, x + approximate(lengthM), y + approximate(widthM)] as const;
  });
  // Across only in the middle of a gap or column, along only in the middle of a row or aisle, or at the edge.
  const isLane = (list: readonly number[], value: number): boolean => list.some((one) => Math.abs(one - value) < 1e-6);
  const isFree = (p: Spot, q: Spot): boolean => {
    if (p[0] === q[0] ? !isLane(across, p[0]) : !isLane(along, p[1])) return false;
    const [x, y] = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    return !boxes.some(([l, t, r, d]) => x > l + 1e-6 && x < r - 1e-6 && y > t + 1e-6 && y < d - 1e-6);
  };
  const from = (start: Spot, goal: Spot): number => {
    const at = (i: number, k: number): Spot => [xs[i] ?? 0, ys[k] ?? 0];
    const key = (i: number, k: number): number => i * ys.length + k;
    const near = (list: readonly number[], value: number): number =>
      list.findIndex((one) => Math.abs(one - value) < 1e-6);
    const best = new Map<number, number>([[key(near(xs, start[0]), near(ys, start[1])), 0]]);
    const done = new Set<number>();
    const open = new Set(best.keys());
    while (open.size > 0) {
      let top = -1;
      for (const one of open) if (top < 0 || (best.get(one) ?? 0) < (best.get(top) ?? 0)) top = one;
      open.delete(top);
      done.add(top);
      const [i, k] = [Math.floor(top / ys.length), top % ys.length];
      const here = at(i, k);
      if (Math.abs(here[0] - goal[0]) < 1e-6 && Math.abs(here[1] - goal[1]) < 1e-6) return best.get(top) ?? 0;
      for (const [ni, nk] of [
        [i - 1, k],
        [i + 1, k],
        [i, k - 1],
        [i, k + 1],
      ] as const) {
        if (ni < 0 || nk < 0 || ni >= xs.length || nk >= ys.length || done.has(key(ni, nk))) continue;
        const there = at(ni, nk);
        if (!isFree(here, there)) continue;
        const way = (best.get(top) ?? 0) + Math.abs(here[0] - there[0]) + Math.abs(here[1] - there[1]);
        if (way < (best.get(key(ni, nk)) ?? Infinity)) best.set(key(ni, nk), way);
        open.add(key(ni, nk));
      }
    }
    return Infinity;
  };
  if (through === null) return from(a, b);
  // Behind the element that it comes from, down to its row, back, and up behind the one that it comes to.
  return Math.min(
    ...xs.flatMap((x) => xs.map((other) => from(a, [x, through]) + Math.abs(x - other) + from([other, through], b))),
  );
}

describe("all layouts of 2 to 40 machines, equal and unequal", () => {
  const counts = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 13, 16, 18, 21, 27, 30, 32, 36, 40];
  const unequal = randomWeights(12).filter((weights) => weights.length >= 2 && weights.length <= 12);
  const cases = [...counts.map((count) => Array.from({ length: count }, () => 6)), ...unequal];

  test.each(cases.map((needs) => [needs.length, needs] as const))("%i machines: %j", (_, needs) => {
    const scenario = plant(needs);
    const [line] = scenario.lines;
    if (line?.layout !== "chain") throw new Error("it is a chain");
    let checked = 0;
    for (const { id, drawn } of candidatesFor(givenFor(scenario, line, 3))) {
      if (drawn === null || id === "today") continue;
      const { floor: plan, elements } = drawn;
      const places = new Map(plan.places.map((place) => [place.id, place]));
      const back = new Map(plan.grid.back.map((one) => [`${one.from} ${one.to}`, one.row]));
      const lengths = elements.connections.map(({ id: belt, from, to, belt: spec }) => {
        const end = places.get(to);
        if (end === undefined || !spec?.metres) return whole(0);
        const row = back.get(`${from} ${to}`);
        const own = row === undefined ? undefined : plan.rows[row];
        // Along the row, or where something stands in it its aisle.
        const isTaken = plan.places.some((place) => place.row === row);
        const [begin, size, free] = [own?.fromM, own?.sizeM, own?.freeM].map((metres) =>
          approximate(metres ?? whole(0)),
        );
        const height = (begin ?? 0) + (isTaken ? (size ?? 0) + (free ?? 0) / 2 : (size ?? 0) / 2);
        const through = own ? height : null;
        const isNear = through !== null && places.get(from)?.column === end.column;
        const points = ends(places.get(from), end, through !== null);
        // The shortest way of every seventh of many, to keep the test short; of all others the distance along and across.
        const apart = Math.abs(points[0][0] - points[1][0]) + Math.abs(points[0][1] - points[1][1]);
        if (needs.length <= 9 || checked++ % 7 === 0) {
          const way = shortest(plan, points, isNear ? null : through);
          expect(approximate(spec.metres.lengthM), `${id} ${belt}`).toBeCloseTo(Math.max(2, way), 6);
        }
        expect(approximate(spec.metres.lengthM), `${id} ${belt}`).toBeGreaterThanOrEqual(Math.max(2, apart) - 1e-9);
        return spec.metres.lengthM;
      });
      expect(exact(sum(lengths))).toBe(
        exact(sum(elements.connections.map(({ belt }) => belt?.metres?.lengthM ?? whole(0)))),
      );
      for (const [index, a] of plan.places.entries()) {
        expect(a.xM.add(a.lengthM).compare(plan.lengthM) <= 0 && a.yM.add(a.widthM).compare(plan.widthM) <= 0).toBe(
          true,
        );
        for (const b of plan.places.slice(index + 1)) {
          const isApart = (x: "xM" | "yM", length: "lengthM" | "widthM"): boolean =>
            a[x].add(a[length]).compare(b[x]) <= 0 || b[x].add(b[length]).compare(a[x]) <= 0;
          expect(isApart("xM", "lengthM") || isApart("yM", "widthM")).toBe(true);
        }
      }
    }
  });
});

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
