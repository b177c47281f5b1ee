/** Plants of several stages, surge buffers and vehicles. Values: own derivation, by hand. */
import { describe, expect, test } from "vitest";
import {
  changingAt,
  type FlowSolution,
  flowAt,
  madeByMachine,
  outputUpTo,
  runningMinutes,
  runningMinutesNearly,
  solveFlow,
} from "../../src/analysis/flow/flow.ts";
import type { MachineElement, Network } from "../../src/network/network.ts";
import { type Rational, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import type { BeltSpec, Rule } from "../../src/scenario/scenario.ts";
import { plainFeed } from "../plain-feed.ts";
import { connection, eventTimes, network, outputs, settledShares, solved, steady } from "./flow-networks.ts";

const feed = (id: string, item: string, ratePerMin: string) => plainFeed(id, item, steady(rational(ratePerMin)));
const even = (id: string): { id: string; line: string; rule: Rule } => ({ id, line: "line", rule: "even" });
const belt = (ratePerMin: string, capacity = 1): BeltSpec => ({
  ratePerMin: rational(ratePerMin),
  capacity,
  transitMin: ZERO,
  metres: null,
});

interface Works {
  readonly perMin: string;
  readonly takes: Readonly<Record<string, number>>;
  readonly makes: Readonly<Record<string, number>>;
  readonly room: Readonly<Record<string, number>>;
}

/** Cycles per minute, items per cycle, room for each kind taken and made. */
function works(id: string, { perMin, takes, makes, room }: Works): MachineElement {
  const counts = (of: Readonly<Record<string, number>>) => Object.entries(of).map(([item, count]) => ({ item, count }));
  const rooms = (of: Readonly<Record<string, number>>) =>
    counts(of).map(({ item }) => ({ item, count: room[item] ?? 1 }));
  return {
    id,
    line: "line",
    cycleMin: rational(perMin).inverse(),
    takes: counts(takes),
    makes: counts(makes),
    infeed: rooms(takes),
    outfeed: rooms(makes),
  };
}

function solve(given: Partial<Network>): FlowSolution {
  const kinds = (given.machines ?? []).flatMap(({ takes, makes }) => [...takes, ...makes].map(({ item }) => item));
  return solved(solveFlow(network({ items: [...new Set(kinds)], ...given })));
}
const told = ({ phases }: FlowSolution): string[] =>
  phases.flatMap(({ fromMin, events }) =>
    events.map((event) =>
      event.what === "feed"
        ? `${fromMin.toFraction()}: ${event.feed} offers ${event.ratePerMin.toFraction()}`
        : `${fromMin.toFraction()}: ${event.machine} ${event.side} ${event.item} ${event.what}`,
    ),
  );
const asText = (values: ReadonlyMap<string, Rational>) =>
  Object.fromEntries([...values].map(([id, value]) => [id, value.toFraction()]));

describe("a serial line", () => {
  const stage = (id: string, perMin: string, takes: string, makes: string, infeed: number, outfeed: number) =>
    works(id, { perMin, takes: { [takes]: 1 }, makes: { [makes]: 1 }, room: { [takes]: infeed, [makes]: outfeed } });
  const machines = [
    stage("saw", "10", "log", "board", 30, 8),
    stage("plane", "6", "board", "plank", 20, 5),
    stage("drill", "8", "plank", "shelf", 20, 5),
  ];
  const line: Partial<Network> = {
    feeds: [feed("yard", "log", "20")],
    machines,
    connections: [connection("yard", "saw"), connection("saw", "plane"), connection("plane", "drill")],
  };
  const solution = solve(line);

  test("runs at its slowest machine, and the buffers before it fill backwards", () => {
    expect(told(solution)).toEqual([
      "3: saw infeed log full",
      "5: plane infeed board full",
      "7: saw outfeed board full",
    ]);
    expect(settledShares(solution)).toEqual(["3/5", "1", "3/4"]);
    expect(solution.phases.map((phase) => phase.detail().feeds.get("yard")?.toFraction())).toEqual([
      "20",
      "10",
      "10",
      "6",
    ]);
    expect(asText(solution.settled().connections)).toEqual({ "yard>saw": "6", "saw>plane": "6", "plane>drill": "6" });
    expect(solution.period).toBeNull();
  });

  test("only the last machine's products count as output", () => {
    expect([solution.fullPerMin, solution.settledPerMin].map(String)).toEqual(["8", "6"]);
    expect(outputs(solution)).toEqual(["6", "6", "6", "6"]);
    expect([solution.settlingMin, solution.rampUpLoss].map(String)).toEqual(["0", "0"]);
    expect(outputUpTo(solution, whole(10)).toFraction()).toBe("60");
    expect(asText(madeByMachine(solution, whole(10)))).toEqual({ saw: "88", plane: "60", drill: "60" });
  });

  test("levels stand still once full, and those that move are named with their side", () => {
    const at = (t: string) => flowAt(solution, rational(t)).detail().machines[0]?.outfeed[0];
    expect(at("5")?.levelAtStart.toFraction()).toBe("0");
    expect(at("5")?.netPerMin.toFraction()).toBe("4");
    expect(at("7")?.levelAtStart.toFraction()).toBe("8");
    expect(changingAt(solution, rational("6"))).toMatchObject([{ machine: "saw", item: "board", side: "outfeed" }]);
    expect(changingAt(solution, rational("6"))[0]?.doneAtMin?.toFraction()).toBe("7");
  });

  test("a belt on the way out that is too slow holds the machine up", () => {
    const slow = solve({
      ...line,
      outlets: [{ id: "shop", item: "shelf" }],
      connections: [...(line.connections ?? []), connection("drill", "shop", { belt: belt("5") })],
    });
    expect(told(slow).filter((event) => event.includes("drill"))).toEqual([
      "5: drill outfeed shelf full",
      "25: drill infeed plank full",
    ]);
    expect(settledShares(slow)).toEqual(["1/2", "5/6", "5/8"]);
    // While its outfeed fills, the drill makes 6/min, and 5 from then on.
    expect([slow.settledPerMin, slow.settlingMin, slow.rampUpLoss].map(String)).toEqual(["5", "5", "-5"]);
  });

  test("a product that nobody takes at the end of its belt stops everything behind it", () => {
    const stuck = solve({
      ...line,
      connections: [...(line.connections ?? []), connection("drill", "saw2")],
      machines: [...machines, stage("saw2", "1", "log", "board", 1, 1)],
    });
    expect(settledShares(stuck).slice(0, 3)).toEqual(["0", "0", "0"]);
    expect(stuck.settledPerMin.toFraction()).toBe("0");
  });
});

describe("assembly", () => {
  test("runs on the scarcer part; the other fills up back to its feed", () => {
    const solution = solve({
      feeds: [feed("wood", "log", "10"), feed("metal", "wire", "14")],
      machines: [
        works("turner", { perMin: "10", takes: { log: 1 }, makes: { leg: 1 }, room: { log: 12, leg: 6 } }),
        works("bender", { perMin: "20", takes: { wire: 1 }, makes: { pin: 1 }, room: { wire: 5, pin: 5 } }),
        works("joiner", {
          perMin: "12",
          takes: { leg: 1, pin: 2 },
          makes: { stool: 1 },
          room: { leg: 9, pin: 8, stool: 1 },
        }),
      ],
      connections: [
        connection("wood", "turner"),
        connection("metal", "bender"),
        connection("turner", "joiner"),
        connection("bender", "joiner"),
      ],
    });
    expect(told(solution)).toEqual([
      "3: joiner infeed leg full",
      "5: turner outfeed leg full",
      "9: turner infeed log full",
    ]);
    expect(asText(solution.settled().machines)).toEqual({ turner: "7/10", bender: "7/10", joiner: "7/12" });
    expect(asText(solution.settled().feeds)).toEqual({ wood: "7", metal: "14" });
  });

  test("two parts from one flow: shares that going round and round would only approach, as fractions", () => {
    // Two p and one q make one: q takes p/2, and p has what q leaves of 10, so p = 20/3.
    const solution = solve({
      feeds: [feed("blanks", "blank", "10")],
      dividers: [even("split")],
      machines: [
        works("press", { perMin: "20", takes: { blank: 1 }, makes: { p: 1 }, room: { blank: 10, p: 10 } }),
        works("lathe", { perMin: "20", takes: { blank: 1 }, makes: { q: 1 }, room: { blank: 10, q: 10 } }),
        works("fit", { perMin: "20", takes: { p: 2, q: 1 }, makes: { pair: 1 }, room: { p: 10, q: 10, pair: 1 } }),
      ],
      connections: [
        connection("blanks", "split"),
        connection("split", "press"),
        connection("split", "lathe"),
        connection("press", "fit"),
        connection("lathe", "fit"),
      ],
    });
    // Spare q at 5/2 per min fills room for 10 at the fitter and 10 at the lathe, then spare blanks the lathe's infeed.
    expect(told(solution)).toEqual(["4: fit infeed q full", "8: lathe outfeed q full", "12: lathe infeed blank full"]);
    expect(outputs(solution)).toEqual(["5/2", "5/2", "5/2", "10/3"]);
    expect(asText(solution.settled().connections)).toMatchObject({ "split>press": "20/3", "split>lathe": "10/3" });
    expect([solution.settlingMin, solution.rampUpLoss].map(String)).toEqual(["12", "10"]);
  });

  test("a by-product that is made faster than it is taken jams the plant", () => {
    const solution = solve({
      feeds: [feed("blanks", "blank", "12")],
      machines: [
        works("cut", {
          perMin: "10",
          takes: { blank: 1 },
          makes: { lid: 1, box: 2 },
          room: { blank: 6, lid: 4, box: 8 },
        }),
        works("pack", {
          perMin: "4",
          takes: { lid: 1, box: 1 },
          makes: { set: 1 },
          room: { lid: 12, box: 12, set: 1 },
        }),
      ],
      connections: [
        connection("blanks", "cut"),
        connection("cut", "pack", { id: "lids", only: ["lid"] }),
        connection("cut", "pack", { id: "boxes", only: ["box"] }),
      ],
    });
    // Boxes come at 20 and go at 4. Then the cutter makes 4 boxes, so 2 lids, a minute until the 15/2 lids are used up;
    // and each set leaves room for one box more, with which half a lid comes, for half a set, and so on to nothing.
    expect(told(solution)).toEqual([
      "3/4: pack infeed box full",
      "5/4: cut outfeed box full",
      "8/5: cut infeed blank full",
      "5: pack infeed lid empty",
    ]);
    expect(outputs(solution)).toEqual(["4", "4", "4", "4", "0"]);
  });
});

describe("vehicles", () => {
  const batch = (everyMin: string, items: number) => ({ everyMin: rational(everyMin), items, firstMin: ZERO });
  const dock = (given: ReturnType<typeof batch>) => ({ ...feed("dock", "bean", "30"), batch: given });
  const grinder = (perMin: string, room: number) =>
    works("grinder", { perMin, takes: { bean: 1 }, makes: { bag: 1 }, room: { bean: room } });
  const direct = [connection("dock", "grinder")];

  test("the line takes what it can, and stops between two of them", () => {
    const solution = solve({ feeds: [dock(batch("10", 60))], machines: [grinder("10", 20)], connections: direct });
    expect(told(solution)).toEqual(["1: grinder infeed bean full", "4: dock offers 0", "6: grinder infeed bean empty"]);
    expect([solution.period?.fromMin, solution.period?.lengthMin].map(String)).toEqual(["0", "10"]);
    expect([solution.settledPerMin, solution.settlingMin, solution.rampUpLoss].map(String)).toEqual(["6", "0", "0"]);
    expect(asText(solution.settled().machines)).toEqual({ grinder: "3/5" });
    expect(asText(solution.settled().feeds)).toEqual({ dock: "6" });
  });

  test("a surge buffer lets them go sooner", () => {
    const solution = solve({
      feeds: [dock(batch("10", 60))],
      machines: [grinder("10", 20)],
      connections: [connection("dock", "grinder", { belt: belt("30", 30) })],
      surges: [{ feed: "dock", connection: "dock>grinder" }],
    });
    expect(told(solution)).toEqual([
      "1: grinder infeed bean full",
      "2: dock offers 0",
      "4: dock surge bean empty",
      "6: grinder infeed bean empty",
    ]);
    const surge = (t: string) => flowAt(solution, rational(t)).detail().surges.get("dock");
    expect(surge("2")?.levelAtStart.toFraction()).toBe("20");
    expect(surge("12")?.levelAtStart.toFraction()).toBe("20");
    expect(solution.period?.lengthMin.toFraction()).toBe("10");
  });

  test("one that comes too early waits, and the line runs through", () => {
    const solution = solve({ feeds: [dock(batch("10", 60))], machines: [grinder("4", 8)], connections: direct });
    expect(settledShares(solution)).toEqual(["1"]);
    // Every second one has waited a whole interval, and puts off the next.
    expect(solution.period?.lengthMin.toFraction()).toBe("30");
    expect([solution.settledPerMin, solution.settlingMin].map(String)).toEqual(["4", "0"]);
  });

  test("times, minutes and products beyond the first period", () => {
    const solution = solve({ feeds: [dock(batch("10", 60))], machines: [grinder("10", 20)], connections: direct });
    const late = flowAt(solution, rational("1047"));
    expect([late.fromMin, late.madeBefore, late.outputPerMin].map(String)).toEqual(["1046", "6300", "0"]);
    expect(outputUpTo(solution, rational("1043")).toFraction()).toBe("6270");
    expect(asText(runningMinutes(solution, rational("1043"), rational("995")))).toEqual({ grinder: "28" });
    expect(asText(runningMinutes(solution, rational("5"), rational("3")))).toEqual({ grinder: "2" });
    for (const [to, from] of [
      [1043, 995],
      [5, 3],
      [17, 0],
      [1e6, 12],
    ].map((pair) => pair.map(whole))) {
      const exactly = runningMinutes(solution, to ?? ZERO, from ?? ZERO)
        .get("grinder")
        ?.valueOf();
      expect(runningMinutesNearly(solution, to ?? ZERO, from ?? ZERO).get("grinder")).toBeCloseTo(exactly ?? -1, 6);
    }
    expect(changingAt(solution, rational("1044.5"))[0]?.doneAtMin?.toFraction()).toBe("1046");
  });
});

test("a feed of several kinds and several kinds on one connection are refused", () => {
  const machines = [works("kit", { perMin: "1", takes: { red: 1, blue: 1 }, makes: { set: 1 }, room: {} })];
  const mix = {
    ...feed("mix", "red", "10"),
    items: [
      { item: "red", count: 1 },
      { item: "blue", count: 1 },
    ],
  };
  const result = solveFlow(network({ feeds: [mix], machines, connections: [connection("mix", "kit")] }));
  expect(result.applies ? "" : result.reason).toContain("feed mix mixes several kinds (red, blue)");
});

test("a loop through a machine is refused like a return loop", () => {
  const again = works("again", { perMin: "1", takes: { rag: 1 }, makes: { rag: 1 }, room: {} });
  const result = solveFlow(network({ machines: [again], connections: [connection("again", "again")] }));
  expect(result.applies ? "" : result.reason).toContain("loop");
});

test("thirty machines in two stages take no time to speak of", () => {
  const cutters = Array.from({ length: 15 }, (_, k) =>
    works(`cutter-${k}`, { perMin: "10", takes: { log: 1 }, makes: { board: 1 }, room: { log: 40, board: 10 } }),
  );
  const planes = Array.from({ length: 15 }, (_, k) =>
    works(`plane-${k}`, { perMin: "9", takes: { board: 1 }, makes: { plank: 1 }, room: { board: 40, plank: 10 } }),
  );
  const chainOf = (name: string, source: string, machines: readonly MachineElement[]) =>
    machines.flatMap(({ id }, k) => {
      const here = k === 0 ? source : `${name}-${k}`;
      if (k === machines.length - 1) return [connection(here, id, { id: `${name}-last` })];
      return [connection(here, `${name}-${k + 1}`), connection(`${name}-${k + 1}`, id)];
    });
  const merges = cutters.slice(1).map((_, k) => even(`join-${k + 1}`));
  const collected = cutters
    .slice(1)
    .flatMap(({ id }, k) => [
      connection(k === 0 ? "cutter-0" : `join-${k}`, `join-${k + 1}`, { belt: belt("200") }),
      connection(id, `join-${k + 1}`),
    ]);
  const start = process.hrtime.bigint();
  const solution = solve({
    feeds: [feed("yard", "log", "150")],
    dividers: [
      ...cutters.slice(1).map((_, k) => even(`log-${k + 1}`)),
      ...planes.slice(1).map((_, k) => even(`board-${k + 1}`)),
    ],
    merges,
    machines: [...cutters, ...planes],
    connections: [...chainOf("log", "yard", cutters), ...collected, ...chainOf("board", "join-14", planes)],
  });
  const ms = Number(process.hrtime.bigint() - start) / 1e6;
  expect(solution.settledPerMin.toFraction()).toBe("135");
  expect(eventTimes(solution).length).toBeGreaterThan(20);
  expect(ms).toBeLessThan(3000);
});
