/** What is left to chance, compiled to streams in ticks. */
import { describe, expect, test } from "vitest";
import { compile } from "../../src/network/compile.ts";
import { compileRandom } from "../../src/network/compile-random.ts";
import { expand } from "../../src/network/expand.ts";
import { prepare } from "../../src/network/prepare.ts";
import type { RandomProgram, StreamPurpose } from "../../src/network/random-program.ts";
import { rational } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { changed, EXAMPLE, RANDOM_EXAMPLE } from "../scenario/example.ts";

const TICK_S = rational("1/10");

function read(text: string) {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome;
}

function compiled(text: string) {
  const { scenario } = read(text);
  const network = expand(scenario);
  return { network, random: compileRandom(scenario, network, TICK_S) };
}

function distribution(random: RandomProgram | null, element: string, purpose: StreamPurpose) {
  return random?.streams.find((stream) => stream.element === element && stream.purpose === purpose)?.distribution;
}

describe("the example, in ticks of 100 ms", () => {
  const { network, random } = compiled(RANDOM_EXAMPLE);

  test("times in ticks, cycles at each machine's own speed, chances as cycles to the next stop", () => {
    expect(distribution(random, "cartoner-1", "up-time")).toEqual({ family: "exponential", mean: 27_000 });
    expect(distribution(random, "cartoner-1", "repair")).toEqual({ family: "lognormal", mean: 2400, spread: 1200 });
    expect(distribution(random, "cartoner-1", "cycles-to-stop")).toEqual({ family: "geometric", mean: 50, step: 1 });
    expect(distribution(random, "cartoner-1", "stop")).toEqual({
      family: "triangular",
      least: 50,
      mode: 100,
      most: 300,
    });
    expect(distribution(random, "cartoner-1", "cycle")).toEqual({ family: "lognormal", mean: 20, spread: 2 });
    expect(distribution(random, "cartoner-2", "cycle")).toEqual({ family: "lognormal", mean: 40, spread: 4 });
  });

  test("a machine's own entry takes the place of its group's, whole", () => {
    expect(distribution(random, "cartoner-3", "up-time")).toEqual({ family: "weibull", mean: 72_000, shape: 1.5 });
    expect(distribution(random, "cartoner-3", "repair")).toEqual({ family: "erlang", mean: 2400, stages: 3 });
    expect(distribution(random, "cartoner-3", "cycles-to-stop")).toEqual({ family: "geometric", mean: 300, step: 1 });
    expect(distribution(random, "cartoner-3", "stop")).toEqual({ family: "geometric", mean: 200, step: 20 });
    expect(distribution(random, "cartoner-3", "cycle")).toBeUndefined();
    const none = compiled(RANDOM_EXAMPLE.replace(/cartoner-3:\n.*\n.*\n/, "cartoner-3: {}\n")).random;
    expect(none?.streams.filter(({ element }) => element === "cartoner-3")).toEqual([]);
  });

  test("feeds: intervals as shares, vehicles in ticks and items", () => {
    expect(distribution(random, "blender", "interval")).toEqual({ family: "exponential", mean: 1 });
    expect(distribution(random, "blender", "supply")).toEqual({ family: "fixed", mean: 18_000 });
    expect(distribution(random, "blender", "outage")).toEqual({ family: "fixed", mean: 900 });
    expect(distribution(random, "dock", "jitter")).toEqual({ family: "uniform", least: 0, most: 10 });
    expect(distribution(random, "dock", "vehicle-jitter")).toEqual({
      family: "triangular",
      least: 0,
      mode: 0,
      most: 3600,
    });
    expect(distribution(random, "dock", "vehicle-items")).toEqual({ family: "uniform", least: 720, most: 1080 });
    const text = changed(
      RANDOM_EXAMPLE,
      "jitter: { triangular: [0 min, 0 min, 6 min] }",
      "every: { exponential: 100 % }",
    );
    expect(distribution(compiled(text).random, "dock", "vehicle-interval")).toEqual({
      family: "exponential",
      mean: 12_000,
    });
  });

  test("each index leads to the element's own stream, -1 to none", () => {
    const of = (list: Int32Array | undefined, index: number) => random?.streams[list?.[index] ?? -1];
    for (const [m, { id }] of network.machines.entries()) {
      expect(of(random?.machine.upTime, m)).toMatchObject({ element: id, purpose: "up-time", unit: "ticks" });
      expect(of(random?.machine.repair, m)).toMatchObject({ element: id, purpose: "repair", unit: "ticks" });
      expect(of(random?.machine.cyclesToStop, m)).toMatchObject({ element: id, unit: "cycles" });
      expect(of(random?.machine.stop, m)).toMatchObject({ element: id, purpose: "stop" });
      expect(of(random?.machine.cycle, m)?.element).toBe(id === "cartoner-3" ? undefined : id);
      expect(random?.machine.countsClock[m]).toBe(id === "cartoner-3" ? 1 : 0);
    }
    expect(network.feeds.map(({ id }) => id)).toEqual(["blender", "dock"]);
    const feed = random?.feed;
    expect(of(feed?.interval, 0)).toMatchObject({ element: "blender", purpose: "interval", unit: "intervals" });
    expect(of(feed?.supply, 0)).toMatchObject({ element: "blender", purpose: "supply" });
    expect(of(feed?.outage, 0)).toMatchObject({ element: "blender", purpose: "outage" });
    expect(of(feed?.jitter, 1)).toMatchObject({ element: "dock", purpose: "jitter" });
    expect(of(feed?.vehicleJitter, 1)).toMatchObject({ element: "dock", purpose: "vehicle-jitter", unit: "ticks" });
    expect(of(feed?.vehicleItems, 1)).toMatchObject({ element: "dock", purpose: "vehicle-items", unit: "items" });
    expect([feed?.jitter[0], feed?.interval[1], feed?.vehicleInterval[1], feed?.vehicleItems[0]]).toEqual([
      -1, -1, -1, -1,
    ]);
  });

  test("no two streams have one name", () => {
    const names = random?.streams.map(({ element, purpose }) => `${element} ${purpose}`) ?? [];
    expect(names).toHaveLength(4 * 3 + 2 + 3 + 3);
    expect(new Set(names).size).toBe(names.length);
  });

  test("the program carries it", () => {
    expect(compile(network, TICK_S, random).random).toBe(random);
    expect(compile(network, TICK_S).random).toBeNull();
  });
});

test.each(["", "random: {}\n", "random: { machines: { cartoner: {} }, feeds: { blender: { } } }\n"])(
  "nothing is left to chance by %j",
  (section) => {
    expect(compiled(`${EXAMPLE}${section}`).random).toBeNull();
    const { scenario, locate } = read(`${EXAMPLE}${section}`);
    expect(prepare(scenario, locate)).toMatchObject({ ok: true, program: { random: null } });
  },
);
