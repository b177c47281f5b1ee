/** What it brings to relieve a bottleneck: the plant run again with that alone faster. */
import { analyse } from "../../analysis/analyse.ts";
import { solveFlow } from "../../analysis/flow/flow.ts";
import type { Bottleneck, Cure } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { type Run, simulate } from "../../engine/simulate.ts";
import { expand } from "../../network/expand.ts";
import type { Network } from "../../network/network.ts";
import { prepareNetwork } from "../../network/prepare.ts";
import { exact, ONE, type Rational, rational } from "../../quantity/rational.ts";
import { fedAsNeeded } from "../../scenario/as-needed.ts";
import type { Feed, Scenario } from "../../scenario/scenario.ts";
import { flowUnlessProved } from "../second-opinion.ts";
import { fed } from "./sensitivity.ts";

const HALF_MORE = rational("3/2");

/** The reports name no more. */
const MOST_CURED = 3;

/** Of all runs together, as the first takes. */
const MOST_WORK = 3e8;

/** With the cures of the greatest bottlenecks; as it is where there are none, or where the runs would take long. */
export function withCures(result: Result, scenario: Scenario, run: Run): Result {
  const work = MOST_CURED * run.steppedTicks * run.program.sweepKind.length;
  const { bottlenecks, output } = result;
  const settled = output.settled_per_min;
  if (bottlenecks === null || settled === null || run.program.random !== null || work > MOST_WORK) return result;
  // Kinds that are lost at one place have one cure.
  const cures = new Map<string, Cure | null>();
  const cured = bottlenecks.map((one) => {
    const key = JSON.stringify([one.code, one.element]);
    if (!cures.has(key) && cures.size < MOST_CURED) cures.set(key, cureOf(one, scenario, rational(settled)));
    const cure = cures.get(key) ?? null;
    return cure === null ? one : { ...one, cure };
  });
  return { ...result, bottlenecks: cured };
}

/** `null` where more speed is no remedy, or where the line so changed has no exact output within the horizon. */
function cureOf(one: Bottleneck, scenario: Scenario, beforePerMin: Rational): Cure | null {
  const relieved = relieve(one, { ...scenario, tickS: "auto" });
  if (relieved === null) return null;
  const prepared = prepareNetwork(relieved.scenario, relieved.network);
  if (!prepared.ok) return null;
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks, seed: scenario.seed });
  const flow = flowUnlessProved(run, () => solveFlow(prepared.network));
  const { output, bottlenecks } = analyse(run, relieved.scenario, flow).result;
  if (output.settled_per_min === null) return null;
  const [next] = bottlenecks ?? [];
  return {
    change: relieved.change,
    settled_per_min: output.settled_per_min,
    gain_per_min: exact(rational(output.settled_per_min).sub(beforePerMin)),
    next: next === undefined ? null : placeOf(next),
  };
}

function placeOf({ code, element, alike, item, outlet }: Bottleneck): NonNullable<Cure["next"]> {
  return { code, element, alike, item, ...(outlet === undefined ? {} : { outlet }) };
}

interface Relieved {
  readonly scenario: Scenario;
  readonly network: Network;
  readonly change: Cure["change"];
}

function relieve({ code, element, alike }: Bottleneck, scenario: Scenario): Relieved | null {
  const all = [element, ...alike];
  const half = (changed: Scenario): Relieved => ({
    scenario: changed,
    network: expand(changed),
    change: "half-more",
  });
  switch (code) {
    case "short-feed":
      return half(all.reduce((so, id) => fed(so, id, HALF_MORE), scenario));
    case "slow-unloading":
      return half({
        ...scenario,
        feeds: scenario.feeds.map((feed) => (all.includes(feed.id) ? unloadedFaster(feed) : feed)),
      });
    case "slow-machine":
    case "at-times":
      return atMoreSpeed(scenario, new Set(all));
    case "belt":
      return { scenario, network: withFasterBelt(expand(scenario), element), change: "half-more" };
    default:
      return null;
  }
}

function unloadedFaster(feed: Feed): Feed {
  return {
    ...feed,
    profile: feed.profile.map((step) => ({ ...step, ratePerMin: step.ratePerMin.mul(HALF_MORE) })),
  };
}

/** Where the file slows one of them down, at 100 %. */
function atMoreSpeed(scenario: Scenario, all: ReadonlySet<string>): Relieved {
  const isSlowed = scenario.machines.some(({ members, speeds }) =>
    members.some((id, i) => all.has(id) && (speeds[i] ?? ONE).compare(ONE) < 0),
  );
  const faster = (speed: Rational): Rational => {
    if (!isSlowed) return speed.mul(HALF_MORE);
    return speed.compare(ONE) < 0 ? ONE : speed;
  };
  const machines = scenario.machines.map((group) => ({
    ...group,
    speeds: group.speeds.map((speed, i) => (all.has(group.members[i] ?? "") ? faster(speed) : speed)),
  }));
  const changed = fedAsNeeded({ ...scenario, machines });
  return { scenario: changed, network: expand(changed), change: isSlowed ? "full-speed" : "half-more" };
}

function withFasterBelt(network: Network, id: string): Network {
  const connections = network.connections.map((one) =>
    one.id === id && one.belt !== null
      ? {
          ...one,
          belt: {
            ...one.belt,
            ratePerMin: one.belt.ratePerMin.mul(HALF_MORE),
            transitMin: one.belt.transitMin.div(HALF_MORE),
          },
        }
      : one,
  );
  return { ...network, connections };
}
