/** A scenario written and read again is the same, but for the lengths of belts. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Rational, ratio, whole } from "../../src/quantity/rational.ts";
import type { Costs } from "../../src/scenario/costs.ts";
import type { Distribution } from "../../src/scenario/distribution.ts";
import { DEFAULT_FLOOR } from "../../src/scenario/floor.ts";
import type { Means } from "../../src/scenario/means.ts";
import type { FeedRandom, MachineRandom, Random } from "../../src/scenario/random-elements.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type {
  BeltSpec,
  ChainEnd,
  ChainLine,
  Feed,
  Floor,
  Footprint,
  LanesLine,
  Limits,
  LoopLine,
  MachineGroup,
  Scenario,
  TreeLine,
} from "../../src/scenario/scenario.ts";
import { LENGTHS } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import {
  CUSTOM_EXAMPLE,
  EXAMPLE,
  LANES_EXAMPLE,
  PLANT_EXAMPLE,
  plain,
  RANDOM_EXAMPLE,
  SHARED_EXAMPLE,
} from "./example.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(`${JSON.stringify(outcome.findings)}\n${text}`);
  return outcome.scenario;
}

test.each([EXAMPLE, CUSTOM_EXAMPLE, PLANT_EXAMPLE, SHARED_EXAMPLE, LANES_EXAMPLE, RANDOM_EXAMPLE])(
  "the examples",
  (text) => {
    const scenario = read(text);
    expect(plain(read(writeScenario(scenario)))).toEqual(plain(scenario));
  },
);

test("what is written is what people would write", () => {
  const text = writeScenario(read(PLANT_EXAMPLE));
  expect(text).toContain("  press:\n    items: { red: 3, blue: 2 }\n    order: blocks\n    rate: 50/min\n");
  expect(text).toContain("batch: { every: 20 min, items: 900, rate: 60/min, first: 5 min }\n    surge: 300\n");
  expect(text).toContain("    merges: belt-first\n    dividers: even\n    end: return\n    return: { rate: 60/min, ");
  expect(text).toContain("    end: yard\n");
  expect(text).toContain("  hold-up: { jar: 1500 }\n  at:\n    caps: { red: 90, blue: 60 }\n");
  expect(text).toContain("  dwell: { jar: 30 min, red: 90 s }\n");
  expect(text.match(/collect:/g)).toHaveLength(1);
});

test("a file in feet stays in feet", () => {
  const belt = "{ length: 10 ft, speed: 80 ft/min, pitch: 4.25 in }";
  const text = EXAMPLE.replaceAll(/(belt|branch): +\{[^}]*\}/g, `$1: ${belt}`);
  expect(writeScenario(read(text))).toMatch(/belt: \{ rate: .*, length: 10 ft, speed: 80 ft\/min, pitch: 4\.25 in \}/);
});

const count = fc.integer({ min: 1, max: 1000 });
const positive: fc.Arbitrary<Rational> = fc
  .tuple(count, fc.integer({ min: 1, max: 99 }))
  .map(([n, d]) => ratio(BigInt(n), BigInt(d)));
const time: fc.Arbitrary<Rational> = fc.oneof(fc.constant(whole(0)), positive);
const belt: fc.Arbitrary<BeltSpec> = fc.record({
  ratePerMin: positive,
  capacity: count,
  transitMin: time,
  metres: fc.constant(null),
});
const beltOrNone = fc.option(belt);

/** Kinds whose names are numbers are the ones that maps of JavaScript put first. */
const KINDS = ["plate", "7", "constructor"];

const items: fc.Arbitrary<Pick<Feed, "items" | "order">> = fc.oneof(
  fc.constantFrom(...KINDS).map((item) => ({ items: [{ item, count: 1 }], order: "spread" as const })),
  fc.record({
    items: fc.uniqueArray(fc.record({ item: fc.constantFrom(...KINDS), count }), {
      minLength: 2,
      selector: ({ item }) => item,
    }),
    order: fc.constantFrom("spread", "blocks"),
  }),
);

