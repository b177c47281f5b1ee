/**
 * How often a comparison names a winner among equals, on the engine. Equal in truth, and with luck of their own: two tactics that
 * fill the one or the other of two like halves of a plant; and two layouts that are one, but for the machines' names, by which streams
 * of chance are called. Each comparison has replications of its own; who finds nothing goes on to as many as the
 * comparison names, and looks again.
 */
import { mean } from "../../src/analysis/statistics/moments.ts";
import { compilePriming } from "../../src/network/priming.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import type { Tactic } from "../../src/scenario/tactic.ts";
import { studySameLuck } from "../../src/study/luck/same-luck.ts";
import type { LuckFigure } from "../../src/study/luck-results.ts";
import { NO_TACTIC, tryTactic } from "../../src/study/play.ts";
import { playReplication, type ReplicationGrid } from "../../src/study/replications/replication.ts";
import type { VariantRun } from "../../src/study/variant-outcome.ts";

export interface FalseWinners {
  readonly what: string;
  readonly of: number;
  /** At the first look, and at the first or the second. */
  readonly atFirst: number;
  readonly goingOn: number;
}

const FIRST = 10;
/** Whoever is told of more goes on to so many. */
const MOST = 40;

const halves = (names: readonly [string, string]): string => `
title: Two like halves
horizon: 40 min
tick: 500 ms
feeds: { blanks: { item: blank, rate: 24/min } }
machines:
${names.map((name) => `  ${name}: { count: 2, cycle: 8 s, takes: { blank: 1 }, makes: { part: 1 }, infeed: 12, outfeed: 2 }`).join("\n")}
lines:
  main: { layout: tree, from: blanks, to: [${names.join(", ")}], belt: { length: 2 m, speed: 24 m/min, pitch: 500 mm } }
tactics:
  left: { prefill: { ${names[0]}: 12 } }
  right: { prefill: { ${names[1]}: 12 } }
random:
  machines:
${names.map((name) => `    ${name}: { cycle: { erlang: 100 %, stages: 3 }, micro-stops: { chance: 4 %, lasting: { exponential: 30 s } } }`).join("\n")}
`;

function scenarioOf(text: string): Scenario {
  const read = readScenario(text, { name: "halves" });
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.scenario;
}

interface Variant {
  readonly id: string;
  /** Brought to what a comparison keeps, without the rest of a run's result. */
  readonly play: (seed: string, replication: number) => { readonly run: VariantRun; readonly grid: ReplicationGrid };
}

function variantOf(scenario: Scenario, tactic: Tactic, id: string): Variant {
  const { primed, prepared } = tryTactic(scenario, tactic);
  const priming = compilePriming(prepared.program, primed.priming);
  return {
    id,
    play: (seed, replication) => {
      const { grid, made, held, stops } = playReplication(prepared, seed, replication, priming);
      const marks = Math.floor(grid.points / grid.markEvery);
      const heldTo = Float64Array.from({ length: marks }, (_, m) =>
        mean(held.subarray(m * grid.markEvery, (m + 1) * grid.markEvery)),
      );
      return { run: { made, held: heldTo, stops, outcome: NOTHING_ELSE, evenness: null }, grid };
    },
  };
}

const NOTHING_ELSE: VariantRun["outcome"] = {
  items_handled: 0,
  first_product_min: null,
  hold_up_peak: 0,
  over_limit_min: null,
  over_limit_items: null,
  tick_s: "1/2",
  feed_ends: false,
  made: { min_10: null, min_30: null, min_60: null },
  dwell_mean_min: null,
  dwell_longest_min: null,
};

export function falseWinnersOfTactics(times: number, seed = "winners"): FalseWinners {
  const scenario = scenarioOf(halves(["a", "b"]));
  const variants = [NO_TACTIC, ...scenario.tactics].map((tactic) => variantOf(scenario, tactic, tactic.id));
  return counted("equal tactics", times, variants, NO_TACTIC.id, seed);
}

export function falseWinnersOfLayouts(times: number, seed = "winners"): FalseWinners {
  const names = [["a", "b"] as const, ["c", "d"] as const];
  const variants = names.map((own, i) => variantOf(scenarioOf(halves(own)), NO_TACTIC, `layout-${i + 1}`));
  return counted("equal layouts", times, variants, null, seed);
}

function counted(
  what: string,
  times: number,
  variants: readonly Variant[],
  baseline: string | null,
  seed: string,
): FalseWinners {
  let [atFirst, goingOn] = [0, 0];
  for (let i = 0; i < times; i++) {
    const runs: VariantRun[][] = variants.map(() => []);
    const lookAfter = (n: number, look: number): LuckFigure => {
      let grid: ReplicationGrid | null = null;
      for (const [v, { play }] of variants.entries()) {
        const own = runs[v] ?? [];
        while (own.length < n) {
          const played = play(`${seed}/${i}`, own.length + 1);
          own.push(played.run);
          grid = played.grid;
        }
      }
      if (grid === null) throw new Error("nothing played");
      const entrants = variants.map(({ id }, v) => ({ id, runs: runs[v] ?? [] }));
      const { luck } = studySameLuck(entrants, grid, { seed, baseline, look });
      const loss = luck.figures.find(({ figure }) => figure === "ramp_up_loss");
      if (loss === undefined) throw new Error("no loss");
      return loss;
    };
    // Only told apart from every other is one the winner.
    const { told_apart: isTold, about } = lookAfter(FIRST, 1);
    if (isTold) atFirst += 1;
    if (isTold) goingOn += 1;
    else if (about !== null && lookAfter(Math.min(MOST, Math.max(FIRST + 1, about)), 2).told_apart) goingOn += 1;
  }
  return { what, of: times, atFirst, goingOn };
}

/** So many of a hundred may be, and what chance allows beyond it in one of a thousand such counts. */
export function mostFalse(times: number): number {
  return 0.05 * times + 3.1 * Math.sqrt(0.05 * 0.95 * times);
}

export function falseWinnersText({ what, of, atFirst, goingOn }: FalseWinners): string {
  const share = (count: number): string => `${((100 * count) / of).toFixed(1)} %`;
  return `Winners among ${what}, ${of} comparisons of ${FIRST} replications: ${atFirst}, ${share(atFirst)}; going on to as many as it names, ${MOST} at most: ${goingOn}, ${share(goingOn)}.`;
}
