/** Networks other than plain chains. Values: own derivation, by hand. */

import { describe, expect, test } from "vitest";
import { changingAt, flowAt, madeUpTo, outputUpTo, runningMinutes, solveFlow } from "../../src/analysis/flow/flow.ts";
import type { DividerElement, MachineElement } from "../../src/network/network.ts";
import { rational, whole } from "../../src/quantity/rational.ts";
import type { BeltSpec } from "../../src/scenario/scenario.ts";
import { plainFeed } from "../plain-feed.ts";
import {
  chain,
  connection,
  equalChain,
  eventTimes,
  machine,
  network,
  outputs,
  settledShares,
  solved,
  steady,
} from "./flow-networks.ts";

const feed = (id: string, item: string, ratePerMin: string) => plainFeed(id, item, steady(rational(ratePerMin)));
const even = (id: string): DividerElement => ({ id, line: "line", rule: "even" });
const ordered = (id: string): DividerElement => ({ id, line: "line", rule: "ordered" });
const belt = (ratePerMin: string): BeltSpec => ({
  ratePerMin: rational(ratePerMin),
  capacity: 1,
  transitMin: whole(0),
  metres: null,
});
const single = (id: string, need: string, room = 60) => machine(id, { need: rational(need), room });
const flowsAt = (solution: ReturnType<typeof solved>, tMin: string) =>
  Object.fromEntries(
    [...flowAt(solution, rational(tMin)).detail().connections].map(([id, flow]) => [id, flow.toFraction()]),
  );
const both: MachineElement = {
  ...single("kit", "10"),
  takes: [
    { item: "red", count: 2 },
    { item: "blue", count: 1 },
  ],
  infeed: [
    { item: "red", count: 40 },
    { item: "blue", count: 40 },
  ],
};

describe("a feed held back", () => {
  test("by a full buffer", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("feed", "pouch", "90")],
          machines: [single("m", "30")],
          connections: [connection("feed", "m")],
        }),
      ),
    );
    expect(eventTimes(solution)).toEqual(["1"]);
    expect(solution.phases.map((phase) => phase.detail().feeds.get("feed")?.toFraction())).toEqual(["90", "30"]);
  });

  test("by a belt's rate", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("feed", "pouch", "90")],
          machines: [single("m", "30")],
          connections: [connection("feed", "m", { belt: belt("20") })],
        }),
      ),
    );
    expect(settledShares(solution)).toEqual(["2/3"]);
    expect(eventTimes(solution)).toEqual([]);
  });
});

describe("outlets", () => {
  test("an even divider's outlet takes what a full machine leaves", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("feed", "pouch", "96")],
          dividers: [even("d")],
          machines: [single("m", "24")],
          outlets: [{ id: "out", item: null }],
          connections: [connection("feed", "d"), connection("d", "m"), connection("d", "out")],
        }),
      ),
    );
    expect(eventTimes(solution)).toEqual(["5/2"]);
    expect(flowsAt(solution, "0")).toMatchObject({ "d>m": "48", "d>out": "48" });
    expect(flowsAt(solution, "5/2")).toMatchObject({ "d>m": "24", "d>out": "72" });
  });

  test("products are counted on the way out, and may be merged and divided", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("a", "pouch", "30"), feed("b", "pouch", "10")],
          machines: [single("m", "30"), single("n", "20")],
          merges: [even("collect")],
          dividers: [even("spread")],
          outlets: [
            { id: "east", item: "carton" },
            { id: "west", item: "carton" },
          ],
          connections: [
            connection("a", "m"),
            connection("b", "n"),
            connection("m", "collect"),
            connection("n", "collect"),
            connection("collect", "spread"),
            connection("spread", "east"),
            connection("spread", "west"),
          ],
        }),
      ),
    );
    expect(flowsAt(solution, "0")).toMatchObject({ "collect>spread": "40", "spread>east": "20", "spread>west": "20" });
  });

  test("what no one downstream takes holds its branch back", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("feed", "pouch", "40")],
          dividers: [even("d")],
          machines: [single("m", "60")],
          outlets: [{ id: "out", item: "carton" }],
          connections: [connection("feed", "d"), connection("d", "m"), connection("d", "out")],
        }),
      ),
    );
    expect(flowsAt(solution, "0")).toMatchObject({ "d>m": "40", "d>out": "0" });
  });
});

