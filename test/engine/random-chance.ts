/** Everything of a network left to chance that can be. */
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import type { RandomProgram, RandomStream, StreamPurpose, StreamUnit } from "../../src/network/random-program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import type { Distribution } from "../../src/scenario/distribution.ts";

/** Machines and feeds in turn get one of these each. */
const MACHINE_KINDS = ["none", "clock", "running", "stops", "cycle", "all"] as const;
const FEED_KINDS = ["none", "interval", "jitter", "outage"] as const;

/** @param shift which kind the first machine and feed get */
export function withChance(network: Network, shift: number): Program {
  const tickS = autoTickS(network);
  const plain = compile(network, tickS);
  const streams: RandomStream[] = [];
  const add = (element: string, purpose: StreamPurpose, unit: StreamUnit, distribution: Distribution<number>): number =>
    streams.push({ element, purpose, unit, distribution }) - 1;
  const exponential = (mean: number): Distribution<number> => ({ family: "exponential", mean });
  const machine = network.machines.map(({ id }, m) => {
    const kind = MACHINE_KINDS[(m + shift) % MACHINE_KINDS.length] ?? "none";
    const breaks = kind === "clock" || kind === "running" || kind === "all";
    const stops = kind === "stops" || kind === "all";
    return {
      upTime: breaks ? add(id, "up-time", "ticks", exponential(60)) : -1,
      repair: breaks ? add(id, "repair", "ticks", exponential(12)) : -1,
      countsClock: kind === "clock" ? 1 : 0,
      cyclesToStop: stops ? add(id, "cycles-to-stop", "cycles", { family: "geometric", mean: 4, step: 1 }) : -1,
      stop: stops ? add(id, "stop", "ticks", exponential(5)) : -1,
      cycle: kind === "cycle" || kind === "all" ? add(id, "cycle", "ticks", exponential(6)) : -1,
    };
  });
  const feed = network.feeds.map(({ id, batch }, f) => {
    const kind = FEED_KINDS[(f + shift) % FEED_KINDS.length] ?? "none";
    return {
      interval: kind === "interval" ? add(id, "interval", "intervals", exponential(1)) : -1,
      jitter: kind === "jitter" ? add(id, "jitter", "ticks", exponential(9)) : -1,
      supply: kind === "outage" ? add(id, "supply", "ticks", exponential(70)) : -1,
      outage: kind === "outage" ? add(id, "outage", "ticks", exponential(15)) : -1,
      vehicleInterval: batch && kind === "interval" ? add(id, "vehicle-interval", "ticks", exponential(200)) : -1,
      vehicleJitter: batch && kind === "jitter" ? add(id, "vehicle-jitter", "ticks", exponential(20)) : -1,
      vehicleItems: batch ? add(id, "vehicle-items", "items", exponential(batch.items)) : -1,
    };
  });
  const column = <T>(rows: readonly T[], field: (row: T) => number): Int32Array => Int32Array.from(rows, field);
  const random: RandomProgram = {
    streams,
    stops: [],
    machine: {
      upTime: column(machine, ({ upTime }) => upTime),
      repair: column(machine, ({ repair }) => repair),
      countsClock: Uint8Array.from(machine, ({ countsClock }) => countsClock),
      cyclesToStop: column(machine, ({ cyclesToStop }) => cyclesToStop),
      stop: column(machine, ({ stop }) => stop),
      cycle: column(machine, ({ cycle }) => cycle),
    },
    feed: {
      interval: column(feed, ({ interval }) => interval),
      jitter: column(feed, ({ jitter }) => jitter),
      supply: column(feed, ({ supply }) => supply),
      outage: column(feed, ({ outage }) => outage),
      vehicleInterval: column(feed, ({ vehicleInterval }) => vehicleInterval),
      vehicleJitter: column(feed, ({ vehicleJitter }) => vehicleJitter),
      vehicleItems: column(feed, ({ vehicleItems }) => vehicleItems),
    },
  };
  return { ...plain, random };
}
