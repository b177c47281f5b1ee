/** What a drawing is made from: every element and belt once, and as much out of each as comes in. */
import { describe, expect, test } from "vitest";
import type { PlantDrawing } from "../../src/analysis/plant-drawing.ts";
import type { Network } from "../../src/network/network.ts";
import { exact, ONE, type Rational, rational, sum, whole } from "../../src/quantity/rational.ts";
import { EXAMPLES, textOf } from "../examples/examples.ts";
import { type Drawn, drawn, JAMMING, layoutOf } from "../report/drawn-plants.ts";

function total(belts: PlantDrawing["belts"]): string {
  return exact(sum(belts.map(({ flow_per_min }) => rational(flow_per_min ?? "-1"))));
}

/** Items of all kinds to each that is counted. */
function itemsFor({ takes, makes }: Network["machines"][number]): Rational {
  const all = (counts: typeof takes): Rational => sum(counts.map(({ count }) => whole(count)));
  return takes.length === 1 ? ONE : all(takes).div(all(makes));
}

/** Rates into and out of elements that differ. */
function unbalanced({ elements, belts }: PlantDrawing, { machines }: Network): string[] {
  const counted = new Map(machines.map((machine) => [machine.id, itemsFor(machine)]));
  return elements.flatMap(({ id, kind, per_min: said, has_no_belt }) => {
    if (has_no_belt) return [];
    // A machine that takes several kinds is said to make products.
    const per_min = said && exact(rational(said).mul(counted.get(id) ?? ONE));
    const into = total(belts.filter(({ to }) => to === id));
    const out = total(belts.filter(({ from }) => from === id));
    const sides = {
      feed: [out],
      outlet: [into],
      machine: [into],
      divider: [into, out],
      merge: [into, out],
      surge: [into, out],
    };
    return sides[kind].every((side) => side === per_min) ? [] : [`${id}: ${into} in, ${out} out, ${per_min} said`];
  });
}

describe.each(EXAMPLES)("%s", (name) => {
  const { network, result, drawing } = drawn(textOf(name));

  test("has every element and belt once", () => {
    const { feeds, merges, dividers, machines, outlets, connections } = network;
    const ids = [feeds, merges, dividers, machines, outlets].flatMap((list) => list.map(({ id }) => id));
    expect(drawing.elements.map(({ id }) => id).toSorted()).toEqual(ids.toSorted());
    expect(drawing.belts.map(({ id }) => id)).toEqual(connections.map(({ id }) => id));
  });

  test("as much goes out of every element as comes in, direct hand-overs included", () => {
    // Under chance rates are measured, and none is exact.
    expect(result.settling.basis === "measured").toBe(result.chance !== undefined);
    if (result.chance === undefined) expect(unbalanced(drawing, network)).toEqual([]);
  });

  test("the shares of each line's machines make one", () => {
    for (const line of result.lines) {
      const shares = drawing.elements.filter(({ id }) => line.machines.includes(id)).map(({ share }) => share);
      const known = shares.filter((share) => share !== null);
      if (known.length > 0) expect(exact(sum(known.map(rational)))).toBe("1");
      else expect(line.output.settled_per_min).toBe(result.chance === undefined ? "0" : null);
    }
  });
});

const element = ({ drawing }: Drawn, id: string) => drawing.elements.find((one) => one.id === id);
const belt = ({ drawing }: Drawn, id: string) => drawing.belts.find((one) => one.id === id);

test("a machine has its exact part of its line", () => {
  const plant = drawn(layoutOf("loop", 7));
  for (let m = 1; m <= 7; m++) {
    expect(element(plant, `filler-${m}`)).toMatchObject({ per_min: "12", needs_per_min: "12", share: "1/7" });
  }
});

test("belts that lead back are marked, and those by which everything goes to such a one", () => {
  expect(drawn(layoutOf("tree", 8)).drawing.belts.filter(({ returns }) => returns)).toEqual([]);
  const { drawing, network } = drawn(layoutOf("loop", 29));
  const head = network.merges.find(({ id }) => id === "main.head")?.id;
  const back = drawing.belts.filter(({ returns }) => returns);
  expect(back.filter(({ to }) => to === head)).toHaveLength(1);
  // Three of 32 shares come back: two by one belt, one by another, joined before the head.
  expect(back.map(({ flow_per_min }) => flow_per_min).toSorted()).toEqual(["12", "24", "36"]);
});

