/** Dividers and merges: whole items, shared in turns. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Connection, Network } from "../../src/network/network.ts";
import type { Rule } from "../../src/scenario/scenario.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, merge, passed, profiled, run, settledFlow } from "./lines.ts";

const outlet = (id: string) => ({ id, item: null });

/** Exactly so many items, one a second, then no more. */
function metered(count: number) {
  return profiled("feed", [
    ["0", "60"],
    [`${2 * count + 1}/120`, "0"],
  ]);
}

/** One divider between the feed and outlets out-1, out-2 …, by connections of the same names. */
function split(rule: Rule, outlets: readonly Partial<Connection>[], perMin = "60"): Network {
  return network({
    feeds: [feed("feed", perMin), feed("other", perMin, "carton")],
    merges: [merge("join")],
    dividers: [divider("split", rule)],
    outlets: outlets.map((_, i) => outlet(`out-${i + 1}`)),
    connections: [
      connection("feed", "join"),
      connection("other", "join"),
      connection("join", "split", { belt: belt("600", 4) }),
      ...outlets.map((given, i) => connection("split", `out-${i + 1}`, { id: `out-${i + 1}`, ...given })),
    ],
  });
}

/** A chain of `count` outlets, the branch named first. */
function chainOfOutlets(count: number, items: number, given: Partial<Connection>): Network {
  const next = (place: number) => (place < count ? `divider-${place}` : `out-${count}`);
  const places = Array.from({ length: count - 1 }, (_, i) => i + 1);
  return network({
    feeds: [metered(items)],
    dividers: places.map((place) => divider(`divider-${place}`)),
    outlets: [...places, count].map((place) => outlet(`out-${place}`)),
    connections: [
      connection("feed", next(1), given),
      ...places.flatMap((place) => [
        connection(`divider-${place}`, `out-${place}`, given),
        connection(`divider-${place}`, next(place + 1), given),
      ]),
    ],
  });
}

function shares(count: number, items: number, given: Partial<Connection>): number[] {
  const found = run(chainOfOutlets(count, items, given), { minutes: String(items / 60 + 5) });
  const last = count === 1 ? "feed" : `divider-${count - 1}`;
  const branches = Array.from({ length: count - 1 }, (_, i) => passed(found, `divider-${i + 1}>out-${i + 1}`));
  return [...branches, passed(found, `${last}>out-${count}`)];
}

describe("a chain of even dividers counts items out exactly", () => {
  test.each([
    { given: [4, 100], expected: [50, 25, 13, 12] },
    { given: [8, 1000], expected: [500, 250, 125, 63, 31, 16, 8, 7] },
  ])("$given", ({ given: [count = 0, items = 0], expected }) => {
    expect(shares(count, items, {})).toEqual(expected);
    expect(shares(count, items, { belt: belt("120", 9, "3/2") })).toEqual(expected);
  });

  test("branch k gets half of what reaches it, rounded up; the last gets the rest (own derivation)", () => {
    const given = fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 0, max: 300 }));
    fc.assert(
      fc.property(given, fc.boolean(), ([count, items], belts) => {
        fc.pre(items > 0);
        const reach = (place: number) => Math.floor(items / 2 ** (place - 1));
        const expected = Array.from({ length: count - 1 }, (_, i) => Math.ceil(reach(i + 1) / 2));
        expect(shares(count, items, belts ? { belt: belt("61", 9, "3/2") } : {})).toEqual([...expected, reach(count)]);
      }),
    );
  });
});

describe("which outlet", () => {
  test("an even divider begins with the one named first, and takes turns", () => {
    for (const [minutes, expected] of [
      ["1/60", [1, 0, 0]],
      ["2/60", [1, 1, 0]],
      ["3/60", [1, 1, 1]],
      ["4/60", [2, 1, 1]],
    ] as const) {
      const line = network({
        feeds: [feed("feed", "60")],
        dividers: [divider("split")],
        outlets: ["b", "a", "c"].map(outlet),
        connections: [connection("feed", "split"), ...["b", "a", "c"].map((id) => connection("split", id, { id }))],
      });
      const found = run(line, { minutes });
      expect(["b", "a", "c"].map((id) => passed(found, id))).toEqual(expected);
    }
  });

  test("an outlet that cannot take is skipped, and loses its turn", () => {
    // Out of 120/min the second takes what its belt carries, 10; the others share the rest evenly.
    const found = run(split("even", [{}, { belt: belt("10", 5) }, {}]));
    expect(["out-1", "out-2", "out-3"].map((id) => settledFlow(found, id))).toEqual(["55", "10", "55"]);
  });

  test("an ordered divider serves the first that can", () => {
    const found = run(split("ordered", [{ belt: belt("70", 5) }, { belt: belt("20", 5) }, {}]));
    expect(["out-1", "out-2", "out-3"].map((id) => settledFlow(found, id))).toEqual(["70", "20", "30"]);
  });

  test("an outlet lets in its kinds only", () => {
    const found = run(split("even", [{ only: ["carton"] }, { only: ["pouch"] }, {}]), { stepAll: true, minutes: "10" });
    const [cartons = 0, pouches = 0, both = 0] = ["out-1", "out-2", "out-3"].map((id) => passed(found, id));
    expect(cartons + pouches + both).toBeGreaterThan(1190);
    expect(run(split("ordered", [{ only: ["carton"] }, {}])).totals.left).toEqual(new Float64Array([3599, 3599]));
    const sorted = run(split("ordered", [{ only: ["carton"] }, { only: ["pouch"] }]));
    expect(["out-1", "out-2"].map((id) => settledFlow(sorted, id))).toEqual(["60", "60"]);
  });

  test("what no outlet lets in holds the line up", () => {
    const found = run(split("even", [{ only: ["carton"] }, { only: ["carton"] }]));
    expect(found.recurrence?.period.fed).toEqual(new Float64Array([0, 0]));
  });
});

