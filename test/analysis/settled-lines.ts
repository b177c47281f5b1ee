/**
 * Random lines as files: cycles of one decimal, in seconds or minutes, feeds rounded to 0.01/min, one or many products a
 * cycle; a chain, a tree, a loop, or two stages. Nothing about them recurs soon.
 */
import fc from "fast-check";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";

export interface SettledLine {
  readonly shape: "chain" | "tree" | "loop" | "stages";
  /** Tenths of a second. */
  readonly cycles: readonly number[];
  /** Products a cycle, and whether cycles are minutes long. */
  readonly makes: number;
  readonly isSlow: boolean;
  /** Buffer, in cycles' worth. */
  readonly room: number;
  /** Feed over need, in hundredths. */
  readonly fed: number;
  /** A belt's length in decimetres. */
  readonly length: number;
}

export function settledLines(): fc.Arbitrary<SettledLine> {
  return fc.record({
    shape: fc.constantFrom("chain", "chain", "chain", "tree", "loop", "stages"),
    cycles: fc.array(fc.integer({ min: 20, max: 60 }), { minLength: 3, maxLength: 10 }),
    makes: fc.constantFrom(1, 1, 2, 12, 100),
    isSlow: fc.constantFrom(false, false, false, true),
    room: fc.integer({ min: 3, max: 40 }),
    fed: fc.constantFrom(70, 90, 100, 100, 105, 110, 130),
    length: fc.integer({ min: 10, max: 60 }),
  });
}

/** Counts that a tree can have. */
const TREES = [0, 0, 0, 3, 4, 6, 6, 8, 8, 9, 12];

/** @param speeds up a line keep belts moving at the fed rate */
export function textOf({ shape, cycles, makes, isSlow, room, fed, length }: SettledLine, horizon: string): string {
  const times = isSlow ? 30 : 1;
  const count = shape === "loop" ? Math.min(cycles.length, 6) : cycles.length;
  const own = shape === "tree" ? new Array<number>(TREES[count] ?? 4).fill(cycles[0] ?? 30) : cycles.slice(0, count);
  const needPerMin = own.reduce((total, tenths) => total + 600 / (tenths * times), 0);
  const feedPerMin = Math.floor(needPerMin * fed) / 100;
  const belt = { length: `${length / 10} m`, speed: `${Math.ceil(needPerMin * 0.3 * 10) / 10} m/min`, pitch: "200 mm" };
  const machines = Object.fromEntries(
    own.map((tenths, index) => [
      `press-${index + 1}`,
      { cycle: `${(tenths * times) / 10} s`, takes: { blank: 1 }, makes: { lid: makes }, infeed: room },
    ]),
  );
  const names = Object.keys(machines);
  const line = { layout: shape === "stages" ? "chain" : shape, from: "store", to: names, belt, branch: belt };
  const packing = {
    machines: {
      packer: {
        count: 2,
        cycle: `${Math.max(1, Math.round(((own[0] ?? 30) * times) / makes / count)) / 10} s`,
        takes: { lid: 1 },
        makes: { pack: 1 },
        infeed: 20 * makes,
      },
    },
    line: {
      layout: "chain",
      from: names,
      to: "packer",
      belt: { length: "2 m", speed: `${Math.ceil(needPerMin * makes * 0.3 * 10) / 10} m/min`, pitch: "200 mm" },
      branch: { length: "1 m", speed: `${Math.ceil(needPerMin * makes * 0.3 * 10) / 10} m/min`, pitch: "200 mm" },
    },
  };
  const two = shape === "stages";
  return JSON.stringify({
    title: "Random line",
    horizon,
    feeds: { store: { item: "blank", rate: `${feedPerMin}/min` } },
    machines: two ? { ...machines, ...packing.machines } : machines,
    lines: two ? { main: line, packing: packing.line } : { main: line },
  });
}

export function scenarioOf(line: SettledLine, horizon: string): Scenario {
  const outcome = readScenario(textOf(line, horizon), { name: "random" });
  if (!outcome.ok) throw new Error(`${JSON.stringify(outcome.findings)}\n${textOf(line, horizon)}`);
  return outcome.scenario;
}
