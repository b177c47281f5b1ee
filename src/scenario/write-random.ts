/** What is left to chance as a file states it. */
import type { Rational } from "../quantity/rational.ts";
import { formatDuration, formatPercentage } from "../quantity/units.ts";
import type { Distribution } from "./distribution.ts";
import type { BatchRandom, FeedRandom, MachineRandom, Random, Shares, Times } from "./random-elements.ts";

/** Nothing where nothing is. */
export function randomKey({ machines, feeds }: Random) {
  const sections = {
    ...(machines.length > 0 && { machines: new Map(machines.map((machine) => [machine.id, machineBody(machine)])) }),
    ...(feeds.length > 0 && { feeds: new Map(feeds.map((feed) => [feed.id, feedBody(feed)])) }),
  };
  return Object.keys(sections).length > 0 ? { random: sections } : {};
}

function machineBody({ breakdowns, microStops, cycle }: MachineRandom) {
  return {
    ...(breakdowns && {
      breakdowns: {
        between: timesBody(breakdowns.betweenMin),
        counted: breakdowns.counted,
        repair: timesBody(breakdowns.repairMin),
      },
    }),
    ...(microStops && {
      "micro-stops": { chance: formatPercentage(microStops.chance), lasting: timesBody(microStops.lastingMin) },
    }),
    ...(cycle && { cycle: sharesBody(cycle) }),
  };
}

function feedBody({ interval, jitterMin, outages, batch }: FeedRandom) {
  return {
    ...(interval && { interval: sharesBody(interval) }),
    ...(jitterMin && { jitter: timesBody(jitterMin) }),
    ...(outages && { outages: { between: timesBody(outages.betweenMin), lasting: timesBody(outages.lastingMin) } }),
    ...(batch && { batch: batchBody(batch) }),
  };
}

function batchBody({ every, jitterMin, items }: BatchRandom) {
  return {
    ...(every && { every: sharesBody(every) }),
    ...(jitterMin && { jitter: timesBody(jitterMin) }),
    ...(items && { items: sharesBody(items) }),
  };
}

function timesBody(times: Times) {
  return distributionBody(times, formatDuration);
}

function sharesBody(shares: Shares) {
  return distributionBody(shares, formatPercentage);
}

function distributionBody(distribution: Distribution<Rational>, format: (value: Rational) => string) {
  switch (distribution.family) {
    case "fixed":
      return format(distribution.mean);
    case "exponential":
      return { exponential: format(distribution.mean) };
    case "geometric":
      return { geometric: format(distribution.mean), step: format(distribution.step) };
    case "uniform":
      return { uniform: [format(distribution.least), format(distribution.most)] };
    case "triangular":
      return { triangular: [format(distribution.least), format(distribution.mode), format(distribution.most)] };
    case "weibull":
      return { weibull: format(distribution.mean), shape: distribution.shape };
    case "lognormal":
      return { lognormal: format(distribution.mean), spread: format(distribution.spread) };
    case "erlang":
      return { erlang: format(distribution.mean), stages: distribution.stages };
  }
}
