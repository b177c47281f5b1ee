/** Kind by kind, items in = items held + items taken by cycles + items out; recounted after every tick. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { ConservationError, checkConservation } from "../../src/engine/conservation.ts";
import { BELT } from "../../src/engine/record-offsets.ts";
import { beltField } from "../../src/engine/records.ts";
import { initialState } from "../../src/engine/start-state.ts";
import type { State } from "../../src/engine/state.ts";
import { compile } from "../../src/network/compile.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, feed, machine, run } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";
import { AWKWARD, randomNetwork } from "./random-networks.ts";

test("over random networks nothing is lost or made up in any tick", () => {
  fc.assert(
    fc.property(fc.oneof(randomNetwork(), randomNetwork(AWKWARD)), (line) => {
      const { feeds } = line;
      const { totals, noted } = run(line, { minutes: "4", stepAll: true });
      for (const [item, name] of line.items.entries()) {
        let fed = 0;
        for (const [f, count] of totals.fed.entries()) if (feeds[f]?.items[0]?.item === name) fed += count;
        const out = (totals.taken[item] ?? 0) + (totals.left[item] ?? 0) + (noted.holdUp[item] ?? 0);
        expect(out).toBe(fed + (totals.made[item] ?? 0));
      }
    }),
    { numRuns: 300 },
  );
});

test("levels stay within their room, and belts within theirs", () => {
  let full = 0;
  fc.assert(
    fc.property(randomNetwork(AWKWARD), (line) => {
      const program = compile(line, autoTickS(line));
      const state = initialState(program);
      while (state.tick < 1500) {
        advanceOneTick(program, state);
        for (const [b, count] of beltField(state.belts, "count").entries()) {
          if (count < 0 || count > (program.belt.capacity[b] ?? 0)) expect.fail(`belt ${b} holds ${count}`);
          if (count === program.belt.capacity[b]) full++;
        }
        for (const [b, count] of state.bufferCount.entries()) {
          if (count < 0 || count > (program.buffer.capacity[b] ?? 0)) expect.fail(`buffer ${b} holds ${count}`);
          if (count === program.buffer.capacity[b]) full++;
        }
      }
    }),
  );
  expect(full).toBeGreaterThan(10_000);
});

test.each<[string, (state: State) => unknown]>([
  ["an item vanishes from a belt", (state) => add(state.belts, BELT.count, -1)],
  ["an item appears in a buffer", (state) => add(state.bufferCount, 0, 1)],
  ["an item changes its kind under way", (state) => state.places.fill(1)],
  ["a cycle takes one too few", (state) => add(state.totals.taken, 0, -1)],
  ["a product is booked twice", (state) => add(state.totals.made, 1, 1)],
  ["what is held is booked wrong", (state) => add(state.noted.holdUp, 0, 1)],
])("the check sees it when %s", (_, spoil) => {
  const line = network({
    feeds: [feed("feed", "60")],
    machines: [machine("m", "3")],
    connections: [connection("feed", "m", { belt: belt("60", 9, "3") })],
  });
  const program = compile(line, autoTickS(line));
  const state = initialState(program);
  while (state.tick < 100) {
    advanceOneTick(program, state);
    checkConservation(program, state);
  }
  spoil(state);
  expect(() => checkConservation(program, state)).toThrow(ConservationError);
});

function add(counts: Int32Array | Float64Array, index: number, count: number): void {
  counts[index] = (counts[index] ?? 0) + count;
}
