import { describe, expect, test } from "vitest";
import { resultOf } from "./plant-files.ts";

describe("exactly when, by hand", () => {
  test("a kind that a machine never takes", () => {
    // Item n is fed at n seconds, blue being the even ones, and takes 10 s to the head. Blue 1, fed at 2 s, stays there.
    const { jams } = resultOf(`
horizon: 10 min
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 60/min } }
machines:
  redder: { cycle: 0.5 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 }
  bluer: { cycle: 0.5 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
lines:
  main:
    layout: custom
    dividers: { fork: ordered }
    belts:
      in: { from: mix, to: fork, belt: none }
      on: { from: fork, to: redder, rate: 120/min, capacity: 20, transit: 10 s }
      off: { from: fork, to: bluer, only: [blue], belt: none }
`);
    expect(jams).toEqual([
      {
        line: "main",
        item: "blue",
        belt: "main.on",
        at: "redder",
        also: [],
        is_full: false,
        since_min: 12 / 60,
        // Red stands at the fork behind it, and blue behind that.
        starved: [
          { machine: "redder", item: "red" },
          { machine: "bluer", item: "blue" },
        ],
        blocked: [],
        dividers: [{ divider: "main.fork", takes_turns: false }],
        stops_plant: true,
      },
    ]);
  });

  test("a chain of two: the first blue that the blue machine can't take passes on to the red one's belt", () => {
    // Blue k comes at 2 k s to a machine that starts a cycle every 4 s, from just after 2 s on. Its buffer of 10 is full
    // for the first time at k = 21 (20 came, 10 cycles began), at 42 s; 6 s later that one is at the far end.
    const result = resultOf(`
horizon: 20 min
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 60/min } }
machines:
  bluer: { cycle: 4 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
  redder: { cycle: 1 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 }
lines:
  main:
    layout: custom
    dividers: { fork: ordered }
    belts:
      in: { from: mix, to: fork, belt: none }
      branch: { from: fork, to: bluer, only: [blue], belt: none }
      through: { from: fork, to: redder, rate: 120/min, capacity: 20, transit: 6 s }
`);
    expect(result.jams).toMatchObject([
      { item: "blue", belt: "main.through", at: "redder", is_full: false, since_min: 0.8 },
    ]);
    expect(result.jams?.[0]?.starved.map(({ machine }) => machine)).toEqual(["bluer", "redder"]);
    expect(result.mixes).toMatchObject([
      {
        line: "main",
        jams: true,
        nearest: "blue",
        margin: "0",
        kinds: [
          { item: "red", offered_per_min: "30", takeable_per_min: "60" },
          { item: "blue", offered_per_min: "30", takeable_per_min: "15" },
        ],
      },
    ]);
    expect(result.bottlenecks).toMatchObject([{ code: "jam", element: "main.through", machines: ["bluer", "redder"] }]);
  });

  test("an assembly that gets too much of one part", () => {
    // Two red and one blue a cycle from a mix of one to one: after k of each, [k / 2] blue are used up. The buffer of 10 is
    // full for blue 21, item 42, fed at 42 s and 6 s later at the head.
    const result = resultOf(`
horizon: 20 min
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 60/min } }
machines: { tray: { cycle: 1 s, takes: { red: 2, blue: 1 }, makes: { tray: 1 }, infeed: 10 } }
lines:
  main: { layout: custom, belts: { in: { from: mix, to: tray, rate: 120/min, capacity: 20, transit: 6 s } } }
`);
    expect(result.output.made).toBe(10);
    expect(result.jams).toEqual([
      {
        line: "main",
        item: "blue",
        belt: "main.in",
        at: "tray",
        also: [],
        is_full: true,
        since_min: 0.8,
        starved: [{ machine: "tray", item: "red" }],
        blocked: [],
        dividers: [],
        stops_plant: true,
      },
    ]);
    expect(result.mixes).toMatchObject([{ jams: true, margin: "0", rule: "proportion" }]);
  });
});

test("one jam however many places it holds up, named where it was first", () => {
  const { jams } = resultOf(`
feeds: { mix: { items: { red: 3, blue: 2 }, rate: 50/min } }
machines: { tray: { count: 4, cycle: 10 s, takes: { red: 2, blue: 1 }, makes: { tray: 1 }, infeed: { red: 20, blue: 10 } } }
lines: { main: { layout: chain, from: [mix], to: [tray], belt: { rate: 120/min, capacity: 10 } } }
`);
  expect(jams).toHaveLength(1);
  const [jam] = jams ?? [];
  expect([jam?.item, jam?.is_full, jam?.stops_plant]).toEqual(["blue", true, true]);
  expect([jam?.belt, ...(jam?.also ?? [])].sort()).toEqual([
    "main.branch-1",
    "main.branch-2",
    "main.branch-3",
    "main.through-4",
  ]);
  expect(jam?.starved.map(({ machine }) => machine)).toEqual(["tray-1", "tray-2", "tray-3", "tray-4"]);
});

