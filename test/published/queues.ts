/**
 * Single queues in continuous time (L. Kleinrock, Queueing Systems, vol. 1, Wiley 1975; M/D/1/K: O. Brun, J.-M. Garcia, J. Applied
 * Probability 37, 2000; from memory) as limits of short ticks.
 *
 * In the file a service is one second in the mean; jobs come one by one, each gap drawn from an exponential distribution about
 * the feed's. An infeed of K − 1 and the machine itself have room for K. A feed that is not let in waits and loses nothing, so
 * what a full queue turns away has a way out: a divider offers each job to the machine first and to an outlet otherwise. A job
 * that comes in a tick is looked at in the next, times are whole ticks, and one job leaves a feed in a tick: each errs by a
 * share of a service that is proportional to the tick, so figures at two ticks give the limit.
 *
 * PASTA (R. W. Wolff, Operations Research 30, 1982; from memory): as many arrivals find the queue full as there is time for which
 * it is. The time is what a limit on hold-up counts: K − 2 waiting may lie there, and with K − 1 the queue is full.
 */
import { RUNNING, STATE_COUNT } from "../../src/engine/states.ts";
import { md1kLoss, md1Wait, mm1k } from "../reference/queues.ts";
import { inTheLimit } from "./limit.ts";
import { type AfterWarmUp, afterWarmUp, bufferOf, itemOf, machineOf, type Plant, plantOf } from "./plant.ts";
import type { Study } from "./study.ts";

const SERVICES = 40_000;
const WARM_UP = 500;
const TICKS = [100, 200] as const;

export interface QueueGiven {
  /** Arrivals to a service. */
  readonly rho: number;
  /** Room, the job in service included; `null` for more than will ever come. */
  readonly room: number | null;
  readonly service: "exponential" | "fixed";
}

export function queueFile({ rho, room, service }: QueueGiven, services: number, ticksPerService: number): string {
  const spread = service === "exponential" ? "machines: { server: { cycle: { exponential: 100 % } } }" : "";
  const waiting = room === null ? 100_000 : room - 1;
  return `
title: A queue
horizon: ${services} s
tick: 1/${ticksPerService} s
feeds: { arrivals: { item: job, rate: ${Math.round(6000 * rho)}/100 /min } }
machines: { server: { cycle: 1 s, takes: { job: 1 }, makes: { answer: 1 }, infeed: ${waiting}, outfeed: 1 } }
lines:
  desk:
    layout: custom
${
  room !== null
    ? `    dividers: { door: ordered }
    belts:
      here: { from: arrivals, to: door, belt: none }
      in:   { from: door, to: server, belt: none }
      away: { from: door, to: lost, belt: none }
outlets: { lost: { item: job } }
limits: { hold-up: { job: ${Math.max(1, waiting - 1)} } }`
    : "    belts: { in: { from: arrivals, to: server, belt: none } }"
}
random:
  feeds: { arrivals: { interval: { exponential: 100 % } } }
  ${spread}
`;
}

export function plantsOf(given: QueueGiven, services = SERVICES): readonly [Plant, Plant] {
  return [plantOf(queueFile(given, services, TICKS[0])), plantOf(queueFile(given, services, TICKS[1]))];
}

export function finiteQueueStudies(): Study[] {
  const given: (QueueGiven & { readonly room: number })[] = [
    { rho: 0.5, room: 3, service: "exponential" },
    { rho: 1, room: 4, service: "exponential" },
    { rho: 0.8, room: 2, service: "fixed" },
    { rho: 0.8, room: 5, service: "fixed" },
    { rho: 1, room: 5, service: "fixed" },
  ];
  return given.map((queue) => {
    const { rho, room, service } = queue;
    const plants = plantsOf(queue);
    const full = service === "exponential" ? mm1k(rho, room).full : md1kLoss(rho, room);
    return {
      name: `${service === "exponential" ? "M/M" : "M/D"}/1/${room}, ρ ${rho}`,
      source:
        service === "exponential"
          ? "L. Kleinrock, Queueing Systems, vol. 1, Wiley 1975 (from memory)"
          : "O. Brun, J.-M. Garcia, J. Applied Probability 37, 2000 (from memory); the same from a Markov chain",
      ...inTheLimit(
        [
          { figure: "arrivals turned away", value: full },
          ...(service === "exponential" ? [{ figure: "mean number", value: mm1k(rho, room).mean }] : []),
          // A limit of hold-up is at least one item.
          ...(room > 2
            ? [
                { figure: "time for which full", value: full },
                { figure: "turned away less time full", value: 0 },
              ]
            : []),
        ],
        TICKS,
        (length, seed) => {
          const plant = plants[length];
          const run = afterWarmUp(plant, seed, WARM_UP * TICKS[length]);
          const lost =
            run.added(({ outletItems }) => outletItems[itemOf(plant, "job")]) / run.added(({ fed }) => fed[0]);
          const timeFull = run.added(({ overLimitTicks }) => overLimitTicks[0]) / run.ticks;
          return [
            lost,
            ...(service === "exponential" ? [meanNumber(plant, run)] : []),
            ...(room > 2 ? [timeFull, lost - timeFull] : []),
          ];
        },
      ),
      replications: 40,
      fewer: 6,
    };
  });
}

function meanNumber(plant: Plant, { added, ticks }: AfterWarmUp): number {
  const server = machineOf(plant, "server");
  const waiting = added(({ bufferTicks }) => bufferTicks[bufferOf(plant, "server", "job")]);
  return (waiting + added(({ stateTicks }) => stateTicks[server * STATE_COUNT + RUNNING])) / ticks;
}

export function waitStudies(): Study[] {
  return [0.5, 0.8, 0.9].map((rho) => {
    const plants = plantsOf({ rho, room: null, service: "fixed" });
    return {
      name: `M/D/1, ρ ${rho}`,
      source: "Kleinrock: Pollaczek and Khinchine's formula (from memory)",
      ...inTheLimit([{ figure: "mean wait in services", value: md1Wait(rho) }], TICKS, (length, seed) => {
        const plant = plants[length];
        const { added } = afterWarmUp(plant, seed, WARM_UP * TICKS[length]);
        const job = itemOf(plant, "job");
        return [added(({ dwellTicks }) => dwellTicks[job]) / added(({ taken }) => taken[job]) / TICKS[length]];
      }),
      replications: 40,
      fewer: 6,
    };
  });
}
