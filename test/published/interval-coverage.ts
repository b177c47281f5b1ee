/**
 * How often the intervals that `run --replications` prints hold the truth, on lines that nothing was tuned to. Each experiment
 * is a set of replications with a seed of its own, brought to figures as the command does it. The truth is of many long runs
 * (settled figures) and of many runs of the same horizon (what is made up to a common end); its own error is below a tenth
 * of an interval's.
 */
import { simulate } from "../../src/engine/simulate.ts";
import { RUNNING, STATE_COUNT } from "../../src/engine/states.ts";
import { total } from "../../src/quantity/counts.ts";
import { playReplication } from "../../src/study/replications/replication.ts";
import {
  askFor,
  type Collected,
  NONE_COLLECTED,
  type ReplicationsAsked,
  summariseReplications,
  withNext,
} from "../../src/study/replications/replications.ts";
import { type Plant, plantOf } from "./plant.ts";

export interface CoverageLine {
  readonly name: string;
  readonly file: (horizonHours: number) => string;
  readonly horizonHours: number;
  /** Of a single run: so long that there are some hundred stops of each kind. */
  readonly singleRunHours: number;
  readonly replications: number;
  /** Its ramp-up is over by then, beyond doubt. */
  readonly warmUpHours: number;
}

const breakdowns = (between: string, repair: string): string =>
  `breakdowns: { between: { exponential: ${between} }, repair: { exponential: ${repair} } }`;

/** Breakdowns of both machines, many a shift. */
const PRESSES: CoverageLine = {
  name: "two presses that often stop",
  horizonHours: 8,
  singleRunHours: 100,
  replications: 20,
  warmUpHours: 8,
  file: (hours) => `
title: Two presses that often stop
horizon: ${hours} h
tick: 2 s
feeds: { blanks: { item: blank, rate: 12/min } }
machines:
  first:  { cycle: 10 s, takes: { blank: 1 }, makes: { half: 1 }, infeed: 30, outfeed: 10 }
  second: { cycle: 10 s, takes: { half: 1 }, makes: { part: 1 }, infeed: 30, outfeed: 10 }
lines:
  in:  { layout: chain, from: blanks, to: first, belt: none }
  mid: { layout: chain, from: first, to: second, belt: none }
random:
  machines:
    first:  { ${breakdowns("40 min", "5 min")} }
    second: { ${breakdowns("25 min", "3 min")}, cycle: { erlang: 100 %, stages: 4 } }
`,
};

/** A buffer that takes hours to fill while the output has long been settled. */
const SLOW_STORE: CoverageLine = {
  name: "a store that fills for hours",
  horizonHours: 16,
  singleRunHours: 150,
  replications: 20,
  warmUpHours: 60,
  file: (hours) => `
title: A store that fills for hours
horizon: ${hours} h
tick: 2 s
feeds: { blanks: { item: blank, rate: 12/min } }
machines:
  first:  { cycle: 8 s, takes: { blank: 1 }, makes: { half: 1 }, infeed: 20, outfeed: 10 }
  second: { cycle: 10 s, takes: { half: 1 }, makes: { part: 1 }, infeed: 300, outfeed: 10 }
lines:
  in:  { layout: chain, from: blanks, to: first, belt: none }
  mid: { layout: chain, from: first, to: second, belt: none }
random:
  machines:
    first:  { ${breakdowns("60 min", "4 min")} }
    second: { micro-stops: { chance: 2 %, lasting: { exponential: 30 s } } }
`,
};

/** A breakdown every ten hours, in shifts of eight; a hundred of them expected. */
const RARE_STOPS: CoverageLine = {
  name: "stops rarer than the horizon",
  horizonHours: 8,
  singleRunHours: 720,
  replications: 130,
  warmUpHours: 8,
  file: (hours) => `
title: Stops rarer than the horizon
horizon: ${hours} h
tick: 5 s
feeds: { blanks: { item: blank, rate: 3.6/min } }
machines:
  press: { cycle: 20 s, takes: { blank: 1 }, makes: { part: 1 }, infeed: 20 }
lines:
  in: { layout: chain, from: blanks, to: press, belt: none }
random:
  machines:
    press: { ${breakdowns("10 h", "20 min")}, cycle: { erlang: 100 %, stages: 10 } }
`,
};

