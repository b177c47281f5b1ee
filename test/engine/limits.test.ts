/** Time over the limits and the most that was held, against a recount of every belt and buffer after every tick. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { onBelt } from "../../src/engine/belt-items.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import type { State } from "../../src/engine/state.ts";
import { compile } from "../../src/network/compile.ts";
import type { PlaceLimit } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { rational } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, feed, machine } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";
import { randomPlant } from "./random-networks.ts";

/** From the belts' own places and the buffers, by name. */
function heldNow(program: Program, state: State, limit: PlaceLimit): number {
  const { network: line, belt: belts, buffer, machine: all } = program;
  const item = line.items.indexOf(limit.item);
  let held = 0;
  for (const [b, c] of belts.connection.entries()) {
    if (!limit.connections.includes(line.connections[c]?.id ?? "")) continue;
    onBelt(program, state, b, (kind) => {
      if (kind === item) held++;
    });
  }
  for (const [m, { id }] of line.machines.entries()) {
    if (limit.place !== null && !limit.machines.includes(id)) continue;
    for (let b = all.infeed[m] ?? 0; b < (all.infeed[m + 1] ?? 0); b++) {
      if (buffer.item[b] === item) held += state.bufferCount[b] ?? 0;
    }
  }
  return held;
}

test("over random plants: plant, line, machines and surge buffers", () => {
  let over = 0;
  fc.assert(
    fc.property(randomPlant(), (line) => {
      const program = compile(line, autoTickS(line));
      const horizonTicks = 1200;
      const state = initialState(program);
      const limits = line.holdUpLimits;
      const overTicks = limits.map(() => 0);
      const peaks = limits.map(() => 0);
      let any = 0;
      while (state.tick < horizonTicks) {
        advanceOneTick(program, state);
        const held = limits.map((limit) => heldNow(program, state, limit));
        for (const [i, { most }] of limits.entries()) {
          if ((held[i] ?? 0) > most) overTicks[i] = (overTicks[i] ?? 0) + 1;
          peaks[i] = Math.max(peaks[i] ?? 0, held[i] ?? 0);
        }
        if (limits.some(({ most }, i) => (held[i] ?? 0) > most)) any++;
      }
      const { totals, noted } = simulate(program, { horizonTicks });
      expect(Array.from(totals.overLimitTicks)).toEqual(overTicks);
      expect(Array.from(noted.limitPeak)).toEqual(peaks);
      expect(totals.overAnyTicks[0]).toBe(any);
      if (any > 0) over++;
    }),
    { numRuns: 80 },
  );
  expect(over).toBeGreaterThan(20);
}, 60_000);

test("a limit is exceeded by what is more, not by what is just as much", () => {
  const line = (most: number) =>
    network({
      feeds: [feed("feed", "60")],
      machines: [machine("m", "60", { infeed: 10 })],
      connections: [connection("feed", "m")],
      holdUpLimits: [{ place: "m", item: "pouch", most, connections: [], machines: ["m"] }],
    });
  const overTicks = (most: number) => {
    const program = compile(line(most), rational("1/2"));
    return simulate(program, { horizonTicks: 2 * 60 * 30 }).totals.overLimitTicks[0];
  };
  // Ten fill the buffer for good but for the moments in which a cycle has taken one.
  expect(overTicks(10)).toBe(0);
  expect(overTicks(9)).toBeGreaterThan(2 * 60 * 25);
});

test("a dwell is over its limit from a tick more on, and the shortest limit of a kind counts", () => {
  // Every item takes 10 s on the belt and is taken at once.
  const over = (limits: readonly (readonly [string | null, string])[]) => {
    const line = network({
      feeds: [feed("feed", "20")],
      machines: [machine("m", "1")],
      connections: [connection("feed", "m", { belt: belt("60", 20, "10") })],
      dwellLimits: limits.map(([item, seconds]) => ({ item, limitMin: rational(seconds).div(60n) })),
    });
    const { totals, noted } = simulate(compile(line, rational("1/2")), { horizonTicks: 1200 });
    return [totals.overDwell[0] === totals.taken[0], totals.overDwell[0], noted.longestStay[0]];
  };
  const [, none, longest = 0] = over([]);
  expect(none).toBe(0);
  const seconds = String(Number(longest) / 2);
  expect(over([[null, seconds]])[1]).toBe(0);
  expect(over([[null, String(Number(longest) / 2 - 0.5)]])[0]).toBe(true);
  expect(
    over([
      [null, "600"],
      ["pouch", "5"],
    ])[0],
  ).toBe(true);
  expect(over([["carton", "1"]])[1]).toBe(0);
});
