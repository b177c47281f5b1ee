/** A chain lengthened machine by machine, its feed growing with it and its belts staying as they are. */
import { approximate, exact, type Rational, rational, sum, whole } from "../../quantity/rational.ts";
import { fedAsNeeded } from "../../scenario/as-needed.ts";
import type { ChainLine, MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { oneAfterAnother } from "../one-after-another.ts";
import { stopsAtMin } from "../outcome.ts";
import { NO_TACTIC, play, tryOut } from "../play.ts";
import { paceOf } from "../recommended/made-up-to.ts";
import { brokenLimits } from "../recommended/starts.ts";
import type { Growth, GrowthStep } from "../results.ts";

/** Why a scenario has no chain to lengthen. */
export type GrowthRefusal = "no-chain" | "several-chains" | "several-groups";

export interface GrowingChain {
  readonly line: ChainLine;
  readonly group: MachineGroup;
  /** The fewest machines it can be shortened to. */
  readonly least: number;
}

export interface GrowthOptions {
  readonly onProgress?: (done: number, of: number) => void;
}

/** The one chain of the scenario, if it feeds one whole group of machines. */
export function growingGroup(scenario: Scenario): GrowingChain | GrowthRefusal {
  const chains = scenario.lines.filter((line) => line.layout === "chain");
  const [line] = chains;
  if (line === undefined) return "no-chain";
  if (chains.length > 1) return "several-chains";
  const groups = scenario.machines.filter(({ id }) => line.to.includes(id));
  const [group] = groups;
  if (group === undefined || groups.length > 1 || line.to.length > 1) return "several-groups";
  return { line, group, least: leastMembers(scenario, group) };
}

/** So many that no belt of another line leads to or from a machine that is not there. */
function leastMembers({ lines }: Scenario, { members }: MachineGroup): number {
  const ends = lines.flatMap((line) =>
    line.layout === "custom" ? line.belts.flatMap(({ from, to }) => [from, to]) : [...line.from, ...line.to],
  );
  return Math.max(1, ...ends.map((end) => members.indexOf(end) + 1));
}

/** Lengths of one chain, each to be run by itself: whoever runs which, and when, they come to the same. */
export interface Growing {
  /** With the horizon of all. */
  readonly scenario: Scenario;
  /** By place in the counts. @throws UnplayableError */
  readonly play: (place: number) => GrowthStep;
  /** @param sizes by place */
  readonly grown: (sizes: readonly GrowthStep[]) => Growth;
}

/**
 * @param counts numbers of machines, from few to many, none below the chain's least
 * @throws UnplayableError
 */
export function growChain(
  given: Scenario,
  chain: GrowingChain,
  counts: readonly number[],
  { onProgress }: GrowthOptions = {},
): Growth {
  const { play, grown } = growing(given, chain, counts);
  return grown(oneAfterAnother(counts.length, play, onProgress));
}

/** @throws UnplayableError */
export function growing(given: Scenario, { line, group }: GrowingChain, counts: readonly number[]): Growing {
  const lengthenedTo = (scenario: Scenario, count: number): Scenario => lengthened(scenario, line, group, count);
  const variants = counts.map((count) => (tried: Scenario) => settlesAt(tryOut(lengthenedTo(tried, count), NO_TACTIC)));
  const scenario = withHorizon(given, variants);
  return {
    scenario,
    play: (place) => {
      const count = counts[place] ?? 0;
      return growthStep(lengthenedTo(scenario, count), line, count);
    },
    grown: (sizes) => {
      const tooSmall = sizes.find(
        ({ headroom_per_min: headroom }) => headroom !== null && rational(headroom).compare(0) < 0,
      );
      const firstNot = sizes.findIndex(({ slower_for_good: isSlower, settling_min: at, limits_broken: broken }) => {
        return isSlower || at === null || broken.length > 0;
      });
      return {
        title: scenario.title,
        group: group.id,
        sizes,
        worth_up_to: (firstNot < 0 ? sizes : sizes.slice(0, firstNot)).at(-1)?.machines ?? null,
        too_small:
          tooSmall?.tightest_belt && tooSmall.tightest_rate_per_min !== null
            ? {
                belt: tooSmall.tightest_belt,
                from_machines: tooSmall.machines,
                rate_per_min: tooSmall.tightest_rate_per_min,
              }
            : null,
      };
    },
  };
}

/** Members and speeds repeat, feeds are scaled to as many machines. */
function lengthened(scenario: Scenario, line: ChainLine, group: MachineGroup, count: number): Scenario {
  const members = Array.from({ length: count }, (_, i) => `${group.id}-${i + 1}`);
  const speeds = members.map((_, i) => group.speeds[i % group.speeds.length] ?? whole(1));
  const grown = sum(speeds).div(sum(group.speeds));
  return fedAsNeeded({
    ...scenario,
    machines: scenario.machines.map((one) => (one === group ? { ...group, members, speeds } : one)),
    feeds: scenario.feeds.map((feed) =>
      line.from.includes(feed.id)
        ? { ...feed, profile: feed.profile.map((step) => ({ ...step, ratePerMin: step.ratePerMin.mul(grown) })) }
        : feed,
    ),
  });
}

function growthStep(scenario: Scenario, line: ChainLine, count: number): GrowthStep {
  const played = play(scenario, NO_TACTIC);
  const { result } = played;
  const own = result.lines.find(({ id }) => id === line.id);
  const kinds = new Set(own?.items.map(({ item }) => item));
  const machines = result.machines.filter(({ id }) => own?.machines.includes(id));
  const feeds = result.feeds.filter(({ id }) => line.from.includes(id));
  const needs = machines.map(({ infeed }) =>
    sum(infeed.flatMap((buffer) => (kinds.has(buffer.item) ? [rational(buffer.needs_per_min)] : []))),
  );
  const feed = sum(feeds.map(({ rate_per_min: ratePerMin }) => rational(ratePerMin)));
  const { settling, output, hold_up: holdUp } = result;
  const tightest = tightestBelt(line, needs);
  const stops = stopsAtMin(result);
  return {
    machines: count,
    needs_per_min: exact(sum(needs)),
    feed_per_min: exact(feed),
    full_per_min: output.full_per_min,
    settled_per_min: output.settled_per_min,
    ...(output.measured_per_min === undefined ? {} : { measured_per_min: output.measured_per_min }),
    settling_min: stops === null ? settling.time_min : null,
    stops_at_min: stops,
    proved: settling.proved,
    within_tolerance_min: stops === null ? settling.within_tolerance_min : null,
    ramp_up_loss: stops === null ? output.ramp_up_loss : null,
    hold_up_settled: holdUp.settled,
    slower_for_good: paceOf(played, approximate(rational(output.full_per_min))).isSlower,
    limits_broken: brokenLimits(result),
    tightest_belt: tightest?.belt ?? null,
    tightest_rate_per_min: tightest ? exact(tightest.ratePerMin) : null,
    headroom_per_min: tightest ? exact(tightest.headroom) : null,
  };
}

/** Of the first stretch, which all that the chain needs passes, and the branches, each with its machine's need. */
function tightestBelt({ id, belt, branch }: ChainLine, needs: readonly Rational[]) {
  const through = belt ? [{ belt: `${id}.through-1`, ratePerMin: belt.ratePerMin, need: sum(needs) }] : [];
  const branches = branch
    ? needs.slice(0, -1).map((need, i) => ({ belt: `${id}.branch-${i + 1}`, ratePerMin: branch.ratePerMin, need }))
    : [];
  const [tightest] = [...through, ...branches]
    .map((one) => ({ ...one, headroom: one.ratePerMin.sub(one.need) }))
    .toSorted((a, b) => a.headroom.compare(b.headroom));
  return tightest ?? null;
}