/** Written down after the rules were settled on the three above, and run once: other families, a feed left to chance, three stages. */
const BEHIND_AN_OVEN: CoverageLine = {
  name: "three stages behind a fluttering feed",
  horizonHours: 10,
  singleRunHours: 250,
  replications: 20,
  warmUpHours: 10,
  file: (hours) => `
title: Three stages behind a fluttering feed
horizon: ${hours} h
tick: 2 s
feeds: { oven: { item: sheet, rate: 9/min } }
machines:
  cutter: { cycle: 6 s, takes: { sheet: 1 }, makes: { tray: 1 }, infeed: 40, outfeed: 15 }
  press:  { cycle: 6 s, takes: { tray: 1 }, makes: { cup: 1 }, infeed: 25, outfeed: 10 }
  packer: { cycle: 24 s, takes: { cup: 4 }, makes: { box: 1 }, infeed: 60, outfeed: 10 }
lines:
  in:   { layout: chain, from: oven, to: cutter, belt: none }
  mid:  { layout: chain, from: cutter, to: press, belt: none }
  last: { layout: chain, from: press, to: packer, belt: none }
random:
  feeds:
    oven: { interval: { exponential: 100 % }, outages: { between: { exponential: 80 min }, lasting: { uniform: [2 min, 8 min] } } }
  machines:
    cutter: { ${breakdowns("35 min", "3 min")} }
    press:  { breakdowns: { between: { exponential: 45 min }, repair: { lognormal: 4 min, spread: 3 min } } }
    packer: { micro-stops: { chance: 3 %, lasting: { triangular: [10 s, 20 s, 60 s] } }, cycle: { erlang: 100 %, stages: 6 } }
`,
};

export const COVERAGE_LINES = [PRESSES, SLOW_STORE, RARE_STOPS, BEHIND_AN_OVEN] as const;

export interface Truth {
  readonly perMin: number;
  readonly held: number;
  readonly uptimes: readonly number[];
  /** Products made up to a time, on average. */
  readonly madeBy: (minutes: number) => number;
}

const LONG_HOURS = 200;

/** @param runs of each kind */
export function truthOf(line: CoverageLine, runs: number): Truth {
  const long = plantOf(line.file(line.warmUpHours + LONG_HOURS));
  const short = plantOf(line.file(line.horizonHours));
  const after = Array.from({ length: runs }, (_, i) => settledOf(long, line, `truth/${line.name}/${i}`));
  const kept = Array.from({ length: 10 * runs }, (_, i) => playReplication(short, `ramp/${line.name}/${i}`, 2));
  const meanOf = (values: readonly number[]): number => total(values) / values.length;
  return {
    perMin: meanOf(after.map(({ perMin }) => perMin)),
    held: meanOf(after.map(({ held }) => held)),
    uptimes: (after[0]?.uptimes ?? []).map((_, m) => meanOf(after.map(({ uptimes }) => uptimes[m] ?? Number.NaN))),
    madeBy: (minutes) =>
      meanOf(kept.map(({ made, grid: { stepMin } }) => made[Math.round(minutes / stepMin) - 1] ?? Number.NaN)),
  };
}

function settledOf(plant: Plant, { warmUpHours }: CoverageLine, seed: string) {
  const { program, horizonTicks } = plant;
  const warmUp = Math.round((horizonTicks * warmUpHours) / (warmUpHours + LONG_HOURS));
  const [before, run] = [simulate(program, { horizonTicks: warmUp, seed }), simulate(program, { horizonTicks, seed })];
  const ticks = horizonTicks - warmUp;
  const last = program.machine.count - 1;
  const added = (of: (totals: typeof run.totals) => number): number => of(run.totals) - of(before.totals);
  return {
    perMin: added(({ cycles }) => cycles[last] ?? 0) / (LONG_HOURS * 60),
    held: added(({ holdUpTicks }) => total(holdUpTicks)) / ticks,
    uptimes: program.network.machines.map(
      (_, m) => added(({ stateTicks }) => stateTicks[m * STATE_COUNT + RUNNING] ?? 0) / ticks,
    ),
  };
}

