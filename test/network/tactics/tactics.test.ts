/** What each part of a tactic makes of the network and of its start. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../../src/engine/simulate.ts";
import { expand } from "../../../src/network/expand.ts";
import { feedingOrder } from "../../../src/network/flow-order.ts";
import { prepareNetwork } from "../../../src/network/prepare.ts";
import { compilePriming } from "../../../src/network/priming.ts";
import { applied, CHAIN, ORDER, profileOf, rateOf, routes, scenarioOf, timeline } from "./plants.ts";

const changed = (from: string, to: string): string => {
  if (!CHAIN.includes(from)) throw new Error(`the chain has no "${from}"`);
  return CHAIN.replace(from, to);
};

test("a chain's feeding order is the one it states, groups in the order of their machines", () => {
  const order = (to: string) => {
    const scenario = scenarioOf(changed("[slow, fast-2, fast-1]", to));
    return feedingOrder(scenario, expand(scenario));
  };
  expect(order("[slow, fast-2, fast-1]")).toEqual([ORDER]);
  expect(order("[slow, fast]")).toEqual([["slow", "fast-1", "fast-2"]]);
  expect(order("[fast, slow]")).toEqual([["fast-1", "fast-2", "slow"]]);
});

test("a part leaves all else as it was", () => {
  const { network, priming, placed, notes, before } = applied("{ hold: { until: 1 min } }");
  expect(network).toBe(before);
  expect([priming.stock, priming.loaded, placed, notes]).toEqual([[], [], 0, []]);
});

describe("prefill", () => {
  const stock = (tactic: string) => {
    const { priming, placed } = applied(tactic);
    expect(placed).toBe(priming.stock.reduce((total, { count }) => total + count, 0));
    return priming.stock.map(({ machine, item, count }) => `${machine} ${count} ${item}`);
  };

  test.each<[string, string[]]>([
    ["{ prefill: full }", ["slow 20 pouch", "fast-2 30 pouch", "fast-1 30 pouch"]],
    ["{ prefill: 7 }", ["slow 7 pouch", "fast-2 7 pouch", "fast-1 7 pouch"]],
    ["{ prefill: full, prefill-of: first 2 }", ["slow 20 pouch", "fast-2 30 pouch"]],
    ["{ prefill: full, prefill-of: last 1 }", ["fast-1 30 pouch"]],
    ["{ prefill: { fast: 12 } }", ["fast-2 12 pouch", "fast-1 12 pouch"]],
    ["{ prefill: { fast-1: full, slow: 3 } }", ["slow 3 pouch", "fast-1 30 pouch"]],
  ])("%s", (tactic, expected) => expect(stock(tactic)).toEqual(expected));

  test("by hands delays the start by an item's time each", () => {
    expect(applied("{ prefill: full, by-hand: 60/min }").startsAfterMin.toFraction()).toBe("4/3");
    expect(applied("{ prefill: full }").startsAfterMin.toFraction()).toBe("0");
  });

  test("loads belts as densely as they run: rate times transit", () => {
    const { priming, placed } = applied("{ prefill: 1, prefill-belts: full, by-hand: 60/min }");
    expect(priming.loaded.map(({ connection, item, count }) => `${connection} ${count} ${item}`)).toEqual([
      "main.through-1 10 pouch",
      "main.branch-1 3 pouch",
      "main.through-2 10 pouch",
      "main.branch-2 3 pouch",
      "main.through-3 10 pouch",
    ]);
    expect(placed).toBe(3 + 36);
  });

  test("puts off the line and no timetable: steps and vehicles come as much sooner after the start", () => {
    const late = (feed: string) =>
      applied("{ prefill: { fast: 30 }, by-hand: 12/min }", CHAIN.replace("rate: 130/min", feed)).network;
    const profile =
      "profile: [{ from: 0 min, rate: 9/min }, { from: 3 min, rate: 60/min }, { from: 20 min, rate: 30/min }]";
    // 60 items by hand take five minutes.
    expect(profileOf(late(profile), "silo")).toBe("0: 60, 15: 30");
    expect(profileOf(late("rate: 130/min"), "silo")).toBe("0: 130");
    const first = (batch: string) =>
      late(`batch: { every: 4 min, items: 90, rate: 100/min${batch} }`).feeds[0]?.batch?.firstMin.toFraction();
    expect([first(", first: 7 min"), first(", first: 4 min"), first("")]).toEqual(["2", "-1", "-1"]);
  });

  test("beside the running line places nothing before, and an item an interval then, from the tail up", () => {
    const primed = applied("{ prefill: { slow: 4, fast: 2 }, by-hand: 60/min, while: running }");
    const { network, placed, startsAfterMin, priming, before } = primed;
    expect([placed, priming.stock, startsAfterMin.toFraction(), network]).toEqual([0, [], "0", before]);
    expect(timeline(primed)).toEqual(["at 1/60, 8 times: place fast-1.pouch 2 fast-2.pouch 2 slow.pouch 4"]);
  });

  test("beside the running line, hands place exactly the items stated where these have room, one after another", () => {
    fc.assert(
      fc.property(
        fc.tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 })),
        fc.constantFrom("60/min", "45/min", "97.3/min", "1000/7 /min", "110/min"),
        fc.constantFrom("auto", "100 ms", "70 ms"),
        (counts, pace, tick) => {
          const [slow, second, first] = counts;
          // Nothing comes from the feed, and no cycle takes anything: the hands alone fill the buffers.
          const silent = CHAIN.replace("rate: 130/min", "rate: 1/1000 /min").replace(
            "horizon",
            `tick: ${tick}\nhorizon`,
          );
          const body = `{ prefill: { slow: ${slow}, fast-2: ${second}, fast-1: ${first} }, by-hand: ${pace}, while: running, hold: { until: 60 min } }`;
          const { network, priming } = applied(body, silent);
          const prepared = prepareNetwork(scenarioOf(silent), network);
          if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
          const { program } = prepared;
          const horizonTicks = Math.floor(300 / program.tickS.valueOf());
          const run = simulate(program, { horizonTicks, priming: compilePriming(program, priming), check: true });
          expect(Math.max(...run.totals.placed)).toBe(slow + second + first);
          const level = (id: string) => {
            const m = network.machines.findIndex((machine) => machine.id === id);
            return run.noted.high[
              program.machine.bufferFor[m * program.itemCount + network.items.indexOf("pouch")] ?? -1
            ];
          };
          expect(["slow", "fast-2", "fast-1"].map(level)).toEqual(counts);
        },
      ),
      { numRuns: 60 },
    );
  });

  test("hands go on to the next buffer where theirs is full, and come back while there is something left for it", () => {
    // Of 30 places at the tail 5 are filled, then 5 in the middle, 20 at the head, which is full: the rest is left.
    const body = "{ prefill: full, by-hand: 60/min, while: running, low-level: { at: 5 }, hold: { until: 60 min } }";
    const silent = CHAIN.replace("rate: 130/min", "rate: 1/1000 /min");
    const { network, priming } = applied(body, silent);
    const prepared = prepareNetwork(scenarioOf(silent), network);
    if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
    const { program } = prepared;
    const run = simulate(program, {
      horizonTicks: Math.floor(300 / program.tickS.valueOf()),
      priming: compilePriming(program, priming),
      check: true,
    });
    expect(Math.max(...run.totals.placed)).toBe(15);
  });
});

describe("hold", () => {
  test.each<[string, string[]]>([
    ["{ hold: { until: own-full } }", ORDER.map((id) => `when ${id}.pouch is full, + 0: release ${id}`)],
    [
      "{ hold: { until: all-full, release: tail-first, every: 30 s } }",
      ["fast-1", "fast-2", "slow"].map(
        (id, turn) => `when slow.pouch fast-2.pouch fast-1.pouch is full, + ${["0", "1/2", "1"][turn]}: release ${id}`,
      ),
    ],
    [
      "{ hold: { until: 5 min, release: head-first, every: 10 s } }",
      ["at 5: release slow", "at 31/6: release fast-2", "at 16/3: release fast-1"],
    ],
    [
      "{ stagger: { first: tail, every: 30 s } }",
      ["at 0: release fast-1", "at 1/2: release fast-2", "at 1: release slow"],
    ],
    [
      "{ stagger: { first: head, every: 30 s } }",
      ["at 0: release slow", "at 1/2: release fast-2", "at 1: release fast-1"],
    ],
  ])("%s", (tactic, releases) => {
    expect(timeline(applied(tactic))).toEqual(["at 0: hold slow fast-2 fast-1", ...releases]);
  });
});

describe("far end first", () => {
  test.each([
    ["tail-full", "when fast-1.pouch is full, + 0"],
    ["90 s", "at 3/2"],
  ])("until %s", (until, when) => {
    expect(timeline(applied(`{ far-end-first: { until: ${until} } }`))).toEqual([
      "at 0: divide last-first at main.divider-1 main.divider-2",
      `${when}: divide as before at main.divider-1 main.divider-2`,
    ]);
  });
});

describe("boost", () => {
  const boost = (factor: string, chain = CHAIN) => applied(`{ boost: { to: ${factor}, for: 10 min } }`, chain);

  test("runs the feeds faster for the time stated", () => {
    const { network, notes } = boost("110 %");
    expect(profileOf(network, "silo")).toBe("0: 143, 10: 130");
    expect(notes).toEqual([]);
  });

  test("stops at what the belt carries, and says so", () => {
    const { network, notes } = boost("120 %");
    expect(profileOf(network, "silo")).toBe("0: 150, 10: 130");
    expect(notes.map((note) => note.note === "boost-limited" && `${note.belt} ${note.factor.toFraction()}`)).toEqual([
      "main.through-1 15/13",
    ]);
  });

  test("never slows a feed that the belt cannot carry already", () => {
    const { network, notes } = boost("120 %", changed("130/min", "160/min"));
    expect(profileOf(network, "silo")).toBe("0: 160, 10: 160");
    expect(notes.map((note) => note.note === "boost-limited" && note.factor.toFraction())).toEqual(["1"]);
  });

  test("feeds that share the belt share what it carries, and one note", () => {
    const shared = changed(
      "silo: { item: pouch, rate: 130/min }",
      "silo: { item: pouch, rate: 100/min }\n  sack: { item: pouch, rate: 20/min }",
    ).replace("from: silo", "from: [silo, sack]");
    const { network, notes } = boost("150 %", shared);
    expect([profileOf(network, "silo"), profileOf(network, "sack")]).toEqual(["0: 125, 10: 100", "0: 25, 10: 20"]);
    expect(notes.length).toBe(1);
  });

  test("keeps to a profile's own steps, and to what the belt carries at the highest of them", () => {
    const profiled = (steps: string) => changed("rate: 130/min", `profile: [${steps}]`);
    const early = "{ from: 0 min, rate: 100/min }, { from: 5 min, rate: 50/min }, { from: 20 min, rate: 130/min }";
    expect(profileOf(boost("110 %", profiled(early)).network, "silo")).toBe("0: 110, 5: 55, 10: 50, 20: 130");
    const rising = "{ from: 0 min, rate: 50/min }, { from: 5 min, rate: 100/min }";
    const { network, notes } = boost("200 %", profiled(rising));
    expect(profileOf(network, "silo")).toBe("0: 75, 5: 150, 10: 100");
    expect(notes.length).toBe(1);
  });
});

describe("low level", () => {
  test("for good is less room, never less than a cycle takes", () => {
    const rooms = (level: number, of = "all") =>
      applied(`{ low-level: { at: ${level}, of: ${of} } }`).network.machines.map(
        ({ id, infeed }) => `${id} ${infeed[0]?.count}`,
      );
    expect(rooms(5)).toEqual(["slow 5", "fast-2 5", "fast-1 5"]);
    expect(rooms(1)).toEqual(["slow 1", "fast-2 3", "fast-1 3"]);
    expect(rooms(25, "last 2")).toEqual(["slow 20", "fast-2 25", "fast-1 25"]);
    expect(rooms(25, "first 1")).toEqual(["slow 20", "fast-2 30", "fast-1 30"]);
  });

  test("for a time is a limit that is lifted, on the same network", () => {
    const part = applied("{ low-level: { at: 2, of: first 2, for: 10 min } }");
    expect(part.network).toBe(part.before);
    expect(timeline(part)).toEqual([
      "at 0: limit slow.pouch to 2; limit fast-2.pouch to 3",
      "at 10: limit slow.pouch to null; limit fast-2.pouch to null",
    ]);
  });

  test("bounds what is placed: full is up to the level", () => {
    expect(applied("{ low-level: { at: 5 }, prefill: full }").placed).toBe(15);
  });
});

describe("metered branches", () => {
  test("carry their machine's need times the factor, the end of the through belt what it did", () => {
    const { network, notes } = applied("{ metered: { at: 105 % } }");
    expect(["main.branch-1", "main.branch-2"].map((id) => rateOf(network, id))).toEqual(["21/2", "63"]);
    expect(["main.through-1", "main.through-3"].map((id) => rateOf(network, id))).toEqual(["150", "150"]);
    expect(notes).toEqual([]);
  });

  test("are never faster than before", () => {
    const { network } = applied("{ metered: { at: 300 % } }");
    expect(rateOf(network, "main.branch-2")).toBe("140");
  });

  test("cannot be where the branch is no belt", () => {
    const direct = CHAIN.replace(/branch: .*/, "branch: none");
    expect(applied("{ metered: { at: 105 % } }", direct).notes).toEqual([
      { note: "not-metered", branch: "main.branch-1" },
      { note: "not-metered", branch: "main.branch-2" },
    ]);
  });
});

