/**
 * Halved and quartered horizons of ten lines: what is printed as the long run agrees with that of long runs, or the horizon is
 * said to be too short. Lines that ramp up in minutes and in hours, with buffers of a few and of hundreds, in balance and not.
 */
import { expect, test } from "vitest";
import { mean, moments } from "../../src/analysis/statistics/moments.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { playReplication } from "../../src/study/replications/replication.ts";
import {
  askFor,
  type Collected,
  NONE_COLLECTED,
  summariseReplications,
  withNext,
} from "../../src/study/replications/replications.ts";

interface Given {
  readonly hours: number;
  readonly feed: number;
  readonly cycles: readonly [first: number, second: number];
  readonly room: number;
  readonly random: string;
}

const EXPONENTIAL = "cycle: { exponential: 100 % }";
const SPREAD = "cycle: { erlang: 100 %, stages: 4 }";
const BREAKING = "breakdowns: { between: { exponential: 20 min }, repair: { exponential: 3 min } }";
const STOPPING = "micro-stops: { chance: 3 %, lasting: { exponential: 40 s } }";

const LINES: readonly Given[] = [
  { hours: 8, feed: 12, cycles: [10, 10], room: 10, random: EXPONENTIAL },
  { hours: 8, feed: 12, cycles: [9, 10], room: 40, random: EXPONENTIAL },
  { hours: 16, feed: 12, cycles: [8, 10], room: 300, random: SPREAD },
  { hours: 8, feed: 5, cycles: [8, 8], room: 30, random: EXPONENTIAL },
  { hours: 12, feed: 12, cycles: [10, 9], room: 60, random: BREAKING },
  { hours: 12, feed: 12, cycles: [8, 10], room: 200, random: BREAKING },
  { hours: 8, feed: 12, cycles: [10, 10], room: 30, random: STOPPING },
  { hours: 16, feed: 12, cycles: [8, 9], room: 400, random: STOPPING },
  { hours: 12, feed: 6.5, cycles: [8, 9], room: 100, random: SPREAD },
  { hours: 2, feed: 12, cycles: [6, 8], room: 120, random: SPREAD },
];

const fileOf = ({ feed, cycles: [first, second], room, random }: Given, hours: number): string => `
title: Two in a row
horizon: ${60 * hours} min
tick: 1 s
feeds: { blanks: { item: blank, rate: ${feed}/min } }
machines:
  first:  { cycle: ${first} s, takes: { blank: 1 }, makes: { half: 1 }, infeed: ${room}, outfeed: 5 }
  second: { cycle: ${second} s, takes: { half: 1 }, makes: { part: 1 }, infeed: ${room}, outfeed: 5 }
lines:
  in:  { layout: chain, from: blanks, to: first, belt: none }
  mid: { layout: chain, from: first, to: second, belt: none }
random: { machines: { first: { ${random} }, second: { ${random} } } }
`;

function preparedFor(line: Given, hours: number) {
  const read = readScenario(fileOf(line, hours), { name: "line" });
  const prepared = read.ok ? prepare(read.scenario) : null;
  if (!prepared?.ok) throw new Error(JSON.stringify(read.ok ? prepared : read.findings));
  return prepared;
}

function replicated(line: Given, hours: number, n: number) {
  const prepared = preparedFor(line, hours);
  const asked = askFor(prepared.network, { most: n, until: null, seed: `short-${hours}` });
  let collected: Collected = NONE_COLLECTED;
  for (let r = 1; r <= n; r++) collected = withNext(collected, playReplication(prepared, asked.seed, r), asked);
  return summariseReplications(collected, asked).replications;
}

/** Of the later half of runs four times as long, whatever is thought of their ramp-up. */
function longRun(line: Given, n: number) {
  const prepared = preparedFor(line, 4 * line.hours);
  const runs = Array.from({ length: n }, (_, r) => playReplication(prepared, "long", r + 1));
  const half = (points: number): number => Math.floor(points / 2);
  return {
    output: moments(
      runs.map(({ made, grid: { points, stepMin } }) => {
        const from = half(points);
        return ((made[points - 1] ?? 0) - (made[from - 1] ?? 0)) / ((points - from) * stepMin);
      }),
    ),
    held: moments(runs.map(({ held }) => mean(held.subarray(half(held.length))))),
  };
}

/** Of 40 comparisons of settled figures one in a thousand may be further off. */
const ERRORS_APART = 4;

test("what is printed of a half and a quarter agrees with long runs, or the horizon is said to be too short", () => {
  let [said, silent] = [0, 0];
  for (const [index, line] of LINES.entries()) {
    const long = longRun(line, 8);
    for (const part of [2, 4]) {
      const short = replicated(line, line.hours / part, 20);
      const { settled_output_per_min: output, hold_up_settled: held } = short;
      if (output === null) expect(short.run_at_least_min).toBeGreaterThanOrEqual((2 * 60 * line.hours) / part);
      for (const [figure, own] of Object.entries({ output, held })) {
        const known = figure === "output" ? long.output : long.held;
        if (own === null || own.ci95 === null) {
          silent += 1;
          continue;
        }
        said += 1;
        // Student's t with 19 degrees of freedom.
        const error = (own.ci95[1] - own.ci95[0]) / 2 / 2.093;
        const apart = ERRORS_APART * Math.hypot(error, (known.sd ?? 0) / Math.sqrt(known.n));
        expect(Math.abs(own.mean - known.mean), `${figure} of line ${index}, 1/${part}`).toBeLessThan(apart);
      }
    }
  }
  // Silence is no way out, nor is certainty where a store fills for hours.
  expect(said).toBeGreaterThanOrEqual(20);
  expect(silent).toBeGreaterThanOrEqual(2);
});
