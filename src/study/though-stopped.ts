/** What each start of the line makes though something stops in the middle of its ramp-up: there the worth of reserve shows. */
import { amountUpTo } from "../analysis/events.ts";
import { outputPerCycle } from "../analysis/products.ts";
import { eventsOf } from "../analysis/events.ts";
import { simulate } from "../engine/simulate.ts";
import type { FeedElement, Network } from "../network/network.ts";
import { prepareNetwork } from "../network/prepare.ts";
import { compilePriming, type Intervention } from "../network/priming.ts";
import { approximate, whole, ZERO } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tactic } from "../scenario/tactic.ts";
import { tryTactic, UnplayableError } from "./play.ts";
import type { Stops } from "./results.ts";

const FROM = whole(5);
const TO = whole(10);
const COUNTED_MIN = 60;

/** Of a line whose vehicles are unloaded at their own rate the feed is left as it is. */
export function stopsOf(network: Network): Stops | null {
  const machine = network.machines[0]?.id;
  if (machine === undefined) return null;
  return {
    machine,
    feeds: network.feeds.filter(({ batch }) => batch === null).map(({ id }) => id),
    from_min: approximate(FROM),
    to_min: approximate(TO),
    counted_up_to_min: COUNTED_MIN,
  };
}

/** Products up to the end of what is counted, without a stop, with the machine's and with the feeds'; `null` where there is none. */
export interface MadeThough {
  readonly machine: number | null;
  readonly feeds: number | null;
}

export function madeThough(scenario: Scenario, tactic: Tactic, stops: Stops | null): MadeThough {
  if (stops === null) return { machine: null, feeds: null };
  const hour = { ...scenario, horizonMin: whole(COUNTED_MIN) };
  const made = (changed: Changed): number | null => {
    try {
      return madeWith(hour, tactic, changed);
    } catch (error) {
      if (error instanceof UnplayableError) return null;
      throw error;
    }
  };
  return {
    machine: made({ machine: stops.machine, feeds: [] }),
    feeds: stops.feeds.length === 0 ? null : made({ machine: null, feeds: stops.feeds }),
  };
}

interface Changed {
  readonly machine: string | null;
  readonly feeds: readonly string[];
}

function madeWith(scenario: Scenario, tactic: Tactic, { machine, feeds }: Changed): number {
  const { primed } = tryTactic(scenario, tactic);
  const isStopped = ({ id }: FeedElement): boolean =>
    feeds.length > 0 && (feeds.includes(id) || (!scenario.feeds.some((own) => own.id === id) && !primed.handFeeds.includes(id)));
  const network = {
    ...primed.network,
    feeds: primed.network.feeds.map((feed) => (isStopped(feed) ? { ...feed, profile: paused(feed.profile) } : feed)),
  };
  const prepared = prepareNetwork(scenario, network);
  if (!prepared.ok) throw new UnplayableError(`the tactic ${tactic.id}`, prepared.findings);
  const { program, horizonTicks } = prepared;
  const interventions = [
    ...primed.priming.interventions.filter((one) => one.whenFull !== null || one.afterMin.compare(scenario.horizonMin) < 0),
    ...(machine === null ? [] : stopOf(machine)),
  ];
  const priming = compilePriming(program, { ...primed.priming, interventions });
  const run = simulate(program, { horizonTicks, seed: scenario.seed, priming, stepAll: true });
  const perCycle = outputPerCycle(network);
  const leftMin = COUNTED_MIN - approximate(primed.startsAfterMin);
  const ticks = Math.floor(leftMin / approximate(program.tickS.div(60n)) + 1e-6);
  return amountUpTo(eventsOf(run, (m) => perCycle[m] ?? 0), ticks);
}

function stopOf(machine: string): Intervention[] {
  return [
    { whenFull: null, afterMin: FROM, actions: [{ do: "stop", machines: [machine] }] },
    { whenFull: null, afterMin: TO, actions: [{ do: "resume", machines: [machine] }] },
  ];
}

function paused(profile: FeedElement["profile"]): FeedElement["profile"] {
  const then = profile.findLast(({ fromMin }) => fromMin.compare(TO) <= 0)?.ratePerMin ?? ZERO;
  return [
    ...profile.filter(({ fromMin }) => fromMin.compare(FROM) < 0),
    { fromMin: FROM, ratePerMin: ZERO },
    { fromMin: TO, ratePerMin: then },
    ...profile.filter(({ fromMin }) => fromMin.compare(TO) > 0),
  ];
}
