/** What each start of the line makes while something stops in the middle of its ramp-up: there the worth of reserve shows. */
import { amountUpTo, trainOf } from "../../analysis/events.ts";
import { outputPerCycle } from "../../analysis/makers.ts";
import { simulate } from "../../engine/simulate.ts";
import type { FeedElement, Network } from "../../network/network.ts";
import { prepareNetwork } from "../../network/prepare.ts";
import { compilePriming, type Intervention } from "../../network/priming.ts";
import { approximate, whole, ZERO } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { tryTactic, UnplayableError } from "../play.ts";
import type { Stops, TacticResult } from "./results.ts";

const FROM = whole(5);
const TO = whole(10);

/** Vehicles are unloaded at their own rate, so that such feeds do not stop. */
export function stopsOf(network: Network): Stops | null {
  const machine = network.machines[0]?.id;
  if (machine === undefined) return null;
  const feeds = network.feeds.filter(({ batch }) => batch === null).map(({ id }) => id);
  return { machine, feeds, from_min: approximate(FROM), to_min: approximate(TO) };
}

export function madeWhileStopped(
  scenario: Scenario,
  tactic: Tactic,
  stops: Stops | null,
): TacticResult["made_while_stopped"] {
  const made = (machine: string | null, feeds: readonly string[]): number | null => {
    try {
      return madeWith({ ...scenario, horizonMin: TO }, tactic, machine, feeds);
    } catch (error) {
      if (error instanceof UnplayableError) return null;
      throw error;
    }
  };
  return {
    machine: stops === null ? null : made(stops.machine, []),
    feeds: stops === null || stops.feeds.length === 0 ? null : made(null, stops.feeds),
  };
}

function madeWith(scenario: Scenario, tactic: Tactic, machine: string | null, feeds: readonly string[]): number {
  const { primed } = tryTactic(scenario, tactic);
  const isOwn = new Set(scenario.feeds.map(({ id }) => id));
  // A second feed is part of the feed.
  const isStopped = ({ id }: FeedElement): boolean => feeds.includes(id) || (feeds.length > 0 && !isOwn.has(id));
  const network = {
    ...primed.network,
    feeds: primed.network.feeds.map((feed) => (isStopped(feed) ? { ...feed, profile: stopped(feed.profile) } : feed)),
  };
  const prepared = prepareNetwork(scenario, network);
  if (!prepared.ok) throw new UnplayableError(`the tactic ${tactic.id}`, prepared.findings);
  const { program, horizonTicks } = prepared;
  const interventions = [
    ...primed.priming.interventions.filter(({ whenFull, afterMin }) => whenFull !== null || afterMin.compare(TO) < 0),
    ...(machine === null ? [] : [stopOf(machine)]),
  ];
  const priming = compilePriming(program, { ...primed.priming, interventions });
  const run = simulate(program, { horizonTicks, seed: scenario.seed, priming, stepAll: true });
  const perCycle = outputPerCycle(network);
  const made = trainOf(run, (m) => perCycle[m] ?? 0);
  const fromTick = Math.floor(approximate(FROM.div(program.tickS.div(60n))) + 1e-6);
  return amountUpTo(made, horizonTicks) - amountUpTo(made, fromTick);
}

function stopOf(machine: string): Intervention {
  return { whenFull: null, afterMin: FROM, actions: [{ do: "stop", machines: [machine] }] };
}

function stopped(profile: FeedElement["profile"]): FeedElement["profile"] {
  return [...profile.filter(({ fromMin }) => fromMin.compare(FROM) < 0), { fromMin: FROM, ratePerMin: ZERO }];
}