const supply: fc.Arbitrary<Pick<Feed, "profile" | "ofNeed" | "batch">> = fc.oneof(
  fc.array(fc.record({ after: positive, ratePerMin: positive }), { minLength: 1, maxLength: 3 }).map((steps) => {
    let fromMin = whole(0);
    const profile = steps.map(({ after, ratePerMin }, index) => {
      fromMin = index === 0 ? fromMin : fromMin.add(after);
      return { fromMin, ratePerMin };
    });
    return { profile, ofNeed: null, batch: null };
  }),
  fc.record({ everyMin: positive, items: count, firstMin: time, ratePerMin: positive }).map((one) => {
    const { ratePerMin, ...batch } = one;
    return { profile: [{ fromMin: whole(0), ratePerMin }], ofNeed: null, batch };
  }),
);

const feed = (id: string): fc.Arbitrary<Feed> =>
  fc
    .tuple(items, supply, fc.option(count))
    .map(([kinds, rates, surge]) => ({ id, ...kinds, ...rates, ofNeed: null, surge }));

const takes = KINDS.map((item) => ({ item, count: 1 }));
const group = (id: string, members: string[], makes: readonly string[]): MachineGroup => ({
  id,
  members,
  cycleMin: whole(1),
  takes,
  makes: makes.map((item) => ({ item, count: 1 })),
  infeed: takes,
  outfeed: makes.map((item) => ({ item, count: 2 })),
  speeds: members.map(() => whole(1)),
  footprint: DEFAULT_FLOOR.machine,
});

/** Makers of all kinds, collected on the second line with another feed and brought to the second group. */
const MACHINES = [group("maker", ["maker-1", "maker-2"], KINDS), group("user", ["user"], ["tray"])];

const end: fc.Arbitrary<ChainEnd> = fc.oneof(
  fc.constant({ kind: "stop" as const }),
  fc.constantFrom("away", "2").map((outlet) => ({ kind: "outlet" as const, outlet })),
  belt.map((own) => ({ kind: "return" as const, belt: own })),
);

const sources = fc
  .tuple(fc.constantFrom(["maker"], ["maker-2"], ["maker-2", "maker-1"], []), fc.boolean())
  .map(([makers, isFeedFirst]) => (isFeedFirst ? ["10", ...makers] : [...makers, "10"]));

const chain = (id: string, from: fc.Arbitrary<readonly string[]>, to: string): fc.Arbitrary<ChainLine> =>
  fc
    .record({
      id: fc.constant(id),
      layout: fc.constant("chain" as const),
      from,
      to: fc.constant([to]),
      belt: beltOrNone,
      branch: beltOrNone,
      collect: beltOrNone,
      dividers: fc.constantFrom("even", "through-first", "branch-first"),
      merges: fc.constantFrom("even", "belt-first", "joining-first"),
      end,
    })
    // Where nothing is collected on a belt, the file says nothing of one.
    .map((line) => (line.from.length > 1 ? line : { ...line, collect: line.belt, merges: "even" }));

const shared = (id: string, from: fc.Arbitrary<readonly string[]>, to: string): fc.Arbitrary<TreeLine | LoopLine> =>
  fc
    .record({
      line: chain(id, from, to),
      layout: fc.constantFrom("tree", "loop"),
      ways: fc.constantFrom(2, 3),
      back: belt,
    })
    .map(({ line, layout, ways, back }) => {
      const { belt: own, branch, collect, merges, ...rest } = line;
      const common = { id: rest.id, from: rest.from, to: rest.to, belt: own, branch, collect, merges, ways };
      return layout === "tree" ? { ...common, layout } : { ...common, layout, return: back };
    });

/** Two outgoing lanes need no return; three do, with dividers of two ways. */
const lanes = (id: string, from: fc.Arbitrary<readonly string[]>): fc.Arbitrary<LanesLine> =>
  fc
    .record({
      id: fc.constant(id),
      layout: fc.constant("lanes" as const),
      from,
      to: fc.constantFrom(["maker"], ["away", "maker"]),
      belt: beltOrNone,
      branch: beltOrNone,
      ways: fc.constantFrom(2, 3),
      return: belt,
    })
    .map((line) => (line.to.length === 2 && line.ways === 2 ? line : { ...line, return: null }));

