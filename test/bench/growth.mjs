/** How times grow with the number of machines: in proportion where the slope of their logarithms is 1. */
import { analyse, estimate, prepare, readScenario, reportFiles, simulate, solveFlow } from "../../dist/index.js";
import { atMost } from "./targets.mjs";

const SIZES = [10, 100, 1000, 10_000];
const MOST_S = 60;
/** Turns are taken until there are so many, or so many seconds have gone. */
const TURNS = 5;
const TURNS_S = 2;
/** Room for what memory, caches and sorting add. */
const STEEPEST = 1.2;

/** What is fed and how long a cycle takes. */
const PLANTS = /** @type {const} */ ({
  "even numbers": ["1200/min", "2.5 s"],
  "awkward fractions": ["1199.317/min", "2.517 s"],
});

/** @param {number} machines @param {string} rate @param {string} cycle */
const fileOf = (machines, rate, cycle) => `
title: ${machines} machines
horizon: 20 min
tick: 25 ms
feeds: { source: { item: piece, rate: ${rate} } }
machines: { machine: { count: ${machines}, cycle: ${cycle}, takes: { piece: 1 }, makes: { product: 1 }, infeed: 20 } }
lines: { main: { layout: chain, from: source, to: machine, belt: { rate: 1200/min, capacity: 8 }, branch: { rate: 1200/min, capacity: 4 } } }
`;

/** @param {() => unknown} work @returns seconds of processor time, the least of some turns */
async function leastOf(work) {
  let least = Infinity;
  let spent = 0;
  for (let turn = 0; turn < TURNS && spent < TURNS_S; turn++) {
    const start = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(start);
    const taken = (user + system) / 1e6;
    spent += taken;
    least = Math.min(least, taken);
  }
  return least;
}

/** @param {(text: string) => void} print */
export async function growth(print) {
  for (const [plant, [rate, cycle]] of Object.entries(PLANTS)) await growthOf(plant, rate, cycle, print);
}

/** @param {string} plant @param {string} rate @param {string} cycle @param {(text: string) => void} print */
async function growthOf(plant, rate, cycle, print) {
  const rows = /** @type {Map<string, number[]>} */ (new Map());
  /** Why there is no flow solution, and so no estimate, of the largest. */
  let refused = "";
  for (const machines of SIZES) {
    const text = fileOf(machines, rate, cycle);
    let read;
    let prepared;
    let run;
    let flow = /** @type {unknown} */ ({ applies: false, reason: "not asked" });
    let analysis;
    const note = async (/** @type {string} */ name, /** @type {() => unknown} */ work, isPossible = true) => {
      const times = rows.get(name) ?? [];
      rows.set(name, times);
      // What grows too steeply is left out before it takes hours.
      const last = times.at(-1);
      if (!isPossible || (last !== undefined && (Number.isNaN(last) || last * 30 > MOST_S))) times.push(Number.NaN);
      else times.push(await leastOf(work));
    };
    await note("read", () => (read = readScenario(text)));
    await note("prepare", () => (prepared = prepare(read.scenario)));
    await note("run", () => (run = simulate(prepared.program, prepared)));
    await note("flow", () => (flow = solveFlow(prepared.network)));
    if (!flow.applies) refused = flow.reason;
    await note("estimate", () => estimate(read.scenario.title, prepared.network, flow), flow.applies);
    await note("analysis", () => (analysis = analyse(run, read.scenario, flow)));
    // Drawn up once by each analysis.
    await note("and curves", () => analyse(run, read.scenario, flow).series);
    await note("report", () => reportFiles(analysis.result, analysis.series, { charts: false }));
  }
  print(`\nGrowth, ${plant}: seconds at ${SIZES.join(", ")} machines, 20 min, and slopes of their logarithms`);
  for (const [name, times] of rows) {
    const slopes = times.slice(1).map((time, i) => Math.log10(time / (times[i] ?? time)));
    const told = (/** @type {number} */ value, /** @type {number} */ digits) =>
      (Number.isNaN(value) ? "left out" : value.toFixed(digits)).padStart(9);
    print(
      `${name.padEnd(10)} ${times.map((time) => told(time, 4)).join(" ")}   ${slopes.map((slope) => told(slope, 2)).join(" ")}`,
    );
    const last = slopes.at(-1) ?? 0;
    atMost(
      `Growth of ${name}, ${plant}, from 1,000 to 10,000 machines, slope`,
      Number.isNaN(last) ? Infinity : last,
      STEEPEST,
      "",
    );
  }
  if (refused !== "") print(`No flow solution of the largest: ${refused}`);
}
