/** Products of uniform numbers that the core makes, against the streams that it makes them of. */
import { expect, test } from "vitest";
import { namedStream } from "../../../src/engine/random/stream.ts";
import { initialState } from "../../../src/engine/start-state.ts";
import { prepare } from "../../../src/network/prepare.ts";
import { readScenario } from "../../../src/scenario/read.ts";

const LINE = `
horizon: 1 min
feeds: { source: { item: piece, rate: 60/min } }
machines: { one: { count: 3, cycle: 3 s, takes: { piece: 1 }, makes: { product: 1 }, infeed: 5 } }
lines: { main: { layout: chain, from: source, to: one, belt: none, branch: none } }
random: { machines: { one: { cycle: { erlang: 100 %, stages: 20 } } } }
`;

test("are the same to the last bit, stream by stream, in every run of a program", () => {
  const read = readScenario(LINE);
  const prepared = read.ok && prepare(read.scenario);
  if (prepared === false || !prepared.ok) throw new Error("it can be run");
  const { program } = prepared;
  const streams = program.random?.streams ?? [];
  expect(streams).toHaveLength(3);
  for (const seed of ["1", "2", "1"]) {
    const state = initialState(program, 0, seed);
    for (const [s, { element, purpose }] of streams.entries()) {
      const uniform = namedStream(seed, element, purpose);
      for (let n = 0; n < 1000; n++) {
        let product = 1;
        for (let k = 0; k < 1 + (n % 16); k++) product *= 1 - uniform();
        expect(state.core.productOf(s, 1 + (n % 16))).toBe(product);
      }
    }
    state.release();
  }
});