const mostOf = (place: string | null) =>
  fc.uniqueArray(fc.record({ place: fc.constant(place), item: fc.constantFrom(...KINDS), most: count }), {
    selector: ({ item }) => item,
  });

const dwell: fc.Arbitrary<Limits["dwell"]> = fc.oneof(
  positive.map((limitMin) => [{ item: null, limitMin }]),
  fc.uniqueArray(fc.record({ item: fc.constantFrom(...KINDS), limitMin: positive }), { selector: ({ item }) => item }),
);

const limits: fc.Arbitrary<Limits> = fc
  .tuple(fc.shuffledSubarray(["user", "maker", "maker-2", "first", "second"]), dwell)
  .chain(([places, times]) =>
    fc.tuple(...[null, ...places].map(mostOf)).map((most) => ({ holdUp: most.flat(), dwell: times })),
  );

/** Values a file has when it states nothing among them. */
const footprintLike = (usual: Footprint): fc.Arbitrary<Footprint> =>
  fc.record({
    lengthM: fc.oneof(fc.constant(usual.lengthM), positive),
    widthM: fc.oneof(fc.constant(usual.widthM), positive),
  });

const floor: fc.Arbitrary<Floor> = fc.record({
  machine: footprintLike(DEFAULT_FLOOR.machine),
  divider: footprintLike(DEFAULT_FLOOR.divider),
  merge: footprintLike(DEFAULT_FLOOR.merge),
  beltM: fc.oneof(fc.constant(DEFAULT_FLOOR.beltM), positive),
  aisleM: fc.oneof(fc.constant(DEFAULT_FLOOR.aisleM), time),
  lengths: fc.constantFrom(...LENGTHS),
});

type Exactly = Distribution<Rational>;

/** @param mean of shares it must be 1 */
const distribution = (mean: fc.Arbitrary<Rational>, pairs: fc.Arbitrary<[Rational, Rational]>) => {
  const each: { readonly [Family in Exactly["family"]]: fc.Arbitrary<Exactly & { readonly family: Family }> } = {
    fixed: fc.record({ family: fc.constant("fixed"), mean }),
    exponential: fc.record({ family: fc.constant("exponential"), mean }),
    geometric: fc
      .tuple(mean, fc.integer({ min: 1, max: 9 }))
      .map(([m, of]) => ({ family: "geometric", mean: m, step: m.div(BigInt(of)) })),
    uniform: pairs.map(([least, most]) => ({ family: "uniform", least, most })),
    triangular: pairs.map(([least, most]) => ({ family: "triangular", least, mode: least.add(most).div(2n), most })),
    weibull: fc.record({ family: fc.constant("weibull"), mean, shape: fc.double({ min: 0.1, max: 100, noNaN: true }) }),
    lognormal: fc.record({ family: fc.constant("lognormal"), mean, spread: fc.constantFrom(ratio(1n, 3n), whole(2)) }),
    erlang: fc.record({ family: fc.constant("erlang"), mean, stages: fc.integer({ min: 1, max: 100 }) }),
  };
  return fc.oneof(...Object.values<fc.Arbitrary<Exactly>>(each));
};

const times = distribution(
  positive,
  fc.tuple(time, positive).map(([least, width]) => [least, least.add(width)]),
);
const shares = distribution(
  fc.constant(whole(1)),
  fc.integer({ min: 1, max: 99 }).map((n) => [ratio(BigInt(100 - n), 100n), ratio(BigInt(100 + n), 100n)]),
);

const chance: fc.Arbitrary<Omit<MachineRandom, "id">> = fc.record({
  breakdowns: fc.option(
    fc.record({ betweenMin: times, counted: fc.constantFrom("running", "clock"), repairMin: times }),
  ),
  microStops: fc.option(
    fc.record({ chance: fc.integer({ min: 1, max: 7 }).map((n) => ratio(BigInt(n), 7n)), lastingMin: times }),
  ),
  cycle: fc.option(shares),
});

