/**
 * Speed, as ratios to something measured in the same run: `npm run bench`. Each time is the least of several turns, taken
 * in alternation, of processor time where one process does the work and by the clock where several do. Runs the built engine,
 * since the test runner's way of loading sources makes it several times slower. `npm run bench -- studies growth` runs parts of it.
 *
 * Work: a chain whose machines need 24/min each and are fed just that, belts with room for 8 items through and 4 branch, two
 * ticks an item. Beside it a hand-written C loop for that chain alone (chain.c, where there is a compiler) and the same in
 * SimPy 3 (chain.py, where it is installed: python3-simpy3 in Debian). Then whole answers, and at the end which targets hold.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { prepare, readScenario, simulate } from "../../dist/index.js";
import { bestStart, oneRun, replications, startUp, studies } from "./answers.mjs";
import { growth } from "./growth.mjs";
import { sweeps } from "./sweep.mjs";
import { atLeast, atMost, tellTargets } from "./targets.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const TURNS = 5;
const SIMPY_TURNS = 3;
const CYCLE_S = 2.5;
const INFEED = 100;

/**
 * Ticks a second: belts carry an item every second tick, and there is a tick for each that the feed brings, or more. `from`: with
 * stock in all buffers, after so many ticks, when something comes to every machine. SimPy does `minutes` of it.
 */
const SIZES = [
  { machines: 4, ticksPerS: 40, minutes: 10 },
  { machines: 28, ticksPerS: 40, minutes: 10 },
  { machines: 100, ticksPerS: 160, minutes: 1 },
  { machines: 1000, ticksPerS: 1440, minutes: 1 / 30 },
  { machines: 1000, ticksPerS: 1440, minutes: 1 / 30, from: 16200 },
];

