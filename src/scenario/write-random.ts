/** What is left to chance as a file states it. */
import { formatPercentage } from "../quantity/units.ts";
import { sharesBody, timesBody } from "./distribution-form.ts";
import type { BatchRandom, FeedRandom, MachineRandom, Random } from "./random-elements.ts";

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