/** Either timing, or none. */
const timing = fc.oneof(
  fc.constant({ drawn: null, jitterMin: null }),
  shares.map((drawn) => ({ drawn, jitterMin: null })),
  times.map((jitterMin) => ({ drawn: null, jitterMin })),
);

const flutter: fc.Arbitrary<FeedRandom> = fc
  .record({ at: timing, outages: fc.option(fc.record({ betweenMin: times, lastingMin: times })) })
  .map(({ at, outages }) => ({ id: "10", interval: at.drawn, jitterMin: at.jitterMin, outages, batch: null }));

const random: fc.Arbitrary<Random> = fc.record({
  machines: fc
    .tuple(fc.shuffledSubarray(["user", "maker", "maker-2"]), chance, chance, chance)
    .map(([ids, ...all]) => ids.map((id, i) => ({ id, ...(all[i] ?? all[0]) }))),
  feeds: fc.oneof(
    fc.constant([]),
    flutter.map((one) => [one]),
  ),
});

const granted = fc.boolean();
const means: fc.Arbitrary<Means> = fc.record({
  hands: fc.option(
    fc.record({ items: count, ratePerMin: positive, while: fc.constantFrom("before", "stopped", "running") }),
  ),
  levels: granted,
  branches: granted,
  starts: fc.record({ held: granted, staggered: granted }),
  feed: fc.option(fc.record({ factor: fc.constantFrom(ratio(11n, 10n), ratio(3n, 2n)), forMin: positive })),
  secondFeed: fc.constantFrom(null, "user", "maker-2"),
  dividers: granted,
});

const price = fc.option(positive);
const costs: fc.Arbitrary<Costs | null> = fc.option(
  fc
    .record({
      currency: fc.constantFrom("EUR", "JPY"),
      product: price,
      handsPerHour: price,
      beltPerM: price,
      divider: price,
      merge: price,
      floorPerM2: price,
      startsPerYear: fc.option(fc.constantFrom(whole(260), ratio(1n, 3n), whole(365))),
      years: fc.integer({ min: 1, max: 9 }),
    })
    // A merge without a price has the divider's, and a file without any amount no currency.
    .map((own) => ({ ...own, product: own.product ?? whole(1), merge: own.merge ?? own.divider })),
);

const placed = floor.chain((own) =>
  fc.record({
    floor: fc.constant(own),
    machines: fc.tuple(
      ...MACHINES.map((one) => footprintLike(own.machine).map((print) => ({ ...one, footprint: print }))),
    ),
  }),
);

const plant: fc.Arbitrary<Scenario> = fc
  .record({
    title: fc.constantFrom("A plant", "007"),
    horizonMin: positive,
    horizonIsAuto: fc.constant(false),
    tickS: fc.oneof(fc.constant("auto" as const), fc.constant(ratio(1n, 3n))),
    seed: fc.constantFrom("1", "null", "0042"),
    feeds: fc.tuple(feed("press"), feed("10")),
    placed,
    lines: fc.tuple(
      fc.oneof(
        chain("first", fc.constant(["press"]), "maker"),
        shared("first", fc.constant(["press"]), "maker"),
        lanes("first", fc.constant(["press"])),
      ),
      fc.oneof(chain("second", sources, "user"), shared("second", sources, "user")),
    ),
    outlets: fc.constant([
      { id: "away", item: "tray" },
      { id: "2", item: "7" },
    ]),
    limits,
    random,
    wanted: fc.oneof(
      fc.constant([]),
      positive.map((perMin) => [{ item: "tray", perMin }]),
    ),
    lengthUnit: fc.constantFrom("m" as const, "ft" as const),
    means,
    costs,
    tactics: fc.constant([]),
  })
  .map(({ placed: standing, ...rest }) => ({ ...rest, ...standing }));

test("any plant", () => {
  fc.assert(
    fc.property(plant, (scenario) => {
      const text = writeScenario(scenario);
      // A plant without lengths has no unit of them.
      const lengthUnit = /[0-9] (?:ft|in)\b/.test(text) ? "ft" : "m";
      expect(plain(read(text))).toEqual(plain({ ...scenario, lengthUnit }));
    }),
    { numRuns: 300 },
  );
});