/** By figure: experiments with an interval, and of those the ones that held the truth. */
export type Held = Map<string, { held: number; printed: number; bias: number }>;

export function heldIn(
  line: CoverageLine,
  truth: Truth,
  times: number,
  until: ReplicationsAsked["until"] = null,
): Held {
  const { program, horizonTicks } = plantOf(line.file(line.horizonHours));
  const held: Held = new Map();
  for (let i = 0; i < times; i++) {
    // The rules were settled on `experiment/`; what is published is of seeds that they have not seen.
    const seed = `fresh/${line.name}/${i}`;
    const asked = askFor(program.network, { most: line.replications, until, seed });
    let collected: Collected = NONE_COLLECTED;
    for (let r = 1; r <= asked.most && !collected.isEnough; r++) {
      collected = withNext(collected, playReplication({ program, horizonTicks }, seed, r), asked);
    }
    const { replications } = summariseReplications(collected, asked);
    const note = (
      figure: string,
      found: { mean: number; ci95: readonly [number, number] | null } | null,
      known: number,
    ) => {
      const own = held.get(figure) ?? { held: 0, printed: 0, bias: 0 };
      held.set(figure, own);
      if (found?.ci95 == null) return;
      own.printed += 1;
      own.bias += found.mean / known - 1;
      if (found.ci95[0] <= known && known <= found.ci95[1]) own.held += 1;
    };
    const { loss_counted_to_min: end } = replications;
    note("settled output", replications.settled_output_per_min, truth.perMin);
    note("hold-up", replications.hold_up_settled, truth.held);
    for (const [m, { id, uptime }] of replications.machines.entries()) {
      note(`uptime of ${id}`, uptime, truth.uptimes[m] ?? Number.NaN);
    }
    note("loss", replications.ramp_up_loss, end === null ? Number.NaN : truth.perMin * end - truth.madeBy(end));
  }
  return held;
}

export interface PrintedRow {
  readonly line: string;
  readonly figure: string;
  readonly of: number;
  readonly printed: number;
  readonly held: number;
  /** By `--until` rather than a number of replications. */
  readonly isUntil: boolean;
}

/** How many of the printed must hold: 93 %, less what chance takes of so few in one of a thousand cases. */
export function leastOf({ printed }: Pick<PrintedRow, "printed">): number {
  return 0.93 - (3.1 * Math.sqrt(0.93 * 0.07)) / Math.sqrt(Math.max(1, printed));
}

export function heldRows({ name }: CoverageLine, held: Held, of: number, isUntil = false): PrintedRow[] {
  return [...held].map(([figure, { held: holding, printed }]) => ({
    line: name,
    figure,
    of,
    printed,
    held: holding,
    isUntil,
  }));
}

/** Of the settled output, to within two per cent. */
export function untilRows(line: CoverageLine, truth: Truth, times: number): PrintedRow[] {
  const until = { figure: "settled_output_per_min", share: 0.02 } as const;
  const held = heldIn({ ...line, replications: 400 }, truth, times, until);
  return heldRows(line, held, times, true).filter(({ figure }) => figure === "settled output");
}

export function coverageTable(rows: readonly PrintedRow[], times: number): string {
  const cells = rows.map(({ line, figure, of, printed, held, isUntil }) => [
    line,
    isUntil ? `${figure}, --until 2 %` : figure,
    `${((100 * printed) / of).toFixed(0)} % of ${of}`,
    printed === 0 ? "" : `${((100 * held) / printed).toFixed(1)} %`,
  ]);
  const table = [["line", "figure", "printed", "hold the truth"], ["---", "---", "---:", "---:"], ...cells];
  return [
    `How often printed 95 % intervals hold, on lines that nothing was tuned to, in ${times} experiments each (a quarter with \`--until\`, and of single runs):`,
    table.map((row) => `| ${row.join(" | ")} |`).join("\n"),
  ].join("\n\n");
}
