/** From a scenario to what can be simulated: expanded, inspected, given its tick and compiled. */
import { exact, type Rational } from "../quantity/rational.ts";
import { formatDuration } from "../quantity/units.ts";
import { createFinding, type FileFinding, type Locate, type Path } from "../scenario/file-finding.ts";
import { MAX_RUN_STEPS, MAX_TICKS } from "../scenario/file-limits.ts";
import type { ArgsOf, Code } from "../scenario/messages.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { compile, TooFineError } from "./compile.ts";
import { compileRandom } from "./compile-random.ts";
import { expand } from "./expand.ts";
import { inspect } from "./inspect.ts";
import type { Network } from "./network.ts";
import type { Program } from "./program.ts";
import { autoTickS, longestTickS, shortestRandomCycleMin, ticksWithin, tooFastFor } from "./tick.ts";

export type Prepared =
  | {
      readonly ok: true;
      readonly network: Network;
      readonly program: Program;
      readonly horizonTicks: number;
      readonly warnings: readonly FileFinding[];
    }
  | { readonly ok: false; readonly findings: readonly FileFinding[] };

const NOWHERE: Locate = () => null;

/** @param locate where keys stand in the file, as the reader gives it; without it, findings have no position */
export function prepare(scenario: Scenario, locate: Locate = NOWHERE): Prepared {
  return prepareNetwork(scenario, expand(scenario), locate);
}

/** The same for a network that is not just what the scenario expands into, such as one primed by a tactic. */
export function prepareNetwork(scenario: Scenario, given: Network, locate: Locate = NOWHERE): Prepared {
  const network = withinHorizon(given, scenario.horizonMin);
  const inspected = [
    ...inspect(scenario, network, locate),
    ...leftOutSteps(scenario, locate),
    ...leftOutVehicles(scenario, locate),
  ];
  const refuse = <C extends Code>(code: C, args: ArgsOf<C>, path: Path): Prepared => ({
    ok: false,
    findings: [...inspected, createFinding(code, args, path, locate(path))],
  });
  if (inspected.some(({ severity }) => severity === "error")) return { ok: false, findings: inspected };

  const elements = network.connections.length + network.machines.length;
  const tickS = scenario.tickS === "auto" ? autoTickFor(scenario, network, elements) : scenario.tickS;
  const tick = `${exact(tickS)} s`;
  const tooFast = tooFastFor(tickS, network);
  if (tooFast) {
    const limit = `${exact(longestTickS(network))} s`;
    return refuse("tick-too-long", { found: tick, limit, element: tooFast.id }, ["tick"]);
  }
  const horizonTicks = ticksWithin(scenario.horizonMin, tickS);
  if (horizonTicks < 1) {
    return refuse("horizon-too-short", { found: formatDuration(scenario.horizonMin), tick }, ["horizon"]);
  }
  if (isTooLong(horizonTicks, elements)) {
    return refuse("run-too-long", { ticks: String(horizonTicks), elements: String(elements) }, ["horizon"]);
  }
  const random = compileRandom(scenario, network, tickS);
  try {
    return { ok: true, network, program: compile(network, tickS, random), horizonTicks, warnings: inspected };
  } catch (error) {
    if (error instanceof TooFineError) return refuse("too-fine", { element: error.element }, ["tick"]);
    throw error;
  }
}

function isTooLong(horizonTicks: number, elements: number): boolean {
  return horizonTicks > MAX_TICKS || horizonTicks * elements > MAX_RUN_STEPS;
}

/** What chance asks for is left out where the run would be too long with it. */
function autoTickFor(scenario: Scenario, network: Network, elements: number): Rational {
  const forChance = autoTickS(network, shortestRandomCycleMin(scenario, network));
  return isTooLong(ticksWithin(scenario.horizonMin, forChance), elements) ? autoTickS(network) : forChance;
}

/** Without the feed steps that begin after the horizon: neither the simulation nor the flow solution is to see them. */
function withinHorizon(network: Network, horizonMin: Rational): Network {
  const feeds = network.feeds.map((feed) => ({
    ...feed,
    profile: feed.profile.filter(({ fromMin }) => fromMin.compare(horizonMin) < 0),
  }));
  return { ...network, feeds };
}

function leftOutVehicles({ feeds, horizonMin }: Scenario, locate: Locate): FileFinding[] {
  return feeds.flatMap(({ id, batch }) => {
    if (batch === null || batch.firstMin.compare(horizonMin) < 0) return [];
    const path = ["feeds", id, "batch", "first"];
    const args = { found: formatDuration(batch.firstMin), horizon: formatDuration(horizonMin) };
    return [createFinding("vehicle-after-horizon", args, path, locate(path))];
  });
}

function leftOutSteps({ feeds, horizonMin }: Scenario, locate: Locate): FileFinding[] {
  return feeds.flatMap(({ id, profile }) => {
    const step = profile.findIndex(({ fromMin }) => fromMin.compare(horizonMin) >= 0);
    const first = profile[step];
    if (first === undefined) return [];
    const path = ["feeds", id, "profile", step];
    const args = { found: formatDuration(first.fromMin), horizon: formatDuration(horizonMin) };
    return [createFinding("step-after-horizon", args, path, locate(path))];
  });
}
