/**
 * Speed, as ratios to something measured in the same run: `npm run bench`. Each time is the least of several turns, taken
 * in alternation, of processor time where one process does the work and by the clock where several do. Runs the built engine,
 * since the test runner's way of loading sources makes it several times slower.
 *
 * Work: a chain whose machines need 24/min each and are fed just that, belts with room for 8 items through and 4 branch, two
 * ticks an item. Beside it a hand-written C loop for that chain alone (chain.c, where there is a compiler) and the same in
 * SimPy 3 (chain.py, where it is installed: python3-simpy3 in Debian).
 */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { prepare, readScenario, simulate } from "../../dist/index.js";
import { sweeps } from "./sweep.mjs";

const HERE = fileURLToPath(new URL(".", import.meta.url));
const ROOT = new URL("../../", import.meta.url);
const MAIN = fileURLToPath(
  new URL(JSON.parse(readFileSync(new URL("package.json", ROOT), "utf8")).bin.fillfront, ROOT),
);
const SHORT = fileURLToPath(new URL("../../scenarios/short-chain.yaml", import.meta.url));
const TURNS = 5;
const SIMPY_TURNS = 3;
const CYCLE_S = 2.5;
const INFEED = 100;

/** Machines, ticks a second: belts carry an item every second tick, and there is a tick for each that the feed brings, or more. */
const SIZES = [
  [4, 40],
  [28, 40],
  [100, 160],
  [1000, 1440],
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

/** @param {() => unknown} work @returns seconds by the clock */
function timed(work) {
  const start = process.hrtime.bigint();
  work();
  return Number(process.hrtime.bigint() - start) / 1e9;
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

function stepping(folder) {
  const c = compiledC(folder);
  print("Stepping the whole horizon, nothing leapt over");
  print("machines     ticks   ns a machine and tick     moves a second   against C   against SimPy");
  for (const [machines = 0, ticksPerS = 0] of SIZES) {
    const { program } = chainOf(machines, ticksPerS);
    const horizonTicks = Math.round((8 * 3600 * 40 * 28) / Math.max(28, machines));
    const interval = (60 * ticksPerS) / (24 * machines);
    const parts = 24 * machines;
    const args = [machines, horizonTicks, Math.floor(interval), (60 * ticksPerS) % parts, parts];
    const belts = [2, CYCLE_S * ticksPerS, INFEED];
    let run = simulate(program, { horizonTicks, stepAll: true });
    const ways = [() => worked(() => (run = simulate(program, { horizonTicks, stepAll: true })))];
    let own = 0;
    if (c) {
      ways.push(() => {
        const [seconds = 0, , cycles = 0] = counted(c, [...args, ...belts].map(String)) ?? [];
        own = cycles;
        return seconds;
      });
    }
    const [js = 0, cTime] = least(ways);
    const moves = movesOf(run);
    const cycles = run.totals.cycles.reduce((sum, one) => sum + one, 0);
    const minutes = machines > 28 ? 1 : 10;
    const model = [machines, minutes, 24 * machines, 30 * ticksPerS, CYCLE_S, INFEED].map(String);
    /** @type {number[] | null} */
    let simpy = null;
    for (let turn = 0; turn < (machines > 100 ? 1 : SIMPY_TURNS); turn++) {
      const again = counted("/usr/bin/python3", [join(HERE, "chain.py"), ...model]);
      if (simpy === null || (again?.[0] ?? Infinity) < (simpy[0] ?? 0)) simpy = again;
    }
    const perSecond = moves / js;
    print(
      [
        String(machines).padStart(8),
        String(horizonTicks).padStart(9),
        ((js * 1e9) / horizonTicks / machines).toFixed(1).padStart(23),
        perSecond.toExponential(2).padStart(18),
        (cTime === undefined ? "no compiler" : `${ratio(js / cTime)} ×`).padStart(11),
        (simpy === null ? "not found" : `${ratio(perSecond / ((simpy[1] ?? 0) / (simpy[0] ?? 1)))} ×`).padStart(15),
      ].join(" "),
    );
    if (cTime !== undefined && Math.abs(own - cycles) > machines)
      print(`  but C finishes ${own} cycles, not ${cycles}`);
  }
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

function growth() {
  print("\nGrowth");
  for (const [machines = 0, minutes = 0] of [
    [1000, 480],
    [10_000, 20],
  ]) {
    const script = `
      const { chainOf, simulate } = await import(${JSON.stringify(import.meta.url)});
      const { program } = chainOf(${machines}, 40, ${minutes}, "1200/min");
      const start = process.hrtime.bigint();
      const run = simulate(program, { horizonTicks: ${minutes * 60 * 40} });
      const s = Number(process.hrtime.bigint() - start) / 1e9;
      console.log(s.toFixed(2), run.steppedTicks, Math.round(process.resourceUsage().maxRSS / 1024));`;
    const out = execFileSync(process.execPath, ["--input-type=module", "-e", script], { encoding: "utf8" });
    const [seconds, ticks, megabytes] = out.trim().split(" ");
    print(`${machines} machines, ${ticks} ticks: ${seconds} s, ${megabytes} MB resident`);
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
      print(
        `${machines} machines, ${String(ticks).padStart(5)} ticks: ${((seconds / runs) * 1e3).toFixed(2)} ms a run`,
      );
    }
  }
  print(`${Math.round(process.resourceUsage().maxRSS / 1024)} MB resident at the most so far`);
}

/** Whole commands as package.json has them, each in turns with an empty node. */
function startUp() {
  const folder = join(tmpdir(), `fillfront-bench-${process.pid}`);
  const commands = [
    ["--version"],
    ["check", SHORT],
    ["run", SHORT, "--no-charts", "--out", folder],
    ["run", SHORT, "--out", folder],
  ];
  const node = (/** @type {string[]} */ args) => () =>
    timed(() => execFileSync(process.execPath, args, { stdio: "ignore" }));
  const [empty = 0, ...taken] = least([node(["-e", "0"]), ...commands.map((args) => node([MAIN, ...args]))], 2 * TURNS);
  rmSync(folder, { recursive: true, force: true });
  const ms = (/** @type {number} */ s) => `${Math.round(s * 1000)} ms`;
  print(`\nStart-up, the short example; an empty node takes ${ms(empty)}, and check may take ${ms(2 * empty + 0.1)}`);
  for (const [i, seconds] of taken.entries()) {
    const words = (commands[i] ?? []).filter((word) => word !== SHORT && word !== folder && word !== "--out");
    print(`${words.join(" ").padEnd(16)} ${ms(seconds).padStart(7)}, ${ratio(seconds / empty)} × empty`);
  }
}

export { chainOf, simulate };

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = mkdtempSync(join(tmpdir(), "fillfront-bench-"));
  try {
    stepping(folder);
    recurrence();
    shortRuns();
    growth();
    startUp();
    sweeps(print);
    print(`\nNoise: the middle turn took up to ${Math.round(100 * noise)} % longer than the least`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