describe("a merge", () => {
  /** Two belts of 60/min each, or direct feeds, into one that carries less. */
  const join = (rule: Rule, rates: readonly [string, string], given: Partial<Connection>) =>
    network({
      feeds: [feed("a", rates[0]), feed("b", rates[1])],
      merges: [merge("join", rule)],
      outlets: [outlet("out")],
      connections: [
        connection("a", "join", { id: "a", ...given }),
        connection("b", "join", { id: "b", ...given }),
        connection("join", "out", { id: "out", belt: belt("90", 5) }),
      ],
    });
  const flows = (line: Network) => {
    const found = run(line);
    const { recurrence, program } = found;
    const fed = Array.from(recurrence?.period.fed ?? [], (count) => {
      return (count * 60) / (Number(program.tickS) * (recurrence?.periodTicks ?? 0));
    });
    return [...fed.map((rate) => Math.round(rate * 1e9) / 1e9), Number(settledFlow(found, "out"))];
  };

  test.each([
    ["even", ["60", "60"], [45, 45, 90]],
    ["even", ["30", "90"], [30, 60, 90]],
    ["even", ["20", "20"], [20, 20, 40]],
    ["ordered", ["60", "60"], [60, 30, 90]],
    ["ordered", ["90", "60"], [90, 0, 90]],
    ["ordered", ["30", "60"], [30, 60, 90]],
  ] as const)("%s: of %s/min into 90", (rule, rates, expected) => {
    expect(flows(join(rule, rates, { belt: belt("90", 4) }))).toEqual(expected);
    expect(flows(join(rule, rates, {}))).toEqual(expected);
  });

  test("counts what feeds hand over directly as passed, kind by kind", () => {
    const line = join("even", ["60", "60"], {});
    const found = run(line);
    expect(passed(found, "a") + passed(found, "b")).toBe(passed(found, "out"));
    const barred = line.connections.map((one) => (one.id === "a" ? { ...one, only: ["carton"] } : one));
    expect(run({ ...line, connections: barred }).totals.fed[0]).toBe(0);
  });
});

test("an outlet takes its own kind only", () => {
  const line = network({
    feeds: [feed("feed", "60")],
    dividers: [divider("split")],
    outlets: [
      { id: "cartons", item: "carton" },
      { id: "pouches", item: "pouch" },
    ],
    connections: [
      connection("feed", "split"),
      connection("split", "cartons"),
      connection("split", "pouches", { id: "pouches" }),
    ],
  });
  expect(settledFlow(run(line), "pouches")).toBe("60");
});

describe("a return loop", () => {
  /** Three equal outlets from four leaves, the fourth led back before the root. */
  const loop = (perMin: string, ends: readonly string[], backPerMin: string) =>
    network({
      feeds: [feed("feed", perMin)],
      merges: [merge("join", "ordered")],
      dividers: [divider("root"), divider("left"), divider("right")],
      machines: ends.includes("machine") ? [machine("machine", "3")] : [],
      outlets: ["out-1", "out-2", "out-3"].filter((id) => ends.includes(id)).map(outlet),
      connections: [
        connection("right", "join", { id: "back", belt: belt(backPerMin, 6, "2") }),
        connection("feed", "join"),
        connection("join", "root", { id: "root", belt: belt("200", 4) }),
        connection("root", "left"),
        connection("root", "right"),
        connection("left", ends[0] ?? "", { id: "out-1" }),
        connection("left", ends[1] ?? "", { id: "out-2" }),
        connection("right", ends[2] ?? "", { id: "out-3" }),
      ],
    });
  // The divider "right" names its return first.
  const outlets = ["out-1", "out-2", "out-3"];

  test("divides by three: root I L / n, return I (L - n) / n, for I = 60, L = 4, n = 3 (own derivation)", () => {
    const found = run(loop("60", outlets, "200"));
    expect([...outlets, "root", "back"].map((id) => settledFlow(found, id))).toEqual(["20", "20", "20", "80", "20"]);
  });

  test("fed item by item, the outlets' counts never differ by more than one", () => {
    for (let items = 1; items <= 30; items++) {
      const line = loop("6", outlets, "200");
      const found = run({
        ...line,
        feeds: [
          profiled("feed", [
            ["0", "6"],
            [`${2 * items + 1}/12`, "0"],
          ]),
        ],
      });
      const counts = outlets.map((id) => passed(found, id));
      expect(counts.reduce((sum, count) => sum + count)).toBe(items);
      expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1);
    }
  });

  test("neither loses nor locks where the machine behind it takes less than comes", () => {
    const found = run(loop("90", ["out-1", "out-1", "machine"], "200"));
    expect(found.recurrence).not.toBeNull();
    expect(settledFlow(found, "out-3")).toBe("20");
    const fed = found.recurrence?.period.fed[0] ?? 0;
    const { left, taken } = found.recurrence?.period ?? {};
    expect(fed).toBeGreaterThan(0);
    expect((left?.[0] ?? 0) + (taken?.[0] ?? 0)).toBe(fed);
  });
});
