/** Lines on which definitions of "settled" and "lost" come to grief, each with its answer argued. */
import { describe, expect, test } from "vitest";
import type { Result } from "../../src/analysis/result.ts";
import { approximate, rational, whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { play } from "../../src/study/play.ts";
import { ENDING, KITS, scenarioIn } from "../study/standing-plants.ts";
import { equalChain } from "./flow-networks.ts";
import { leewayOfSteady, runNetwork, withoutBelts } from "./runs.ts";
import { look } from "./settled-looks.ts";

interface Given {
  readonly count: number;
  readonly cycle: string;
  readonly room: number;
  readonly rate: string;
  readonly makes?: number;
  readonly horizon?: string;
  readonly more?: string;
}

function chainText({ count, cycle, room, rate, makes = 1, horizon = "4 h", more = "" }: Given): string {
  return `
title: Lids (invented)
horizon: ${horizon}
feeds: { store: { item: blank, ${rate} } }
machines: { press: { count: ${count}, cycle: ${cycle}, takes: { blank: 1 }, makes: { lid: ${makes} }, infeed: ${room} } }
lines: { main: { layout: chain, from: store, to: press, belt: none } }
${more}`;
}

const resultOf = (scenario: Scenario): Result => look(scenario, "").result;
const chainResult = (given: Given): Result => resultOf(scenarioIn(chainText(given)));
const headline = ({ settling, output }: Result) => [settling.to_95_min, settling.time_min, output.ramp_up_loss];

function expectNear(found: number | null | undefined, expected: number, most: number): void {
  expect(Math.abs((found ?? NaN) - expected), `${found} for ${expected}`).toBeLessThanOrEqual(most);
}

/** [N, 95 % and full output of the flow, minutes] Source: own derivation; needs of 24/min, rooms of 60, exact supply. */
const FLUID: [number, string, string][] = [
  [4, "15/2", "15/2"],
  [10, "7051/1024", "12171/1024"],
];

test.each(FLUID)("in the fluid limit the times go to those of the flow, N = %i", (count, most, full) => {
  for (const times of [1, 8, 64]) {
    const need = 24 * times;
    const network = withoutBelts(equalChain(count, whole(need), 60 * times, whole(need * count)));
    const { settling, output } = runNetwork(network, whole(30)).result;
    // What is lacking just before grows with the needs, and the leeway does not; two needs share 3/2, of which 5 % are given up.
    const lacking = need / 2 - 0.05 * need * count;
    expectNear(settling.time_min, approximate(rational(full)), (2 * leewayOfSteady(count)) / (need / 2) + 1 / need);
    expectNear(
      settling.to_95_min,
      approximate(rational(most)),
      (2 * leewayOfSteady(count)) / Math.abs(lacking) + 2 / need,
    );
    expectNear(output.ramp_up_loss, (count - 2) * 60 * times, count + 3);
  }
});

test("one machine: full from its first cycle, which begins as the first item is due; lost is what it makes until then", () => {
  const { result, run } = look(scenarioIn(chainText({ count: 1, cycle: "3 s", room: 10, rate: "rate: 20/min" })), "");
  const { settling, output } = result;
  const tickMin = approximate(run.program.tickS) / 60;
  expectNear(settling.time_min, 1 / 20 + tickMin / 2, tickMin / 2 + 1e-9);
  expect(settling.to_95_min).toBe(settling.time_min);
  expectNear(output.ramp_up_loss, 20 * (settling.time_min ?? NaN), 1e-6);
});

test("twelve of 3 min a cycle: as the flow has it, within a cycle, though a cycle of one is 8 % of ten minutes' output", () => {
  const given = { count: 12, cycle: "3 min", room: 6, rate: "rate: 4/min" };
  const found = ["6 h", "12 h", "24 h"].map((horizon) => chainResult({ ...given, horizon }));
  const flow = runNetwork(withoutBelts(equalChain(12, rational("1/3"), 6, whole(4))), whole(360)).flow;
  for (const result of found) {
    expectNear(result.settling.time_min, approximate(flow.settlingMin), 3 + leewayOfSteady(12) / (1 / 6));
    expectNear(result.output.ramp_up_loss, 10 * 6, 12 + 3);
    expect(headline(result).map((one) => one?.toFixed(6))).toEqual(
      headline(found[0] ?? result).map((one) => one?.toFixed(6)),
    );
  }
});

test("sixty of 20 s: (ln N + 3.03) B/d, the logarithmic law, and (N - 2) B lost", () => {
  const { settling, output } = chainResult({ count: 60, cycle: "20 s", room: 20, rate: "rate: 180/min" });
  const expected = (Math.log(60) + 3.03) * (20 / 3);
  expectNear(settling.time_min, expected, 0.04 * expected);
  expectNear(output.ramp_up_loss, 58 * 20, 60 + 3);
});

test("a jam: no shares and no loss, only that it stopped, and when the last product came", () => {
  const { result, run } = look(scenarioIn(KITS), "");
  const lastTick = run.completions.tick[run.completions.count - 1] ?? NaN;
  const { settling, output } = result;
  expect(output).toMatchObject({ settled_per_min: "0", ramp_up_loss: null, ramp_up_loss_min: null });
  expect([settling.to_50_min, settling.to_95_min, settling.to_99_min]).toEqual([null, null, null]);
  expectNear(settling.time_min, (lastTick * approximate(run.program.tickS)) / 60, 1e-6);
});

test("a feed that ends: stopped a cycle after it, told from the start; up to then it made what was fed", () => {
  const { settling, output } = resultOf(scenarioIn(ENDING));
  expect(output).toMatchObject({ settled_per_min: "0", ramp_up_loss: null });
  expect([settling.counted_from_min, settling.to_95_min]).toEqual([0, null]);
  expectNear(settling.time_min, 30 + 2 / 60, 3 / 60);
  expect(settling.stretches).toMatchObject([{ from_min: 0, until_min: 30, settled_per_min: "60" }]);
});

test("vehicles that are used up before the next comes: no ramp-up, nothing lost, whatever the horizon's phase", () => {
  const rate = "batch: { every: 20 min, items: 600, rate: 600/min }, surge: 700";
  for (const horizon of ["240 min", "247 min", "313 min"]) {
    const { output } = chainResult({ count: 2, cycle: "2 s", room: 10, rate, horizon });
    expect(output.settled_per_min).toBe("30");
    expectNear(output.ramp_up_loss, 0, 1e-6);
  }
});

describe("a profile: what was planned to be less is not lost", () => {
  // Four need 30/min each, with room for 60. At 60/min the first gets just its need and nothing fills up.
  const machines = { count: 4, cycle: "2 s", room: 60 };

  test("up: from the last change on, as if started empty: (N - 2) B", () => {
    const rate = "profile: [{ from: 0 min, rate: 60/min }, { from: 60 min, rate: 120/min }]";
    const { settling, output } = chainResult({ ...machines, rate });
    expect(settling.counted_from_min).toBe(60);
    expectNear(output.ramp_up_loss, 2 * 60, 4 + 3);
    expect(settling.stretches).toMatchObject([{ from_min: 0, until_min: 60, settled_per_min: "60" }]);
  });

  test("and down again: the second buffer, which 15/min no longer keep full, is gained", () => {
    const rate =
      "profile: [{ from: 0 min, rate: 60/min }, { from: 60 min, rate: 120/min }, { from: 120 min, rate: 60/min }]";
    const { settling, output } = chainResult({ ...machines, rate });
    expect(settling.counted_from_min).toBe(120);
    // Neither less nor more is made from when it is used up: 60 items at 15/min.
    expectNear(settling.time_min, 4, 0.3);
    expect(settling.to_95_min).toBeLessThan(0.2);
    expectNear(output.ramp_up_loss, -60, 4 + 3);
    expect(settling.stretches.map(({ settled_per_min }) => settled_per_min)).toEqual(["60", "120"]);
  });
});

test("eight of 5 min a cycle and 100 products, full at the start, running from second 0: full at once, nothing lost", () => {
  const more = "tactics: { stocked: { prefill: { press: 10 } } }";
  const scenario = scenarioIn(
    chainText({ count: 8, cycle: "5 min", room: 10, makes: 100, rate: "rate: 1.6/min", horizon: "8 h", more }),
  );
  const [stocked] = scenario.tactics;
  if (stocked === undefined) throw new Error("no tactic");
  const { result } = play(scenario, stocked);
  expect(result.output.settled_per_min).toBe("160");
  // The first tick is the first in which anything can start.
  const tickMin = approximate(rational(result.tick_s)) / 60;
  expect(result.settling.time_min).toBeLessThanOrEqual(tickMin);
  expectNear(result.output.ramp_up_loss, 0, 160 * tickMin + 1e-6);
});

test("stocked buffers that drain for hours: kept up with from the start; the loss is told when they have, and is their stock", () => {
  // Two need 30/min each and get 58: 1200 items last for 10 h.
  const more = "tactics: { stocked: { prefill: { press: 600 } } }";
  const at = (horizon: string) => {
    const scenario = scenarioIn(chainText({ count: 2, cycle: "2 s", room: 600, rate: "rate: 58/min", horizon, more }));
    const [stocked] = scenario.tactics;
    if (stocked === undefined) throw new Error("no tactic");
    return play(scenario, stocked).result;
  };
  const [early, late] = [at("4 h"), at("24 h")];
  expect(early.output.ramp_up_loss).toBeNull();
  for (const { settling } of [early, late]) expect(settling.to_95_min ?? 0).toBeLessThan(0.1);
  expect(early.settling.still_changing.length).toBeGreaterThan(0);
  expectNear(late.output.ramp_up_loss, -1200, 5);
  expectNear(late.settling.time_min, 600, 12);
});

test("end: return: what is lost lies on the line, and neither horizon nor proof moves the headline", () => {
  const text = (horizon: string): string => `
title: Lids that come round again (invented)
horizon: ${horizon}
feeds: { store: { item: blank, rate: 60/min } }
machines: { press: { count: 3, cycle: 3 s, takes: { blank: 1 }, makes: { lid: 1 }, infeed: 20 } }
lines:
  main:
    layout: chain
    from: store
    to: press
    belt: { length: 2 m, speed: 24 m/min, pitch: 200 mm }
    branch: { length: 1 m, speed: 24 m/min, pitch: 200 mm }
    end: return
`;
  const looks = [
    look(scenarioIn(text("4 h")), "4 h"),
    look(scenarioIn(text("8 h")), "8 h"),
    look(scenarioIn(text("4 h")), "unproved", true),
  ];
  const [first] = looks;
  for (const { result } of looks) {
    for (const [i, found] of headline(result).entries()) {
      expectNear(found, headline(first?.result ?? result)[i] ?? NaN, i === 2 ? 12 : 0.2);
    }
  }
  // On belts and in buffers; half of a cycle of each of three, and of the item that is due.
  const { output, hold_up: holdUp } =
    first?.result ?? chainResult({ count: 1, cycle: "1 s", room: 1, rate: "rate: 1/min" });
  expect(output.settled_per_min).toBe("60");
  expectNear(output.ramp_up_loss, holdUp.settled + 3 / 2 + 1 / 2, 1);
});

test("seven unequal machines, a tenth more fed than they need: the same at 4, 8 and 24 h", () => {
  const cycles = ["5.6", "5.8", "5.3", "3.2", "4.5", "5.8", "3.6"];
  const need = cycles.reduce((total, cycle) => total + 60 / Number(cycle), 0);
  const text = (horizon: string): string => `
title: Seven presses (invented)
horizon: ${horizon}
feeds: { store: { item: blank, rate: ${(Math.floor(need * 110) / 100).toFixed(2)}/min } }
machines:
${cycles.map((cycle, k) => `  press-${k + 1}: { cycle: ${cycle} s, takes: { blank: 1 }, makes: { lid: 1 }, infeed: 60 }`).join("\n")}
lines: { main: { layout: chain, from: store, to: [${cycles.map((_, k) => `press-${k + 1}`).join(", ")}], belt: none } }
`;
  const found = ["4 h", "8 h", "24 h"].map((horizon) => resultOf(scenarioIn(text(horizon))));
  for (const result of found) {
    const last = Math.max(...result.machines.map(({ settling }) => settling.time_min ?? NaN));
    expect(result.settling.time_min).toBeLessThanOrEqual(last + 0.1);
    expect(result.settling.time_min).toBeGreaterThan(last * 0.8);
    for (const [i, one] of headline(result).entries()) {
      const first = headline(found[0] ?? result)[i] ?? NaN;
      expectNear(one, first, Math.max(0.02 * first, 0.2));
    }
  }
});
