/** What a person waits for: one run from read file to result, start-up, studies with and without pictures, replications. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { analyse, prepare, readScenario, simulate, solveFlow } from "../../dist/index.js";
import { command, least, reporting, scenario } from "./commands.mjs";
import { atLeast, atMost } from "./targets.mjs";

const RUNS = 40;
const TURNS = 3;
const START_TURNS = 10;
const ms = (/** @type {number} */ s) => `${(s * 1000).toFixed(s < 0.01 ? 2 : 0)} ms`;

/** @param {(text: string) => void} print @param {(work: () => unknown) => number} worked */
export function oneRun(print, worked) {
  const text = readFileSync(scenario("long-chain"), "utf8");
  const best = {
    read: Infinity,
    prepare: Infinity,
    simulate: Infinity,
    flow: Infinity,
    analyse: Infinity,
    all: Infinity,
  };
  for (let turn = 0; turn < RUNS; turn++) {
    let read = readScenario(text);
    let prepared;
    let run;
    let flow;
    const parts = {
      read: worked(() => (read = readScenario(text))),
      prepare: worked(() => (prepared = prepare(read.scenario))),
      simulate: worked(() => (run = simulate(prepared.program, prepared))),
      flow: worked(() => (flow = solveFlow(prepared.network))),
      analyse: worked(() => analyse(run, read.scenario, flow)),
    };
    const all = Object.values(parts).reduce((sum, one) => sum + one, 0);
    for (const [name, seconds] of Object.entries({ ...parts, all })) best[name] = Math.min(best[name], seconds);
  }
  print("\nOne run of the long chain, from read file to result, no start-up");
  print(
    Object.entries(best)
      .map(([name, seconds]) => `${name} ${ms(seconds)}`)
      .join(", "),
  );
  atMost("One run of the long chain, text to result", best.all * 1000, 15, "ms");
}

/** @param {(text: string) => void} print */
export function startUp(print) {
  const short = scenario("short-chain");
  const [empty, version, check, bare, pictured] = least(
    [
      ["-e", "0"],
      command(["--version"]),
      command(["check", short]),
      reporting(["run", short, "--no-charts"]),
      reporting(["run", short]),
    ],
    START_TURNS,
  ).map(({ worked }) => worked);
  print("\nStart-up with the short example, beside an empty node");
  print(
    `empty ${ms(empty)}, --version ${ms(version)}, check ${ms(check)}, run ${ms(bare)}, run with pictures ${ms(pictured)}`,
  );
  atMost("check, beside 2 × an empty node + 60 ms", check * 1000, 2000 * empty + 60, "ms");
  atMost("run with pictures", pictured * 1000, 450, "ms");
}

/** Judged by the clock, since threads share the work and someone waits; processor time beside it. @param {(text: string) => void} print */
export function studies(print) {
  const long = scenario("long-chain");
  const thirty = scenario("thirty-equal");
  const rows = /** @type {const} */ ([
    ["compare --all", ["compare", long, "--all"], 0.7, true],
    ["prime", ["prime", long, "--within", "15 min"], 1.5, false],
    ["layouts", ["layouts", thirty], 2, true],
    ["grow", ["grow", long, "--machines", "2..30"], 1, true],
    ["shortage", ["shortage", thirty], 1, true],
  ]);
  print("\nStudies of 24 to 30 machines, start-up included");
  for (const [name, args, most, draws] of rows) {
    if (!draws) {
      const [{ worked, clock }] = least([command(args)], TURNS);
      print(`${name.padEnd(14)} ${worked.toFixed(2)} s worked, ${clock.toFixed(2)} s by the clock`);
      atMost(`${name}, by the clock`, clock, most, "s");
      continue;
    }
    const [without, pictured] = least([reporting([...args, "--no-charts"]), reporting(args)], TURNS);
    print(
      `${name.padEnd(14)} ${without.worked.toFixed(2)} s worked, ${without.clock.toFixed(2)} s by the clock; with pictures ${pictured.worked.toFixed(2)} s, ${pictured.clock.toFixed(2)} s`,
    );
    atMost(`${name}, by the clock`, without.clock, most, "s");
    atMost(`${name}, more with pictures, by the clock`, pictured.clock - without.clock, 1.5, "s");
  }
}

/** @param {(text: string) => void} print */
export function replications(print) {
  const args = (/** @type {number} */ jobs) =>
    reporting(["run", scenario("unreliable-chain"), "--replications", "100", "--no-charts", "--jobs", String(jobs)]);
  const [one, two] = least([args(1), args(2)], 2);
  print("\nA hundred replications of 8 h, ten machines under chance, start-up and report included");
  print(
    `one thread ${one.clock.toFixed(1)} s by the clock, two ${two.clock.toFixed(1)} s: ${(one.clock / two.clock).toFixed(2)} ×; worked ${one.worked.toFixed(1)} and ${two.worked.toFixed(1)} s`,
  );
  atMost("A hundred replications on two cores, half of the processor time", two.worked / 2, 4, "s");
  atLeast("Two threads beside one, by the clock", one.clock / two.clock, 1.8, "×");
}

const ALL_MEANS = `
  levels: movable
  branches: variable
  start: either
  feed: { to: 110 %, for: 10 min }
  second-feed: { at: sealer-13 }
  dividers: switched
`;

/** @param {(text: string) => void} print @param {string} folder */
export function bestStart(print, folder) {
  const file = join(folder, "all-means.yaml");
  const hands = readFileSync(scenario("granted-long-chain"), "utf8").replace("items: 210", "items: 560");
  writeFileSync(file, hands.trimEnd() + ALL_MEANS);
  const [{ worked, clock }] = least([command(["best", file, "--no-by-item", "--json"])], 1);
  print(
    `\nThe best start of 24 machines with all means: ${worked.toFixed(0)} s worked, ${clock.toFixed(0)} s by the clock`,
  );
  atMost("best on two cores, half of the processor time", worked / 2, 60, "s");
}
