/**
 * What feeds left to chance deliver: their stated mean, whatever the family and however little a belt has to spare, since what
 * comes in bunches waits at the gate for the next slots. For exponential gaps the gate is the queue of an M/D/1 (its service
 * the belt's interval), less the one item that the entrance lets in to wait for its slot: with ρ the share of the belt that is
 * used, ρ²/(2(1 − ρ)) wait (Pollaczek and Khinchine; L. Kleinrock, Queueing Systems 1, 1975, section 5.6), and with the chance
 * 1 − (1 − ρ) e^ρ at least one does (p0 = 1 − ρ, p1 = (1 − ρ)(e^ρ − 1), same place; both from memory).
 */
import { afterWarmUp, plantOf, runOf } from "./plant.ts";
import type { Study } from "./study.ts";

const RATE = 60;
const MINUTES = 400;
const WARM_UP_MIN = 100;

const FAMILIES = [
  "interval: { fixed: 100 % }",
  "interval: { exponential: 100 % }",
  "interval: { geometric: 100 %, step: 25 % }",
  "interval: { uniform: [0 %, 200 %] }",
  "interval: { triangular: [0 %, 50 %, 250 %] }",
  "interval: { weibull: 100 %, shape: 0.7 }",
  "interval: { lognormal: 100 %, spread: 120 % }",
  "interval: { erlang: 100 %, stages: 2 }",
  "jitter: { exponential: 4 s }",
] as const;
/** Of its rate, to spare on the belt. */
const SPARE = [0.05, 0.1, 0.25, 0.5] as const;

type Belt = (perMin: number) => string;
const loose: Belt = (perMin) => `{ rate: ${perMin}/min, transit: 6 s, capacity: 20 }`;
/** With just the room for what is under way. */
const FULL_BELTS: Record<string, Belt> = {
  "room for 6": (perMin) => `{ rate: ${perMin}/min, capacity: 6 }`,
  "room for 1": (perMin) => `{ rate: ${perMin}/min, capacity: 1 }`,
  "2 m": (perMin) => `{ length: 2 m, speed: ${perMin / 5} m/min, pitch: 200 mm }`,
};

interface FeedCase {
  readonly feed?: string;
  readonly tick?: string;
  readonly belt?: Belt;
}

function feedFile(random: string, spare: number, of: FeedCase = {}): string {
  const { feed = `rate: ${RATE}/min`, tick = "20 ms", belt = loose } = of;
  return `
title: A feed left to chance on a belt of its own
horizon: ${MINUTES} min
tick: ${tick}
feeds: { source: { item: part, ${feed} } }
machines: { press: { cycle: 300 ms, takes: { part: 1 }, makes: { piece: 1 }, infeed: 1000, outfeed: 10 } }
lines:
  main:
    layout: chain
    from: source
    to: press
    belt: ${belt(Math.round(RATE * (1 + spare)))}
random: { feeds: { source: { ${random} } } }
`;
}

export function feedStudies(): Study[] {
  const gaps = FAMILIES.flatMap((random) =>
    SPARE.map((spare) => fedStudy(random, spare, RATE, feedFile(random, spare))),
  );
  // Fed at 60/min for 20 minutes of every 22; and vehicles of 300 items every 6 minutes, unloaded at 60/min.
  const outages = "outages: { between: { exponential: 20 min }, lasting: { exponential: 2 min } }";
  const loads = "batch: { every: { exponential: 100 % }, items: { exponential: 100 % } }";
  const vehicles = `batch: { every: 2 min, items: 100, rate: ${RATE}/min }`;
  const exponential = "interval: { exponential: 100 % }";
  const full = Object.entries(FULL_BELTS).flatMap(([name, belt]) =>
    SPARE.map((spare) =>
      fedStudy(`${exponential}, belt with ${name}`, spare, RATE, feedFile(exponential, spare, { belt })),
    ),
  );
  return [
    ...gaps,
    ...full,
    ...SPARE.map((spare) =>
      fedStudy(`${exponential}, ${outages}`, spare, (RATE * 20) / 22, feedFile(`${exponential}, ${outages}`, spare)),
    ),
    fedStudy(loads, 0.1, 50, feedFile(loads, 0.1, { feed: vehicles })),
  ];
}

function fedStudy(random: string, spare: number, perMin: number, file: string): Study {
  const plant = plantOf(file);
  const warmUp = Math.round((plant.horizonTicks * WARM_UP_MIN) / MINUTES);
  return {
    name: `feed with ${random}, ${100 * spare} % to spare`,
    source: "the mean stated in the file",
    known: [{ figure: "items fed a minute", value: perMin }],
    replications: 200,
    fewer: 10,
    replicate: (seed) => [afterWarmUp(plant, seed, warmUp).added(({ fed }) => fed[0]) / (MINUTES - WARM_UP_MIN)],
  };
}

/** Items at the gate, mean over time. */
export function gateStudies(): Study[] {
  return [0.1, 0.25, 0.5].map((spare) => {
    const used = 1 / (1 + spare);
    const plant = plantOf(feedFile("interval: { exponential: 100 % }", spare, { tick: "5 ms" }));
    const warmUp = Math.round((plant.horizonTicks * WARM_UP_MIN) / MINUTES);
    return {
      name: `gate of a feed with exponential gaps, ${100 * spare} % to spare`,
      source: "M/D/1, less the item at the belt's entrance",
      known: [
        {
          figure: "items at the gate",
          value: used ** 2 / (2 * (1 - used)) - (1 - (1 - used) * Math.exp(used)),
          // Times are whole ticks, of which an item waits for half a one less.
          within: 0.03,
        },
      ],
      replications: 200,
      fewer: 10,
      replicate: (seed) => {
        const ticksOf = (ticks: number): number => runOf(plant, seed, ticks).gates.ticks[0] ?? Number.NaN;
        return [(ticksOf(plant.horizonTicks) - ticksOf(warmUp)) / (plant.horizonTicks - warmUp)];
      },
    };
  });
}