test("a surge buffer is an element, whether a belt or a direct hand-over follows it", () => {
  const text = (belts: string) => `
horizon: 4 h
feeds: { lorry: { item: can, batch: { every: 10 min, items: 100, rate: 60/min }, surge: 300 } }
machines: { filler: { count: 2, cycle: 12 s, takes: { can: 1 }, makes: { tin: 1 }, infeed: 10 } }
lines: { main: { layout: custom, dividers: { fork: even }, belts: { first: { from: lorry, to: fork, ${belts} }, a: { from: fork, to: filler-1, belt: none }, b: { from: fork, to: filler-2, belt: none } } } }
`;
  for (const given of ["belt: none", "rate: 60/min, capacity: 10, transit: 5 s"]) {
    const plant = drawn(text(given));
    expect(element(plant, "lorry.hopper")).toMatchObject({ kind: "surge", per_min: "10" });
    expect(belt(plant, "lorry.surge")).toMatchObject({ from: "lorry", to: "lorry.hopper", rate_per_min: null });
    expect(belt(plant, "main.first")).toMatchObject({ from: "lorry.hopper", to: "main.fork" });
    expect(unbalanced(plant.drawing, plant.network)).toEqual([]);
  }
});

const SORTED = `
horizon: 2 h
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 60/min } }
machines:
  redder: { cycle: 2 s, takes: { red: 1 }, makes: { r: 2 }, infeed: 10 }
  bluer: { cycle: 3 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
lines:
  main:
    layout: custom
    dividers: { sort: ordered }
    belts:
      in: { from: mix, to: sort, rate: 120/min, capacity: 10 }
      r: { from: sort, to: redder, only: [red], rate: 120/min, capacity: 10 }
      b: { from: sort, to: bluer, only: [blue], rate: 120/min, capacity: 10 }
outlets: { door: { item: r } }
`;

test("rules, what is offered, kinds on mixed belts, and outlets without a belt", () => {
  const plant = drawn(SORTED);
  expect(element(plant, "main.sort")).toMatchObject({ rule: "ordered" });
  expect(element(plant, "mix")).toMatchObject({ per_min: "40", offered_per_min: "60" });
  expect(plant.drawing.belts.map(({ kinds, comes_first }) => [kinds, comes_first])).toEqual([
    [["red", "blue"], []],
    [["red"], ["from"]],
    [["blue"], []],
  ]);
  expect(element(plant, "door")).toMatchObject({ has_no_belt: true, per_min: "40" });
  const even = drawn(layoutOf("chain", 3));
  expect(element(even, "main.divider-1")).toMatchObject({ rule: "even" });
  for (const { kinds, comes_first, jammed_by } of even.drawing.belts) {
    expect([kinds, comes_first, jammed_by]).toEqual([[], [], null]);
  }
});

test("a standstill and the belt at whose head a kind stands", () => {
  const { drawing } = drawn(JAMMING);
  expect(drawing.stands_still).toBe(true);
  expect(drawing.belts.flatMap(({ id, jammed_by }) => (jammed_by === null ? [] : [[id, jammed_by]]))).toEqual([
    ["main.through-3", "red"],
  ]);
});

test("measured rates are told apart from exact ones", () => {
  const awkward = layoutOf("chain", 3).replace("cycle: 5 s", "cycle: 5 s, speed: [99.7 %, 101.3 %, 97.1 %]");
  const { result, drawing } = drawn(awkward.replace("horizon: 40 min", "horizon: 2 min"));
  expect(result.settling.basis).toBe("measured");
  for (const one of [
    ...drawing.belts.map((b) => [b.flow_per_min, b.measured_per_min]),
    ...drawing.elements.map((e) => [e.per_min, e.measured_per_min]),
  ]) {
    expect(one).toEqual([null, expect.any(Number)]);
  }
  expect(drawing.elements.every(({ share }) => share === null)).toBe(true);
});
