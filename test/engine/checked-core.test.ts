/** The core with its checks finds no wrong index in what is compiled, and runs as the usual one does, byte for byte. */
import { readdirSync, readFileSync } from "node:fs";
import { serialize } from "node:v8";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type SimulationOptions, simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import { prepare } from "../../src/network/prepare.ts";
import { compilePriming } from "../../src/network/priming.ts";
import { DIVIDER, type Program } from "../../src/network/program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { cases } from "../plants/cases.ts";
import { amongOthers } from "../plants/collecting-lines.ts";
import { primedBy, randomPairs, randomTimings, timed } from "../plants/random-tactics.ts";
import { checkedEngine } from "./checked-core.ts";
import { belt, divider, feed, machine } from "./lines.ts";
import { withChance } from "./random-chance.ts";
import { AWKWARD, randomNetwork, randomPlant } from "./random-networks.ts";

let checked: Awaited<ReturnType<typeof checkedEngine>>;

beforeAll(async () => {
  checked = await checkedEngine();
});
afterAll(() => checked.release());

const CASES = cases(80);
const FOLDER = new URL("../../scenarios/", import.meta.url);

/** @returns how many items passed */
function sameRun(program: Program, options: SimulationOptions): number {
  const [usual, own] = [simulate, checked.simulate].map((run) => {
    const { program: _, ...all } = run(program, options);
    return { bytes: serialize(all), passed: all.totals.passed.reduce((sum, one) => sum + one, 0) };
  });
  expect(own?.bytes.equals(usual?.bytes ?? Buffer.of())).toBe(true);
  return usual?.passed ?? 0;
}

const anyNetwork = amongOthers(fc.oneof(randomNetwork(), randomNetwork(AWKWARD), randomPlant(), randomPlant(AWKWARD)));

test("random networks, collecting lines of all merges, tactics and changing feeds among them", () => {
  let passed = 0;
  fc.assert(
    fc.property(anyNetwork, randomTimings, randomPairs, (plain, timings, tactic) => {
      const { network, priming } = primedBy(timed(plain, timings), tactic);
      const program = compile(network, autoTickS(network));
      passed += sameRun(program, { horizonTicks: 3000, priming: compilePriming(program, priming) });
    }),
    { numRuns: CASES, endOnFailure: true },
  );
  expect(passed).toBeGreaterThan(100 * CASES);
});

test("random networks under chance", () => {
  let passed = 0;
  fc.assert(
    fc.property(anyNetwork, fc.nat(11), fc.string(), (line, shift, seed) => {
      passed += sameRun(withChance(line, shift), { horizonTicks: 3000, seed });
    }),
    { numRuns: CASES, endOnFailure: true },
  );
  expect(passed).toBeGreaterThan(100 * CASES);
});

test.each(readdirSync(FOLDER).filter((name) => name.endsWith(".yaml")))("%s", (file) => {
  const read = readScenario(readFileSync(new URL(file, FOLDER), "utf8"));
  const prepared = read.ok ? prepare(read.scenario) : null;
  if (!read.ok || !prepared?.ok) throw new Error("the example does not read");
  const { program, horizonTicks } = prepared;
  // Of a long one under chance the first part.
  expect(sameRun(program, { horizonTicks: Math.min(horizonTicks, 150_000), seed: read.scenario.seed })).toBeGreaterThan(
    100,
  );
});

/** A feed, a divider and two machines, with room for four on each belt. */
function smallLine(): Program {
  const belted = { belt: belt("60", 4, "1") };
  const line = network({
    feeds: [feed("feed", "60")],
    dividers: [divider("divider")],
    machines: [machine("one", "2"), machine("other", "2")],
    connections: [
      connection("feed", "divider", belted),
      connection("divider", "one", belted),
      connection("divider", "other", belted),
    ],
  });
  return compile(line, autoTickS(line));
}

test.each<[string, (program: Program) => void]>([
  ["feedSequenceValues[99]: there are 1", ({ feed }) => feed.sequence.start.fill(99)],
  ["paceDue[1000]: there are 10", ({ machine }) => machine.pace.fill(1000)],
  ["bufferBorn[-1]: there are 40", ({ buffer }) => buffer.ring.fill(-1)],
  ["onPlaces[6]: there are 2", ({ belt }) => belt.at.fill(3)],
  ["belts[3]: there are 3", ({ machine }) => machine.inletBelts.values.fill(3)],
  ["places[99]: there are 12", ({ belt }) => belt.ring.fill(99)],
  ["connections[4]: there are 3", ({ divider }) => divider.outlets.values.fill(4)],
  ["dividers[5]: there are 1", ({ sweepKind, sweepIndex }) => sweepIndex.set([5], sweepKind.indexOf(DIVIDER))],
])("what is wrong is named: %s", (message, spoil) => {
  const program = smallLine();
  expect(sameRun(program, { horizonTicks: 200 })).toBeGreaterThan(10);
  const spoilt = smallLine();
  spoil(spoilt);
  expect(() => checked.simulate(spoilt, { horizonTicks: 200 })).toThrow(message);
});
