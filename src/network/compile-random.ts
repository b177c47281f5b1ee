/**
 * What is left to chance, compiled: for each machine and feed the numbers of its streams, and for each stream its
 * distribution in the engine's units. Draws are floating-point numbers, so exactness ends here; means stay exact above.
 */
import { total } from "../quantity/counts.ts";
import { approximate, type Rational, ZERO } from "../quantity/rational.ts";
import { type Distribution, inUnit, meanOf } from "../scenario/distribution.ts";
import type { FeedRandom, MachineRandom, Times } from "../scenario/random-elements.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { groupsByName } from "./groups.ts";
import type { FeedElement, MachineElement, Network } from "./network.ts";
import type { RandomProgram, RandomStream, StopKind, StreamPurpose, StreamUnit } from "./random-program.ts";
import { inTicks } from "./tick.ts";

/** @returns `null` where nothing is left to chance */
export function compileRandom(scenario: Scenario, { machines, feeds }: Network, tickS: Rational): RandomProgram | null {
  const streams: RandomStream[] = [];
  const numberOf = (element: string, purpose: StreamPurpose, unit: StreamUnit, distribution: Distribution<number>) =>
    streams.push({ element, purpose, unit, distribution }) - 1;
  const times = (element: string, purpose: StreamPurpose, stated: Times | null | undefined): number =>
    stated
      ? numberOf(
          element,
          purpose,
          "ticks",
          inUnit(stated, (min) => approximate(inTicks(min, tickS))),
        )
      : -1;
  const shares = (
    element: string,
    purpose: StreamPurpose,
    unit: StreamUnit,
    stated: Distribution<Rational> | null | undefined,
    whole: Rational | number,
  ): number =>
    stated
      ? numberOf(
          element,
          purpose,
          unit,
          inUnit(stated, (share) => approximate(share.mul(whole))),
        )
      : -1;

  const machineStreams = (machine: MachineElement, stated: MachineRandom | undefined) => ({
    upTime: times(machine.id, "up-time", stated?.breakdowns?.betweenMin),
    repair: times(machine.id, "repair", stated?.breakdowns?.repairMin),
    countsClock: stated?.breakdowns?.counted === "clock" ? 1 : 0,
    cyclesToStop: stated?.microStops
      ? numberOf(machine.id, "cycles-to-stop", "cycles", untilOneOf(stated.microStops.chance))
      : -1,
    stop: times(machine.id, "stop", stated?.microStops?.lastingMin),
    cycle: shares(machine.id, "cycle", "ticks", stated?.cycle, inTicks(machine.cycleMin, tickS)),
  });

  const feedStreams = ({ id, batch }: FeedElement, stated: FeedRandom | undefined) => ({
    interval: shares(id, "interval", "intervals", stated?.interval, 1),
    jitter: times(id, "jitter", stated?.jitterMin),
    supply: times(id, "supply", stated?.outages?.betweenMin),
    outage: times(id, "outage", stated?.outages?.lastingMin),
    vehicleInterval: batch
      ? shares(id, "vehicle-interval", "ticks", stated?.batch?.every, inTicks(batch.everyMin, tickS))
      : -1,
    vehicleJitter: batch ? times(id, "vehicle-jitter", stated?.batch?.jitterMin) : -1,
    vehicleItems: batch ? shares(id, "vehicle-items", "items", stated?.batch?.items, batch.items) : -1,
  });

  const groups = groupsByName(scenario);
  const ofMachine = new Map(scenario.random.machines.map((stated) => [stated.id, stated]));
  const ofFeed = new Map(scenario.random.feeds.map((stated) => [stated.id, stated]));
  const statedOf = ({ id }: MachineElement) => ofMachine.get(id) ?? ofMachine.get(groups.get(id)?.id ?? id);
  const machine = machines.map((one) => machineStreams(one, statedOf(one)));
  const feed = feeds.map((one) => feedStreams(one, ofFeed.get(one.id)));
  if (streams.length === 0) return null;
  return {
    streams,
    stops: [
      ...scenario.random.machines.flatMap((stated) =>
        machineStops(
          stated,
          machines.map((one) => (statedOf(one) === stated ? one : null)),
        ),
      ),
      ...feeds.flatMap(({ id }, f) => feedStops(ofFeed.get(id), f)),
    ],
    machine: {
      upTime: Int32Array.from(machine, ({ upTime }) => upTime),
      repair: Int32Array.from(machine, ({ repair }) => repair),
      countsClock: Uint8Array.from(machine, ({ countsClock }) => countsClock),
      cyclesToStop: Int32Array.from(machine, ({ cyclesToStop }) => cyclesToStop),
      stop: Int32Array.from(machine, ({ stop }) => stop),
      cycle: Int32Array.from(machine, ({ cycle }) => cycle),
    },
    feed: {
      interval: Int32Array.from(feed, ({ interval }) => interval),
      jitter: Int32Array.from(feed, ({ jitter }) => jitter),
      supply: Int32Array.from(feed, ({ supply }) => supply),
      outage: Int32Array.from(feed, ({ outage }) => outage),
      vehicleInterval: Int32Array.from(feed, ({ vehicleInterval }) => vehicleInterval),
      vehicleJitter: Int32Array.from(feed, ({ vehicleJitter }) => vehicleJitter),
      vehicleItems: Int32Array.from(feed, ({ vehicleItems }) => vehicleItems),
    },
  };
}

/** @param own by machine; `null` of those for which something else is stated */
function machineStops(stated: MachineRandom, own: readonly (MachineElement | null)[]): StopKind[] {
  const members = own.flatMap((machine, m) => (machine === null ? [] : [m]));
  const cyclesPerMin = total(own.map((machine) => (machine === null ? 0 : approximate(machine.cycleMin.inverse()))));
  const { id: of, breakdowns, microStops } = stated;
  return [
    ...(breakdowns && isLeftToChance(breakdowns.betweenMin)
      ? [
          {
            what: "breakdowns" as const,
            of,
            members,
            perMin: members.length * perMinOf(breakdowns.betweenMin, breakdowns.repairMin),
          },
        ]
      : []),
    ...(microStops && microStops.chance.compare(ZERO) > 0
      ? [{ what: "micro-stops" as const, of, members, perMin: cyclesPerMin * approximate(microStops.chance) }]
      : []),
  ];
}

function feedStops(stated: FeedRandom | undefined, f: number): StopKind[] {
  if (!stated?.outages || !isLeftToChance(stated.outages.betweenMin)) return [];
  const { betweenMin, lastingMin } = stated.outages;
  return [{ what: "outages", of: stated.id, members: [f], perMin: perMinOf(betweenMin, lastingMin) }];
}

/** What comes at fixed times need not be seen often. */
function isLeftToChance({ family }: Times): boolean {
  return family !== "fixed";
}

function perMinOf(between: Times, lasting: Times): number {
  return 1 / (approximate(meanOf(between)) + approximate(meanOf(lasting)));
}

/** Cycles up to the first that has a chance of `chance`, itself included. */
function untilOneOf(chance: Rational): Distribution<number> {
  return { family: "geometric", mean: approximate(chance.inverse()), step: 1 };
}