describe("merges", () => {
  const merged = (rule: typeof even, most: string) =>
    flowsAt(
      solved(
        solveFlow(
          network({
            feeds: [feed("a", "pouch", "10"), feed("b", "pouch", "40"), feed("c", "pouch", "25")],
            merges: [rule("m")],
            machines: [single("out", "100")],
            connections: [
              connection("a", "m"),
              connection("b", "m"),
              connection("c", "m"),
              connection("m", "out", { belt: belt(most) }),
            ],
          }),
        ),
      ),
      "0",
    );

  test("even ones are max-min fair", () => {
    expect(merged(even, "45")).toMatchObject({ "a>m": "10", "b>m": "35/2", "c>m": "35/2" });
    expect(merged(even, "70")).toMatchObject({ "a>m": "10", "b>m": "35", "c>m": "25" });
    expect(merged(even, "90")).toMatchObject({ "a>m": "10", "b>m": "40", "c>m": "25" });
  });

  test("ordered ones serve the first", () => {
    expect(merged(ordered, "45")).toMatchObject({ "a>m": "10", "b>m": "35", "c>m": "0" });
    expect(merged(ordered, "70")).toMatchObject({ "a>m": "10", "b>m": "40", "c>m": "20" });
  });

  test("divider outlets merged again pass what the belt behind them takes", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("feed", "pouch", "60")],
          dividers: [even("d")],
          merges: [even("m")],
          machines: [single("side", "15"), single("main", "100")],
          connections: [
            connection("feed", "d"),
            connection("d", "side"),
            connection("d", "m", { id: "left" }),
            connection("d", "m", { id: "right" }),
            connection("m", "main", { belt: belt("36") }),
          ],
        }),
      ),
    );
    expect(flowsAt(solution, "0")).toMatchObject({ left: "18", right: "18", "d>side": "24" });
    expect(eventTimes(solution)).toEqual(["20/3"]);
    expect(flowsAt(solution, "20/3")).toMatchObject({ left: "18", right: "18", "d>side": "15", "feed>d": "51" });
  });

  test("shares that approach one another by halves without ever meeting are solved for", () => {
    // The side connection takes 19 − main and leaves main and other half of 31 − side each: main = 12.
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("a", "pouch", "19"), feed("other", "pouch", "14")],
          dividers: [ordered("d")],
          merges: [even("m")],
          machines: [single("one", "31", 17)],
          connections: [
            connection("a", "d"),
            connection("d", "m"),
            connection("d", "one"),
            connection("other", "m"),
            connection("m", "one"),
          ],
        }),
      ),
    );
    expect(flowsAt(solution, "100")).toMatchObject({ "d>m": "12", "d>one": "7", "m>one": "24", "other>m": "12" });
  });
});

describe("machines of several kinds", () => {
  const kitting = (red: string, blue: string) =>
    solved(
      solveFlow(
        network({
          feeds: [feed("reds", "red", red), feed("blues", "blue", blue)],
          machines: [both],
          connections: [connection("reds", "kit"), connection("blues", "kit")],
        }),
      ),
    );

  test("the scarcer kind sets the pace, the other fills up and is held back", () => {
    const solution = kitting("10", "30");
    expect(settledShares(solution)).toEqual(["1/2"]);
    expect(eventTimes(solution)).toEqual(["8/5"]);
    expect(solution.phases.at(-1)?.detail().feeds.get("blues")?.toFraction()).toBe("5");
    expect(solution.rampUpLoss.toFraction()).toBe("0");
  });

  test("a store of the scarcer kind runs the machine until it is empty", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("reds", "red", "0"), feed("blues", "blue", "30")],
          machines: [both],
          connections: [connection("reds", "kit"), connection("blues", "kit")],
        }),
        { initialLevels: [{ machine: "kit", item: "red", level: rational("30") }] },
      ),
    );
    expect(solution.phases.map(({ events }) => events.map(({ what }) => what))).toEqual([[], ["empty"], ["full"]]);
    expect(eventTimes(solution)).toEqual(["3/2", "11/6"]);
    expect(outputs(solution)).toEqual(["10", "0", "0"]);
    expect(outputUpTo(solution, rational("100")).toFraction()).toBe("15");
    expect(madeUpTo(solution, "kit", rational("1")).toFraction()).toBe("10");
    expect(runningMinutes(solution, rational("100")).get("kit")?.toFraction()).toBe("3/2");
  });

  test("kinds shared by two machines find their balance", () => {
    const kits = ["one", "two"].map((id) => ({ ...both, id }));
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("reds", "red", "30"), feed("blues", "blue", "18")],
          dividers: [even("red"), even("blue")],
          machines: kits,
          connections: [
            connection("reds", "red"),
            connection("blues", "blue"),
            ...kits.flatMap(({ id }) => [connection("red", id), connection("blue", id)]),
          ],
        }),
      ),
    );
    // Reds are short: 15 a machine of 20 needed; both then take 15/2 blues of the 9 on offer.
    expect(settledShares(solution)).toEqual(["3/4", "3/4"]);
    expect(solution.phases.at(-1)?.detail().feeds.get("blues")?.toFraction()).toBe("15");
    expect(eventTimes(solution)).toEqual(["80/3"]);
  });

  test("several connections with one kind are served in order", () => {
    const solution = solved(
      solveFlow(
        network({
          feeds: [feed("first", "pouch", "20"), feed("second", "pouch", "40")],
          machines: [single("m", "30")],
          connections: [connection("first", "m"), connection("second", "m")],
        }),
      ),
    );
    expect(flowsAt(solution, "2")).toEqual({ "first>m": "20", "second>m": "10" });
  });
});

