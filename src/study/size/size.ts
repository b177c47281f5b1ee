/** A plant's size: from what is wanted and the kinds of machine to counts, feeds and belts, and a scenario that is run. */

import type { Rates } from "../../analysis/result.ts";
import { expand } from "../../network/expand.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { carriedAtMost } from "../../network/headroom.ts";
import { exact, larger, ONE, type Rational, smaller, sum, whole, ZERO } from "../../quantity/rational.ts";
import { steady } from "../../scenario/as-needed.ts";
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import { readScenario } from "../../scenario/read.ts";
import type { MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { writeScenario } from "../../scenario/write.ts";
import { withHorizon } from "../horizon.ts";
import { NO_TACTIC, play } from "../play.ts";
import { countIn, ofKind, wantedOf } from "./balance.ts";
import { choicesIn, type Demand, type Draft, demandOf, perMachine, type SizeRefusal, stagesOf } from "./demand.ts";
import type { PlantSize, SizedBelt, SizedByChance, SizedFeed, SizedMachines, SizedRun } from "./size-results.ts";
import { type Flows, flowsIn, isStandIn, withBelts } from "./sized-belts.ts";
import { busyOf, filledIn } from "./sized-scenario.ts";
import { availabilityIn, isByChance, isReached, measured } from "./under-chance.ts";

export type { Draft, SizeRefusal } from "./demand.ts";

export interface SizeOptions {
  /** Under chance: so many runs of each try. */
  readonly replications?: number;
  readonly onProgress?: (what: string) => void;
}

const USUAL_REPLICATIONS = 10;
/** Beyond so many added under chance, more machines of a kind are not what is missing. */
const MOST_ADDED = 40;

export type SizeOutcome = { readonly ok: true; readonly size: PlantSize } | ({ readonly ok: false } & SizeRefusal);

export function sizePlant(draft: Draft, options: SizeOptions = {}): SizeOutcome {
  const { scenario } = draft;
  const demand = demandOf(draft);
  if ("why" in demand) return { ok: false, ...demand };
  const busy = busyOf(scenario, demand.counts, demand);
  const found = isByChance(scenario) ? sizedByChance(draft, demand, options) : sized(draft, demand, options);
  const { plant, counts, slowed, run, underChance } = found;
  const stages = stagesOf(scenario);
  const needs = flowsWanted(draft, { ...demand, counts });
  const rateOf = (perMin: Rational, item: string) => ({ item, per_min: exact(perMin) });
  const machines = scenario.machines.map((group, g): SizedMachines => {
    const cycles = demand.cyclesPerMin[g] ?? ZERO;
    const stated = draft.open.counts.has(group.id) ? null : group.members.length;
    const used = stated === null ? ZERO : perMachine(group).mul(whole(stated));
    const share = busyOf(scenario, counts, demand)[g] ?? ZERO;
    return {
      group: group.id,
      stage: stages[g] ?? 1,
      count: counts[g] ?? 0,
      stated_count: stated,
      needs: exact(cycles.div(perMachine(group))),
      busy: exact(share),
      speed_to_fit: exact(share.mul(meanSpeed(group))),
      takes: group.takes.map(({ item, count }) => rateOf(cycles.mul(whole(count)), item)),
      makes: group.makes.map(({ item, count }) => rateOf(cycles.mul(whole(count)), item)),
      enough_for: stated === null ? null : shortfall(used, cycles),
    };
  });
  const feeds = feedsOf(draft, demand);
  const belts = beltsOf(draft, plant, needs);
  const all = [...machines, ...feeds, ...belts].flatMap(({ enough_for: share }) => (share === null ? [] : [share]));
  const size: PlantSize = {
    title: scenario.title,
    wanted: scenario.wanted.map(({ item, perMin }) => rateOf(perMin, item)),
    machines: machines.toSorted((a, b) => a.stage - b.stage),
    feeds,
    belts,
    choices: choicesIn(scenario, demand),
    fewest_proved: demand.proved,
    enough_for: all.length === 0 ? null : exact(all.map((share) => whole(1).mul(share)).reduce(smaller, ONE)),
    returns: plant.feeds.flatMap(({ id, profile }) => {
      const item = draft.open.returns.get(id);
      return item === undefined ? [] : [{ item, feed: id, per_min: exact(profile.at(-1)?.ratePerMin ?? ZERO) }];
    }),
    slowed: [...slowed].filter(
      (id) => !(busy[scenario.machines.findIndex((group) => group.id === id)] ?? ONE).equals(1),
    ),
    run,
    under_chance: underChance,
    scenario: writeScenario(plant),
  };
  return { ok: true, size };
}

interface Sized {
  readonly plant: Scenario;
  readonly counts: readonly number[];
  readonly slowed: ReadonlySet<string>;
  readonly run: SizedRun;
  readonly underChance: SizedByChance | null;
}

/**
 * At full speed if that will do. Where it does not, since one group takes what another needs, those that share a kind run at
 * the speed that fits; in the last resort all do.
 */
function sized(draft: Draft, demand: Demand, { onProgress }: SizeOptions): Sized {
  const { scenario } = draft;
  const groups = scenario.machines.map(({ id }) => id);
  const ways = [new Set<string>(), new Set(sharing(scenario)), new Set(groups)];
  const { counts } = demand;
  let last: Sized | null = null;
  for (const slowed of ways) {
    if (last !== null && slowed.size === last.slowed.size) continue;
    onProgress?.("running the sized plant");
    const plant = completed(draft, demand, counts, slowed);
    const run = runOf(plant);
    last = { plant, counts, slowed, run, underChance: null };
    if (run.reached) break;
  }
  if (last === null) throw new Error("no plant was tried");
  return last;
}

function sizedByChance(
  draft: Draft,
  demand: Demand,
  { replications = USUAL_REPLICATIONS, onProgress }: SizeOptions,
): Sized {
  const { scenario } = draft;
  const availability = availabilityIn(scenario);
  const first = demandOf(draft, availability);
  const counts = [...("why" in first ? demand.counts : first.counts)];
  const without = demand.counts;
  for (let added = 0; ; added++) {
    const plant = withHorizon(completed(draft, demand, counts, new Set()));
    onProgress?.(`${replications} runs of ${total(counts)} machines`);
    const settled = measured(plant, replications);
    const reached = isReached(scenario, settled);
    if (reached || added === MOST_ADDED) {
      const more = scenario.machines.map(({ id }, g) => ({ group: id, count: (counts[g] ?? 0) - (without[g] ?? 0) }));
      const run = {
        reached,
        proved: false,
        settling_min: null,
        settled: settled.map(({ item, mean }) => ({ item, per_min: mean })),
      };
      const underChance = { replications, added: more.filter(({ count }) => count > 0), reached, settled };
      const { horizonMin: _, ...rest } = plant;
      const written = { ...rest, horizonMin: scenario.horizonMin, horizonIsAuto: scenario.horizonIsAuto };
      return { plant: written, counts, slowed: new Set(), run, underChance };
    }
    const loads = busyOf(scenario, counts, demand).map((busy, g) => {
      const group = scenario.machines[g];
      return group === undefined ? ZERO : busy.div(availability(group));
    });
    const busiest = loads.reduce((best, load, g) => (load.compare(loads[best] ?? ZERO) > 0 ? g : best), 0);
    counts[busiest] = (counts[busiest] ?? 0) + 1;
  }
}

function total(counts: readonly number[]): number {
  return counts.reduce((all, count) => all + count, 0);
}

function completed(draft: Draft, demand: Demand, counts: readonly number[], slowed: ReadonlySet<string>): Scenario {
  const plant = filledIn(draft, demand, { counts, slowed });
  return withBelts(plant, [flowsIn(plant), flowsWanted(draft, { ...demand, counts })]);
}

/** At the wanted output, every group equally busy. */
function flowsWanted(draft: Draft, demand: Demand): Flows {
  const slowed = new Set(draft.scenario.machines.map(({ id }) => id));
  const plant = filledIn(draft, demand, { counts: demand.counts, slowed });
  const needed = new Map(draft.scenario.feeds.map(({ id }, f) => [id, demand.feedsPerMin[f] ?? ZERO]));
  const feeds = plant.feeds.map((feed) => ({ ...feed, batch: null, profile: steady(needed.get(feed.id) ?? ZERO) }));
  return flowsIn({ ...plant, feeds });
}

/** Groups that take a kind of which machines make just so much, and others take some, too. */
function sharing(scenario: Scenario): string[] {
  const { machines, wanted } = scenario;
  return machines.flatMap(({ id, takes }) => {
    const shares = takes.some(({ item }) => {
      const takers = machines.filter((group) => countIn(group.takes, item) > 0).length;
      return (
        ofKind(item, { ...scenario, groups: machines }).isMade && takers + (wantedOf(item, wanted).n > 0n ? 1 : 0) > 1
      );
    });
    return shares ? [id] : [];
  });
}

/** The text is read again, as whoever runs it will. */
function runOf(plant: Scenario): SizedRun {
  const read = readScenario(writeScenario(plant));
  if (!read.ok) throw new Error(`a sized plant is refused: ${read.findings.map(({ code }) => code).join(", ")}`);
  const scenario = withHorizon(read.scenario);
  const first = play(scenario, NO_TACTIC).result;
  // While buffers fill for hours no state recurs, and nothing is proved: then for as long as anything is looked at.
  const isLeftOpen = scenario.horizonIsAuto && scenario.horizonMin.compare(LONGEST_LOOK_MIN) < 0;
  const result =
    first.settling.proved || !isLeftOpen
      ? first
      : play({ ...scenario, horizonMin: LONGEST_LOOK_MIN }, NO_TACTIC).result;
  // What cycles make of a kind less what they take of it: products that machines take further on count as little as parts.
  const settled = plant.wanted.map(({ item }) => {
    const net = new Map(
      read.scenario.machines.flatMap(({ members, makes, takes }) =>
        members.map((id) => [id, countIn(makes, item) - countIn(takes, item)] as const),
      ),
    );
    const rates = result.machines
      .map(({ id, cycles }) => ({ cycles, by: net.get(id) ?? 0 }))
      .filter(({ by }) => by !== 0);
    const exactly = rates.flatMap(({ cycles, by }) =>
      cycles.settled_per_min === null ? [] : [ONE.mul(cycles.settled_per_min).mul(whole(by))],
    );
    if (exactly.length === rates.length) return { item, per_min: exact(sum(exactly)) };
    const perMin = rates.reduce((all, { cycles, by }) => all + by * longRunOf(cycles), 0);
    return { item, per_min: perMin };
  });
  const reached = plant.wanted.every(({ perMin }, w) => {
    const found = settled[w]?.per_min ?? 0;
    return typeof found === "string" ? ONE.mul(found).compare(perMin) >= 0 : found >= perMin.valueOf();
  });
  return { reached, proved: result.settling.proved, settling_min: result.settling.time_min, settled };
}

function longRunOf({ settled_per_min: settled, measured_per_min: measured = 0 }: Rates): number {
  return settled === null ? measured : ONE.mul(settled).valueOf();
}

function meanSpeed({ speeds }: MachineGroup): Rational {
  return sum(speeds).div(whole(Math.max(1, speeds.length)));
}

/** The share of what is needed that is given; `null` where that is all. */
function shortfall(given: Rational, needed: Rational): string | null {
  return given.compare(needed) >= 0 ? null : exact(given.div(needed));
}

function feedsOf({ scenario, open }: Draft, demand: Demand): SizedFeed[] {
  return scenario.feeds.map((feed, f) => {
    const needed = demand.feedsPerMin[f] ?? ZERO;
    const isOpen = open.feeds.has(feed.id) || open.returns.has(feed.id);
    const stated = isOpen ? null : offeredPerMin(feed);
    return {
      feed: feed.id,
      items: feed.items.map(({ item }) => item),
      rate_per_min: exact(needed),
      stated_per_min: stated && exact(stated),
      enough_for: stated && shortfall(stated, needed),
    };
  });
}

/** As the draft states them, though the plant has more machines. */
function beltsOf(draft: Draft, plant: Scenario, needs: Flows): SizedBelt[] {
  const stated = new Map(draft.scenario.lines.map((line) => [line.id, line]));
  const lines = plant.lines.map((line) => {
    const own = stated.get(line.id);
    if (own === undefined || line.layout === "custom" || own.layout === "custom") return own ?? line;
    return { ...own, from: line.from, to: line.to };
  });
  return expand({ ...plant, lines }).connections.flatMap(({ id, line, belt }): SizedBelt[] => {
    if (belt === null) return [];
    const perMin = needs.get(id);
    const rate = isStandIn(belt) ? null : carriedAtMost(belt);
    return [
      {
        id,
        line,
        needs_per_min: perMin === undefined ? null : exact(perMin),
        stated_per_min: rate && exact(rate),
        enough_for: rate && perMin ? shortfall(rate, larger(perMin, ZERO)) : null,
      },
    ];
  });
}