test("a jam on a side line: the plant goes on, without the machine behind it", () => {
  // The fork's first turn sends a blue one to the left, where only red is taken.
  const result = resultOf(`
feeds: { mix: { items: { blue: 1, red: 1 }, rate: 60/min } }
machines: { redder: { count: 2, cycle: 2 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 } }
lines:
  main:
    layout: custom
    dividers: { fork: even }
    belts:
      in: { from: mix, to: fork, rate: 120/min, capacity: 10 }
      left: { from: fork, to: redder-1, rate: 120/min, capacity: 10 }
      right: { from: fork, to: redder-2, only: [red], rate: 120/min, capacity: 10 }
      blues: { from: fork, to: bin, only: [blue], rate: 120/min, capacity: 10 }
outlets: { bin: { item: blue } }
`);
  expect(result.jams).toMatchObject([
    { item: "blue", belt: "main.left", at: "redder-1", starved: [{ machine: "redder-1" }], stops_plant: false },
  ]);
  expect([result.feeds[0]?.settled_per_min, result.output.settled_per_min]).toEqual(["60", "30"]);
  expect(result.bottlenecks).toMatchObject([{ code: "jam", machines: ["redder-1"], lost_per_min: 30 }]);
});

test("two lines that wait for one another: one product fills the way, the other can't be made", () => {
  // One of each a cycle, but the capper takes two lids to a jar.
  const result = resultOf(`
feeds: { bin: { item: raw, rate: 60/min } }
machines:
  stamp: { cycle: 1 s, takes: { raw: 1 }, makes: { jar: 1, lid: 1 }, infeed: 10, outfeed: 10 }
  capper: { cycle: 1 s, takes: { jar: 1, lid: 2 }, makes: { good: 1 }, infeed: 10 }
lines:
  a:
    layout: custom
    belts:
      in: { from: bin, to: stamp, belt: none }
      jar: { from: stamp, to: capper, only: [jar], rate: 120/min, capacity: 5, transit: 2 s }
      lid: { from: stamp, to: capper, only: [lid], rate: 120/min, capacity: 5 }
`);
  expect(result.jams).toMatchObject([
    {
      item: "jar",
      belt: "a.jar",
      at: "capper",
      is_full: true,
      starved: [{ machine: "capper", item: "lid" }],
      blocked: ["stamp"],
    },
  ]);
});

test("a jam further on: what stands behind it on another line is not another jam", () => {
  const result = resultOf(`
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 60/min }, caps: { item: cap, rate: 60/min } }
machines:
  redder: { cycle: 1 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 }
  closer: { cycle: 1 s, takes: { r: 1, cap: 1 }, makes: { closed: 1 }, infeed: 10 }
  bluer: { cycle: 1 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
lines:
  main:
    layout: custom
    dividers: { fork: ordered }
    belts:
      in: { from: mix, to: fork, belt: none }
      on: { from: fork, to: redder, rate: 120/min, capacity: 20, transit: 10 s }
      off: { from: fork, to: bluer, only: [blue], belt: none }
  caps: { layout: chain, from: [caps], to: [closer], belt: { rate: 120/min, capacity: 10 } }
  reds: { layout: chain, from: [redder], to: [closer], belt: { rate: 120/min, capacity: 10 } }
`);
  expect(result.jams).toHaveLength(1);
  expect(result.jams).toMatchObject([{ line: "main", item: "blue", belt: "main.on" }]);
  expect(result.jams?.[0]?.starved).toContainEqual({ machine: "closer", item: "r" });
});

describe("what is no jam", () => {
  test("a part of an assembly that is not fed any more", () => {
    const { jams, output } = resultOf(`
feeds:
  r: { item: red, profile: [{ from: 0 min, rate: 30/min }, { from: 10 min, rate: 0/min }] }
  b: { item: blue, rate: 30/min }
machines: { tray: { cycle: 2 s, takes: { red: 1, blue: 1 }, makes: { tray: 1 }, infeed: 10 } }
lines: { a: { layout: chain, from: [r, b], to: [tray], belt: { rate: 120/min, capacity: 10 } } }
`);
    expect([output.settled_per_min, jams]).toEqual(["0", []]);
  });

  test("a line that is full because more is fed than is taken", () => {
    const { jams } = resultOf(`
feeds: { bin: { item: raw, rate: 90/min } }
machines: { press: { count: 3, cycle: 3 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 10 } }
lines: { a: { layout: chain, from: [bin], to: [press], belt: { rate: 120/min, capacity: 10 } } }
`);
    expect(jams).toEqual([]);
  });
});