/** @param {number} machines @param {number} ticksPerS @param {number} minutes @param {string} fed */
function chainOf(machines, ticksPerS, minutes = 480, fed = `${24 * machines}/min`) {
  const read = readScenario(`
title: ${machines} machines
horizon: ${minutes} min
tick: 1000/${ticksPerS} ms
feeds: { source: { item: piece, rate: ${fed} } }
machines: { machine: { count: ${machines}, cycle: ${CYCLE_S} s, takes: { piece: 1 }, makes: { product: 1 }, infeed: ${INFEED} } }
lines:
  main:
    layout: chain
    from: source
    to: machine
    belt: { rate: ${30 * ticksPerS}/min, capacity: 8 }
    branch: { rate: ${30 * ticksPerS}/min, capacity: 4 }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return prepared;
}

/** @param {() => unknown} work @returns seconds of processor time */
function worked(work) {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

/** By how much the middle one of several turns is above the least, at worst. */
let noise = 0;

/** @param {readonly (() => number)[]} ways @returns the least of each, taken in turns */
function least(ways, turns = TURNS) {
  const taken = ways.map(() => /** @type {number[]} */ ([]));
  for (let turn = 0; turn < turns; turn++) for (const [i, way] of ways.entries()) taken[i]?.push(way());
  for (const times of taken) {
    times.sort((a, b) => a - b);
    noise = Math.max(noise, (times[times.length >> 1] ?? 0) / (times[0] ?? 1) - 1);
  }
  return taken.map(([first = 0]) => first);
}

/** @param {string} command @param {string[]} args @returns seconds, moves, cycles; null where it cannot run */
function counted(command, args) {
  const { status, stdout } = spawnSync(command, args, { encoding: "utf8" });
  return status === 0 ? stdout.trim().split(" ").map(Number) : null;
}

const print = (/** @type {string} */ text) => process.stdout.write(`${text}\n`);
const ratio = (/** @type {number} */ value) => value.toFixed(value < 10 ? 2 : 0);

/** @param {import("../../dist/index.js").Run} run items passed on belts, into buffers and into cycles */
function movesOf({ totals }) {
  const passed = totals.passed.reduce((sum, one) => sum + one, 0);
  const taken = totals.taken.reduce((sum, one) => sum + one, 0);
  return passed + 2 * taken;
}

function compiledC(folder) {
  const file = join(folder, "chain");
  const { status } = spawnSync("cc", ["-O2", "-o", file, join(HERE, "chain.c")]);
  return status === 0 ? file : null;
}

/** @param {string} folder */
function stepping(folder) {
  const c = compiledC(folder);
  print("Stepping the whole horizon, nothing leapt over");
  print("machines     ticks   ns a machine and tick     moves a second   against C   against SimPy");
  for (const { machines, ticksPerS, minutes, from = 0 } of SIZES) {
    const { program } = chainOf(machines, ticksPerS);
    const ticks = Math.round((8 * 3600 * 40 * 28) / Math.max(28, machines));
    const level = from > 0 ? INFEED : 0;
    const stocked = program.machine.infeed.subarray(0, from > 0 ? machines : 0);
    const stock = Array.from(stocked, (buffer) => ({ buffer, count: level }));
    const priming = { stock, loaded: [], interventions: [] };
    const upTo = (/** @type {number} */ horizonTicks) => simulate(program, { horizonTicks, priming, stepAll: true });
    const interval = (60 * ticksPerS) / (24 * machines);
    const parts = 24 * machines;
    const fed = [Math.floor(interval), (60 * ticksPerS) % parts, parts];
    const args = [machines, from + ticks, ...fed, 2, CYCLE_S * ticksPerS, INFEED, level, from].map(String);
    const ways = [() => worked(() => upTo(from + ticks))];
    let own = 0;
    if (c) {
      ways.push(() => {
        const [seconds = 0, , cycles = 0] = counted(c, args) ?? [];
        own = cycles;
        return seconds;
      });
    }
    if (from > 0) ways.push(() => worked(() => upTo(from)));
    const times = least(ways);
    const cTime = c ? times[1] : undefined;
    const js = (times[0] ?? 0) - (from > 0 ? (times.at(-1) ?? 0) : 0);
    const [run, start] = [upTo(from + ticks), upTo(from)];
    const moves = movesOf(run) - movesOf(start);
    const cycles = cyclesOf(run) - cyclesOf(start);
    const first = from / ticksPerS / 60;
    const fedAndCarried = [24 * machines, 30 * ticksPerS, CYCLE_S];
    const model = [machines, first + minutes, ...fedAndCarried, INFEED, level, first].map(String);
    /** @type {number[] | null} */
    let simpy = null;
    for (let turn = 0; turn < (machines > 100 ? 1 : SIMPY_TURNS); turn++) {
      const again = counted("/usr/bin/python3", [join(HERE, "chain.py"), ...model]);
      if (simpy === null || (again?.[0] ?? Infinity) < (simpy[0] ?? 0)) simpy = again;
    }
    const perSecond = moves / js;
    const besideSimpy = simpy && perSecond / ((simpy[1] ?? 0) / (simpy[0] ?? 1));
    print(
      [
        String(machines).padStart(8),
        String(ticks).padStart(9),
        ((js * 1e9) / ticks / machines).toFixed(1).padStart(23),
        perSecond.toExponential(2).padStart(18),
        (cTime === undefined ? "no compiler" : `${ratio(js / cTime)} ×`).padStart(11),
        (besideSimpy === null ? "not found" : `${ratio(besideSimpy)} ×`).padStart(15),
        from > 0 ? "  all running" : "",
      ].join(" "),
    );
    const name = `Stepping ${machines} machines${from > 0 ? ", all running" : ""}`;
    if (cTime !== undefined) atMost(`${name}, beside C`, js / cTime, 3, "×");
    if (besideSimpy !== null && (machines < 1000 || from > 0)) {
      atLeast(`${name}, moves a second beside SimPy`, besideSimpy, 150, "×");
    }
    if (cTime !== undefined && Math.abs(own - cycles) > machines)
      print(`  but C finishes ${own} cycles, not ${cycles}`);
  }
}

/** @param {import("../../dist/index.js").Run} run */
function cyclesOf({ totals }) {
  return totals.cycles.reduce((sum, one) => sum + one, 0);
}

function recurrence() {
  print("\nWith the recurrence, of the time of stepping 8 h");
  for (const [machines, fed] of /** @type {[number, string][]} */ ([
    [28, "672/min"],
    [4, "96/min"],
    [4, "97.3/min"],
    [4, "45/4 /min"],
    [4, "1/3 /s"],
    [28, "6811/15 /min"],
    // These repeat, if at all, after more than the horizon: what the search costs.
    [4, "97.317/min"],
    [28, "672.317/min"],
  ])) {
    const { program, horizonTicks } = chainOf(machines, 40, 480, fed);
    const [leapt = 0, stepped = 0] = least(
      [
        () => worked(() => simulate(program, { horizonTicks })),
        () => worked(() => simulate(program, { horizonTicks, stepAll: true })),
      ],
      2 * TURNS,
    );
    const { recurrence: found, steppedTicks } = simulate(program, { horizonTicks });
    const how = found ? `recurs every ${found.periodTicks} ticks` : "does not recur";
    print(
      `${`${machines} machines, fed ${fed}`.padEnd(30)} ${ratio(leapt / stepped)} (${how}; ${steppedTicks} of ${horizonTicks} ticks stepped)`,
    );
  }
}

/** What studies do by the thousand. */
function shortRuns() {
  print("\nRuns one after another, of the horizon's first ticks");
  for (const machines of [4, 28]) {
    const { program } = chainOf(machines, 40);
    for (const [ticks = 0, runs = 0] of [
      [1, 1000],
      [10_000, 200],
    ]) {
      const [seconds = 0] = least([
        () => worked(() => Array.from({ length: runs }, () => simulate(program, { horizonTicks: ticks }).steppedTicks)),
      ]);
      const each = (seconds / runs) * 1e3;
      print(`${machines} machines, ${String(ticks).padStart(5)} ticks: ${each.toFixed(3)} ms a run`);
      if (ticks === 1) atMost(`Starting a run of ${machines} machines`, each, 0.1, "ms");
    }
  }
  print(`${Math.round(process.resourceUsage().maxRSS / 1024)} MB resident at the most so far`);
}

export { chainOf, simulate };

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = mkdtempSync(join(tmpdir(), "fillfront-bench-"));
  const parts = {
    stepping: () => stepping(folder),
    recurrence,
    "short-runs": shortRuns,
    "one-run": () => oneRun(print, worked),
    "start-up": () => startUp(print),
    studies: () => studies(print),
    replications: () => replications(print),
    best: () => bestStart(print, folder),
    sweeps: () => sweeps(print),
    growth: () => growth(print),
  };
  const asked = process.argv.slice(2);
  const unknown = asked.find((name) => !(name in parts));
  try {
    if (unknown !== undefined) throw new Error(`no part ${unknown}; there are ${Object.keys(parts).join(", ")}`);
    for (const [name, part] of Object.entries(parts)) if (asked.length === 0 || asked.includes(name)) await part();
    tellTargets(print);
    print(`\nNoise: the middle turn took up to ${Math.round(100 * noise)} % longer than the least`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
