/** Chains as scenarios, the tactics to play on them, and what their settled output swings by. */

import { expect } from "vitest";
import { amountUpTo, eventsUpTo } from "../../src/analysis/events.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { expand } from "../../src/network/expand.ts";
import { prepareNetwork } from "../../src/network/prepare.ts";
import { compilePriming } from "../../src/network/priming.ts";
import { applyTactic } from "../../src/network/tactics/apply.ts";
import { ONE, type Rational, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { DEFAULT_FLOOR } from "../../src/scenario/floor.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { NO_RANDOM } from "../../src/scenario/random-elements.ts";
import type { BeltOrNone, MachineGroup, Scenario } from "../../src/scenario/scenario.ts";
import type { Tactic } from "../../src/scenario/tactic.ts";
import type { Amount, Prefill } from "../../src/scenario/tactic-prefill.ts";
import { outcomeOf, type TacticOutcome } from "../../src/study/outcome.ts";
import { type FullyPlayed, NO_TACTIC, play } from "../../src/study/play.ts";
import { feedOf, type RandomChain } from "../analysis/random-chains.ts";
import { SHORT_BELT_PLACES } from "../analysis/runs.ts";
import { finishes } from "../engine/lines.ts";
import { plainFeed } from "../plain-feed.ts";

export function tactic(parts: Partial<Tactic>): Tactic {
  return { ...NO_TACTIC, id: "tactic", ...parts };
}

export function prefill(amounts: Prefill["amounts"], more: Partial<Prefill> = {}): Partial<Tactic> {
  return { prefill: { amounts, belts: false, byHandPerMin: null, while: "stopped", ...more } };
}

export function inEvery(amount: Amount): Prefill["amounts"] {
  return { among: { which: "all" }, amount };
}

export interface ChainGiven {
  readonly count: number;
  /** Items/min of each machine, one item a cycle. */
  readonly need?: string;
  readonly room?: number;
  readonly feed?: Rational;
  readonly belt?: BeltOrNone;
  readonly minutes?: string;
}

/** Equal machines, m-1 … m-count, fed what they need unless told otherwise, belts left out unless given. */
export function chainOf({ count, need = "24", room = 60, feed, belt = null, minutes = "60" }: ChainGiven): Scenario {
  return {
    ...EMPTY,
    horizonMin: rational(minutes),
    feeds: [steadyFeed(feed ?? rational(need).mul(whole(count)))],
    machines: [
      {
        ...group("m", 1, room),
        members: Array.from({ length: count }, (_, i) => `m-${i + 1}`),
        cycleMin: ONE.div(rational(need)),
        speeds: Array.from({ length: count }, () => ONE),
      },
    ],
    lines: [{ ...LINE, to: ["m"], belt, branch: belt, collect: belt }],
  };
}

/** Machines m1, m2 … of the random chain's needs and rooms. */
export function scenarioOf(given: RandomChain, minutes = "120"): Scenario {
  const feed = feedOf(given);
  const short = { ratePerMin: feed.mul("3/2"), capacity: SHORT_BELT_PLACES, transitMin: ZERO, metres: null };
  const belt = given.belts === "none" ? null : short;
  return {
    ...EMPTY,
    horizonMin: rational(minutes),
    feeds: [steadyFeed(feed)],
    machines: given.machines.map(({ needPerMin, takes, room }, k) => ({
      ...group(`m${k + 1}`, takes, room),
      cycleMin: whole(takes).div(whole(needPerMin)),
      takes: [{ item: "pouch", count: takes }],
    })),
    lines: [
      {
        ...LINE,
        to: given.machines.map((_, k) => `m${k + 1}`),
        belt,
        branch: belt,
        collect: belt,
        dividers: given.rule === "even" ? "even" : "branch-first",
      },
    ],
  };
}

const LINE = {
  id: "line",
  layout: "chain",
  from: ["feed"],
  dividers: "even",
  merges: "even",
  end: { kind: "stop" },
} as const;

export const EMPTY: Scenario = {
  title: "Test",
  seed: "1",
  horizonMin: ONE,
  horizonIsAuto: false,
  tickS: "auto",
  feeds: [],
  machines: [],
  lines: [],
  outlets: [],
  limits: { holdUp: [], dwell: [] },
  floor: DEFAULT_FLOOR,
  lengthUnit: "m",
  random: NO_RANDOM,
  wanted: [],
  means: PLAIN_MEANS,
  costs: null,
  tactics: [],
};

function steadyFeed(ratePerMin: Rational) {
  return { ...plainFeed("feed", "pouch", [{ fromMin: ZERO, ratePerMin }]), ofNeed: null, surge: null };
}

function group(id: string, makes: number, room: number): MachineGroup {
  return {
    id,
    members: [id],
    cycleMin: ONE,
    takes: [{ item: "pouch", count: 1 }],
    makes: [{ item: "carton", count: makes }],
    infeed: [{ item: "pouch", count: room }],
    outfeed: [{ item: "carton", count: makes }],
    speeds: [ONE],
    footprint: DEFAULT_FLOOR.machine,
  };
}

export interface Outcome extends FullyPlayed {
  readonly outcome: TacticOutcome;
  /** Lost against running at the settled output from the first moment; the test fails where nothing has settled. */
  readonly lost: number;
  readonly settledMin: number;
}

export function played(scenario: Scenario, parts: Partial<Tactic> = {}): Outcome {
  const one = play(scenario, tactic(parts));
  const outcome = outcomeOf(one);
  expect(outcome.proved).toBe(true);
  return { ...one, outcome, lost: outcome.ramp_up_loss ?? NaN, settledMin: outcome.settling_min ?? NaN };
}

/** By how many items the output is now ahead of, now behind the settled rate, over the last whole period. */
export function swingOf({ result, output }: FullyPlayed): number {
  const { endTick, minutesPerTick } = output;
  const events = eventsUpTo(output.made, endTick);
  const periodTicks = Math.round((result.settling.period_min ?? NaN) / minutesPerTick);
  const perTick = amountBetween(output, endTick - periodTicks, endTick) / periodTicks;
  let behind = 0;
  let least = 0;
  let most = 0;
  let tick = endTick - periodTicks;
  for (let i = 0; i < events.count; i++) {
    const at = events.tick[i] ?? 0;
    if (at <= endTick - periodTicks || at > endTick) continue;
    behind += (at - tick) * perTick;
    most = Math.max(most, behind);
    behind -= events.amount[i] ?? 0;
    least = Math.min(least, behind);
    tick = at;
  }
  return most - least;
}

function amountBetween({ made }: FullyPlayed["output"], fromTick: number, toTick: number): number {
  return amountUpTo(made, toTick) - amountUpTo(made, fromTick);
}

/** Ticks at which each machine finishes cycles, all ticks stepped. */
export function finishesOf(scenario: Scenario, parts: Partial<Tactic>): number[][] {
  const { network, priming } = applyTactic(scenario, expand(scenario), tactic(parts));
  const prepared = prepareNetwork(scenario, network);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, horizonTicks } = prepared;
  const run = simulate(program, {
    horizonTicks,
    priming: compilePriming(program, priming),
    check: true,
    stepAll: true,
  });
  return network.machines.map(({ id }) => finishes(run, id));
}
