/** All streams of a run together: each draws as if it were alone. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { sampler } from "../../../src/engine/random/distributions.ts";
import { AHEAD, createDraws, wholeDraws } from "../../../src/engine/random/draws.ts";
import { namedStream } from "../../../src/engine/random/stream.ts";
import { compileRandom } from "../../../src/network/compile-random.ts";
import { expand } from "../../../src/network/expand.ts";
import type { RandomProgram, RandomStream } from "../../../src/network/random-program.ts";
import { rational } from "../../../src/quantity/rational.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import { changed, RANDOM_EXAMPLE } from "../../scenario/example.ts";
import { take } from "./fit.ts";

const TICK_S = rational("1/10");

function programOf(text: string): RandomProgram {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const program = compileRandom(outcome.scenario, expand(outcome.scenario), TICK_S);
  if (program === null) throw new Error("nothing is left to chance");
  return program;
}

/** A stream's next whole number, as the engine takes them. */
function drawerOf(streams: RandomProgram["streams"], seed: string) {
  const draws = createDraws({ streams }, seed);
  const ring = new Int32Array(streams.length * AHEAD);
  const used = streams.map(() => AHEAD);
  return {
    nextOf: draws.nextOf,
    next(stream: number): number {
      if (used[stream] === AHEAD) {
        draws.refill(stream, ring);
        used[stream] = 0;
      }
      const place = used[stream] ?? 0;
      used[stream] = place + 1;
      return ring[stream * AHEAD + place] ?? -1;
    },
  };
}

/** By name of stream. */
function drawnBy(text: string, seed: string): Map<string, number[]> {
  const program = programOf(text);
  const draws = drawerOf(program.streams, seed);
  return new Map(
    program.streams.map(({ element, purpose, unit }, stream) => [
      `${element} ${purpose}`,
      take(50, () => (unit === "intervals" ? draws.nextOf(stream, 10) : draws.next(stream))),
    ]),
  );
}

test("the same seed draws the same, another one not", () => {
  const [first, again, other] = ["1", "1", "2"].map((seed) => drawnBy(RANDOM_EXAMPLE, seed));
  expect(first).toEqual(again);
  // But for the one interval that is always the same.
  const alike = [...(first ?? [])].filter(([name, draws]) => String(draws) === String(other?.get(name)));
  expect(alike.map(([name]) => name)).toEqual(["blender supply", "blender outage"]);
});

/** What of the example is changed, and the streams whose draws may differ for it. */
const CHANGES: [what: string, from: string, to: string, touched: RegExp][] = [
  ["a machine more", ", speed: [100 %, 50 %, 80 %]", "", /^cartoner-[23] cycle$/],
  ["a machine left out", "cartoner-3:\n", "cartoner-2:\n", /^cartoner-[23] /],
  ["another feed before it", "  feeds:\n", "  feeds:\n    spare: { jitter: { exponential: 9 s } }\n", /^spare /],
  [
    "one kind of machine that breaks down more often",
    "exponential: 45 min",
    "exponential: 20 min",
    /^cartoner-[12] up-/,
  ],
  ["one that draws for less", "      cycle: { lognormal: 100 %, spread: 10 % }\n", "", /^cartoner-[12] cycle$/],
  [
    "one that draws for more",
    "      jitter: { uniform",
    "      outages: { between: 1 h, lasting: 1 min }\n      jitter: { uniform",
    /^dock (?:supply|outage)$/,
  ],
];

test.each(CHANGES)("with %s the other streams draw as before", (what, from, to, touched) => {
  const spare = "  spare: { item: lid, rate: 1/min }\n  dock: { item";
  const plant = changed(RANDOM_EXAMPLE, "  dock: { item", spare).replace("[blender, dock]", "[spare, blender, dock]");
  const text = changed(plant, from, to).replace("count: 3", what === "a machine more" ? "count: 4" : "count: 3");
  const [one, other] = [drawnBy(plant, "1"), drawnBy(text, "1")];
  const names = [...new Set([...one.keys(), ...other.keys()])];
  const differing = names.filter((name) => String(one.get(name)) !== String(other.get(name)));
  expect(differing.length).toBeGreaterThan(0);
  expect(names.length - differing.length).toBeGreaterThan(10);
  expect(differing.filter((name) => !touched.test(name) && !name.startsWith("cartoner-4 "))).toEqual([]);
});

test("more often broken down, every up-time is shorter: draws follow the same numbers", () => {
  const long = drawnBy(RANDOM_EXAMPLE, "1").get("cartoner-1 up-time") ?? [];
  const short = drawnBy(changed(RANDOM_EXAMPLE, "exponential: 45 min", "exponential: 20 min"), "1").get(
    "cartoner-1 up-time",
  );
  expect(long).toHaveLength(50);
  for (const [i, ticks] of long.entries())
    expect(Math.abs((short?.[i] ?? 0) - (ticks * 20) / 45)).toBeLessThanOrEqual(1.5);
});

test("in whatever order streams are drawn from, each gives its own numbers", () => {
  const streams: RandomStream[] = Array.from({ length: 4 }, (_, i) => ({
    element: `m-${i}`,
    purpose: "repair",
    unit: "ticks",
    distribution: { family: "exponential", mean: 7.3 + i },
  }));
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 200 }), (order) => {
      const draws = drawerOf(streams, "1");
      const alone = streams.map(({ element, purpose, distribution }) =>
        wholeDraws(sampler(distribution, namedStream("1", element, purpose))),
      );
      for (const stream of order) expect(draws.next(stream)).toBe(alone[stream]?.next(1));
    }),
  );
});