describe("second feed", () => {
  const second = (at: string, chain = CHAIN) => applied(`{ second-feed: { share: 30 %, ${at} for: 10 min } }`, chain);
  const added = ({ network, before }: ReturnType<typeof second>) =>
    routes(network).filter((route) => !routes(before).includes(route));

  test.each([
    ["", "main.divider-2", "fast-1", "the end of the through belt"],
    ["at: fast-1,", "main.divider-2", "fast-1", "the last machine's belt"],
    ["at: fast-2,", "main.divider-1", "main.divider-2", "the belt to its divider"],
    ["at: slow,", "silo", "main.divider-1", "the first belt"],
  ])("{ %s } joins before its machine's place", (at, from, to) => {
    expect(added(second(at))).toEqual([
      `${from} > main.second-merge`,
      `main.second-merge > ${to}`,
      "main.second-feed-1 > main.second-merge",
    ]);
  });

  test("takes its share from the feed for the time stated, and stops", () => {
    const { network, notes } = second("");
    expect(profileOf(network, "silo")).toBe("0: 91, 10: 130");
    expect(profileOf(network, "main.second-feed-1")).toBe("0: 39, 10: 0");
    expect(notes).toEqual([]);
  });

  test("takes the same share of every feed that joins", () => {
    const shared = changed(
      "silo: { item: pouch, rate: 130/min }",
      "silo: { item: pouch, rate: 100/min }\n  sack: { item: pouch, rate: 20/min }",
    ).replace("from: silo", "from: [silo, sack]");
    const { network } = second("", shared);
    expect([profileOf(network, "silo"), profileOf(network, "sack")]).toEqual(["0: 70, 10: 100", "0: 14, 10: 20"]);
    expect(profileOf(network, "main.second-feed-1")).toBe("0: 30, 10: 0");
    expect(profileOf(network, "main.second-feed-2")).toBe("0: 6, 10: 0");
  });

  test("joins the belt to a machine behind a merge, which has no divider of its own", () => {
    const lanes = CHAIN.replace("layout: chain", "layout: lanes")
      .replace("    dividers: even\n", "")
      .replace("rate: 130/min }", "rate: 100/min }\n  sack: { item: pouch, rate: 20/min }")
      .replace("from: silo", "from: [silo, sack]");
    const joined = second("at: slow,", lanes);
    expect(added(joined).slice(0, 2)).toEqual(["main.gather-1 > main.second-merge", "main.second-merge > slow"]);
    expect(prepareNetwork(scenarioOf(lanes), joined.network)).toMatchObject({ ok: true });
  });

  test("cannot join where no belt leads", () => {
    const direct = CHAIN.replace(/ belt: .*/, " belt: none").replace(/branch: .*/, "branch: none");
    const { network, notes, before } = second("at: fast-2,", direct);
    expect(notes).toEqual([{ note: "no-second-feed", machine: "fast-2" }]);
    expect(network).toBe(before);
  });
});

test("parts combine, each on what the parts before it have left", () => {
  const { network, priming, startsAfterMin } = applied(
    "{ prefill: full, by-hand: 60/min, boost: { to: 110 %, for: 10 min }, second-feed: { share: 50 %, for: 5 min }, hold: { until: 1 min } }",
  );
  expect(profileOf(network, "silo")).toBe("0: 143/2, 5: 143, 10: 130");
  expect(profileOf(network, "main.second-feed-1")).toBe("0: 143/2, 5: 0");
  expect([priming.stock.length, priming.interventions.length, startsAfterMin.toFraction()]).toEqual([3, 4, "4/3"]);
});