describe("a creeping buffer", () => {
  const solution = solved(solveFlow(equalChain(4, rational("24"), 60, rational("96096/1000"))));

  test("is named with its rate and its end", () => {
    const last = changingAt(solution, rational("100")).map((buffer) => ({
      machine: buffer.machine,
      net: buffer.netPerMin.toFraction(),
      done: buffer.doneAtMin?.toFraction(),
    }));
    const done = solution.phases.at(-1)?.fromMin.toFraction();
    expect(last).toEqual([
      { machine: "machine-3", net: "6/125", done },
      { machine: "machine-4", net: "6/125", done },
    ]);
    expect(changingAt(solution, rational("5000"))).toEqual([]);
  });

  test("has a level at the start of each phase", () => {
    const levels = solution.phases.map(
      (phase) => phase.detail().machines[2]?.infeed[0]?.levelAtStart.toFraction() ?? "",
    );
    expect(levels[0]).toBe("0");
    expect(levels.at(-1)).toBe("60");
  });
});

test("a feed that stops lets every buffer run empty", () => {
  const profile = [
    { fromMin: whole(0), ratePerMin: rational("48") },
    { fromMin: rational("10"), ratePerMin: rational("0") },
  ];
  const solution = solved(
    solveFlow(
      chain(
        [
          { need: rational("12"), room: 60 },
          { need: rational("12"), room: 60 },
        ],
        profile,
      ),
    ),
  );
  expect(solution.phases.map(({ events }) => events.map((event) => event.what))).toEqual([
    [],
    ["full", "full"],
    ["feed"],
    ["empty", "empty"],
  ]);
  expect(eventTimes(solution)).toEqual(["5", "10", "15"]);
  expect(solution.settledPerMin.toFraction()).toBe("0");
  expect(solution.fullPerMin.toFraction()).toBe("24");
});

describe("refused, with the reason", () => {
  const reasonOf = (given: Parameters<typeof network>[0]) => {
    const result = solveFlow(network(given));
    return result.applies ? "" : result.reason;
  };

  test("several kinds on one connection", () => {
    const reason = reasonOf({
      feeds: [feed("a", "red", "10"), feed("b", "blue", "10")],
      merges: [even("m")],
      machines: [both],
      connections: [connection("a", "m"), connection("b", "m"), connection("m", "kit", { id: "mixed" })],
    });
    expect(reason).toContain("connection mixed carries several kinds (red, blue)");
  });

  test("a return loop", () => {
    const reason = reasonOf({
      feeds: [feed("a", "pouch", "10")],
      dividers: [even("d")],
      merges: [even("m")],
      machines: [single("one", "10")],
      connections: [connection("a", "m"), connection("m", "d"), connection("d", "one"), connection("d", "m")],
    });
    expect(reason).toContain("return loop");
  });
});

test("impossible initial levels and times are errors", () => {
  const small = equalChain(2, rational("24"), 60, rational("48"));
  const start = (given: { machine?: string; item?: string; level: string }) => () =>
    solveFlow(small, {
      initialLevels: [{ machine: "machine-1", item: "pouch", ...given, level: rational(given.level) }],
    });
  expect(start({ level: "61" })).toThrow(RangeError);
  expect(start({ level: "-1" })).toThrow(RangeError);
  expect(start({ machine: "machine-9", level: "1" })).toThrow(RangeError);
  expect(start({ item: "carton", level: "1" })).toThrow(RangeError);
  expect(() => flowAt(solved(solveFlow(small)), rational("-1"))).toThrow(RangeError);
});

test("ten thousand dividers in a row are no trouble", () => {
  const machines = new Array(10_000).fill({ need: rational("1"), room: 60 });
  const solution = solved(solveFlow(chain(machines, steady(rational("3")), "ordered")));
  expect(eventTimes(solution)).toEqual(["30", "90"]);
  expect(settledShares(solution).slice(0, 4)).toEqual(["1", "1", "1", "0"]);
});
