/** How times grow with the number of machines: in proportion where the slope of their logarithms is 1. */
import { analyse, estimate, prepare, readScenario, reportFiles, simulate, solveFlow } from "../../dist/index.js";
import { atMost } from "./targets.mjs";

const SIZES = [10, 100, 1000, 10_000];
const MOST_S = 60;
/** Room for what memory, caches and sorting add. */
const STEEPEST = 1.2;

const fileOf = (/** @type {number} */ machines) => `
title: ${machines} machines
horizon: 20 min
tick: 25 ms
feeds: { source: { item: piece, rate: 1200/min } }
machines: { machine: { count: ${machines}, cycle: 2.5 s, takes: { piece: 1 }, makes: { product: 1 }, infeed: 20 } }
lines: { main: { layout: chain, from: source, to: machine, belt: { rate: 1200/min, capacity: 8 }, branch: { rate: 1200/min, capacity: 4 } } }
`;

/** @param {() => unknown} work @param {number} turns @returns seconds of processor time */
async function leastOf(work, turns) {
  let least = Infinity;
  for (let turn = 0; turn < turns; turn++) {
    const start = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(start);
    least = Math.min(least, (user + system) / 1e6);
  }
  return least;
}

/** @param {(text: string) => void} print */
export async function growth(print) {
  const rows = /** @type {Map<string, number[]>} */ (new Map());
  for (const machines of SIZES) {
    const text = fileOf(machines);
    let read;
    let prepared;
    let run;
    let flow = /** @type {unknown} */ ({ applies: false, reason: "not asked" });
    let analysis;
    const note = async (/** @type {string} */ name, /** @type {() => unknown} */ work) => {
      const times = rows.get(name) ?? [];
      rows.set(name, times);
      // What grows too steeply is left out before it takes hours.
      const last = times.at(-1);
      if (last !== undefined && (Number.isNaN(last) || last * 30 > MOST_S)) times.push(Number.NaN);
      else times.push(await leastOf(work, machines <= 1000 ? 3 : 1));
    };
    await note("read", () => (read = readScenario(text)));
    await note("prepare", () => (prepared = prepare(read.scenario)));
    await note("run", () => (run = simulate(prepared.program, prepared)));
    await note("flow", () => (flow = solveFlow(prepared.network)));
    await note("estimate", () => estimate(read.scenario.title, prepared.network, flow));
    await note("analysis", () => (analysis = analyse(run, read.scenario, flow)));
    await note("curves", () => analysis.series);
    await note("report", () => reportFiles(analysis.result, analysis.series, { charts: false }));
  }
  print(`\nGrowth: seconds at ${SIZES.join(", ")} machines, 20 min, and slopes of their logarithms`);
  for (const [name, times] of rows) {
    const slopes = times.slice(1).map((time, i) => Math.log10(time / (times[i] ?? time)));
    const told = (/** @type {number} */ value, /** @type {number} */ digits) =>
      (Number.isNaN(value) ? "left out" : value.toFixed(digits)).padStart(9);
    print(
      `${name.padEnd(9)} ${times.map((time) => told(time, 4)).join(" ")}   ${slopes.map((slope) => told(slope, 2)).join(" ")}`,
    );
    const last = slopes.at(-1) ?? 0;
    atMost(
      `Growth of ${name} from 1,000 to 10,000 machines, slope`,
      Number.isNaN(last) ? Infinity : last,
      STEEPEST,
      "",
    );
  }
}
