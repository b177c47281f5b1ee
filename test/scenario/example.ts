import type { TacticPart } from "../../src/scenario/tactic.ts";

/** A scenario with every part the format has; the plant and its numbers are invented. */
export const EXAMPLE = `title: Eight cartoners on one chained belt
horizon: 4 h
tick: auto                      # or 100 ms
feeds:
  blender: { item: pouch, rate: 240/min }
machines:
  cartoner:
    count: 8
    cycle: 2 s
    takes: { pouch: 1 }
    makes: { carton: 1 }
    infeed: 100
    outfeed: 20
    speed: 100 %
lines:
  main:
    layout: chain
    from: [blender]
    to: [cartoner]
    belt:   { rate: 270/min, length: 3 m, speed: 24 m/min, pitch: 80 mm }
    branch: { rate: 270/min, length: 1 m, speed: 24 m/min, pitch: 80 mm }
    dividers: even
    end: stop
outlets:
  dispatch: { item: carton }
`;

/** A custom line with a profile, two kinds of machine, a divider, a merge and direct hand-overs. */
export const CUSTOM_EXAMPLE = `title: Two fillers, one packer
seed: 0042
tick: 100 ms
feeds:
  silo:
    item: can
    profile:
      - { from: 0 min, rate: 120/min }
      - { from: 60 min, rate: 0/min }
      - { from: 90 min, rate: 45/4 /min }
machines:
  filler:
    count: 2
    cycle: 1 s
    takes: { can: 1 }
    makes: { filled: 1 }
    infeed: { can: 30 }
    outfeed: { filled: 5 }
    speed: [100 %, 75 %]
  packer: { cycle: 6 s, takes: { filled: 6 }, makes: { tray: 1 }, infeed: 24 }
lines:
  main:
    layout: custom
    dividers: { split: ordered }
    merges: { join: even }
    belts:
      in: { from: silo, to: split, rate: 270/min, capacity: 37, transit: 7.5 s }
      a: { from: split, to: filler-1, belt: none }
      b: { from: split, to: filler-2, length: 3 m, speed: 24 m/min, pitch: 80 mm, only: [can] }
      c: { from: filler-1, to: join, belt: none }
      d: { from: filler-2, to: join, rate: 60/min, capacity: 10 }
      e: { from: join, to: packer, belt: none }
`;

/** What is new comes last: tests know the lines of the others. */
const TACTICS: Readonly<Record<TacticPart, string>> = {
  prefill: `
  hand-filled:  { prefill: { cartoner: 100 }, by-hand: 60/min }
  stocked:      { prefill: full }
  tail-stocked: { prefill: 40, prefill-of: last 3 }
  belts-too:    { prefill: full, prefill-belts: full, by-hand: 60/min, while: stopped }`,
  hold: `
  fill-then-go: { hold: { until: all-full, release: together } }
  tail-go:      { hold: { until: 5 min, release: tail-first, every: 10 s } }`,
  stagger: `
  staggered:    { stagger: { first: tail, every: 30 s } }`,
  boost: `
  boosted:      { boost: { to: 120 %, for: 10 min } }`,
  lowLevel: `
  low:          { low-level: { at: 20, of: all, for: 10 min } }`,
  metered: `
  metered:      { metered: { at: 105 % } }`,
  farEndFirst: `
  far-end:      { far-end-first: { until: tail-full } }`,
  secondFeed: `
  second:       { second-feed: { share: 30 %, at: cartoner-8, for: 10 min } }`,
};

/** The chain with a tactic of every form; its first line is line 26 of the file. */
export const TACTICS_EXAMPLE = `${EXAMPLE}tactics:${Object.values(TACTICS).join("")}
`;

/** Several stages: a mixed feed, a batch feed, lines that collect, all ends of a chain, limits of every form. */
export const PLANT_EXAMPLE = `title: Filled jars, capped and boxed with a spare lid
feeds:
  press: { items: { red: 3, blue: 2 }, order: blocks, rate: 50/min }
  dock: { item: jar, batch: { every: 20 min, items: 900, rate: 60/min, first: 5 min }, surge: 300 }
machines:
  filler: { count: 2, cycle: 2 s, takes: { jar: 1 }, makes: { filled: 1 }, infeed: 20 }
  capper: { cycle: 2 s, takes: { filled: 1, red: 1 }, makes: { capped: 1 }, infeed: 20 }
  boxer: { cycle: 9 s, takes: { capped: 3, blue: 2 }, makes: { box: 1 }, infeed: 20 }
lines:
  jars: { layout: chain, from: dock, to: filler, belt: { rate: 90/min, capacity: 12 } }
  caps:
    layout: chain
    from: [filler, press]
    to: [capper, boxer]
    belt: { rate: 120/min, capacity: 12 }
    collect: { rate: 90/min, capacity: 9 }
    merges: belt-first
    end: return
    return: { rate: 60/min, capacity: 30 }
  packing: { layout: chain, from: capper, to: boxer, belt: { rate: 60/min, capacity: 9 } }
  boxes: { layout: chain, from: [boxer], to: [shelf], belt: { rate: 60/min, capacity: 9 }, end: yard }
outlets: { shelf: { item: box }, yard: { item: box } }
limits:
  hold-up: { jar: 1500 }
  at: { caps: { red: 90, blue: 60 }, filler-2: { jar: 15 }, dock: { jar: 250 } }
  dwell: { jar: 30 min, red: 90 s }
`;

/** A tree, and a loop that collects what its machines make; the floor they take up. */
export const SHARED_EXAMPLE = `title: Jars filled on a tree and labelled on a loop
feeds:
  washer: { item: jar, rate: 120/min }
machines:
  filler: { count: 4, cycle: 2 s, takes: { jar: 1 }, makes: { filled: 1 }, infeed: 20 }
  labeller: { count: 5, cycle: 2.5 s, takes: { filled: 1 }, makes: { labelled: 1 }, infeed: 20, footprint: { length: 5/2 m } }
lines:
  filling: { layout: tree, from: washer, to: filler, belt: { rate: 150/min, capacity: 12 } }
  labelling:
    layout: loop
    from: filler
    to: [labeller-5, labeller-1, labeller-2, labeller-3, labeller-4]
    belt: { rate: 150/min, capacity: 12 }
    branch: { rate: 60/min, capacity: 6 }
    collect: { rate: 120/min, capacity: 9 }
    merges: joining-first
    ways: 3
    return: { rate: 40/min, capacity: 20 }
floor: { machine: { length: 4 m, width: 3 m }, divider: { width: 600 mm }, belt: 1/3 m, aisle: 0 m }
`;

/** Two lanes to four machines and an outlet: five parts of eight, by a loop on each lane. */
export const LANES_EXAMPLE = `title: Jars of two washers evened out over four fillers and a chute
feeds:
  washer: { item: jar, rate: 60/min }
  rinser: { item: jar, rate: 35/min }
machines:
  filler: { count: 4, cycle: 2 s, takes: { jar: 1 }, makes: { filled: 1 }, infeed: 20 }
lines:
  filling:
    layout: lanes
    from: [washer, rinser]
    to: [filler, chute]
    belt: { rate: 150/min, capacity: 12 }
    branch: { rate: 60/min, capacity: 6 }
    ways: 2
    return: { rate: 90/min, capacity: 20 }
outlets:
  chute: { item: jar }
`;

/** Everything that can be left to chance, by every family; `random` begins on line 10. */
export const RANDOM_EXAMPLE = `title: Cartoners that stop, a blender that flutters, a dock that is late
seed: spring-1
feeds:
  blender: { item: pouch, rate: 60/min }
  dock: { item: lid, batch: { every: 20 min, items: 900, rate: 90/min } }
machines:
  cartoner: { count: 3, cycle: 2 s, takes: { pouch: 1, lid: 1 }, makes: { carton: 1 }, infeed: 20, speed: [100 %, 50 %, 80 %] }
lines:
  main: { layout: chain, from: [blender, dock], to: cartoner, belt: { rate: 180/min, capacity: 12 } }
random:
  machines:
    cartoner:
      breakdowns: { between: { exponential: 45 min }, repair: { lognormal: 4 min, spread: 2 min } }
      micro-stops: { chance: 2 %, lasting: { triangular: [5 s, 10 s, 30 s] } }
      cycle: { lognormal: 100 %, spread: 10 % }
    cartoner-3:
      breakdowns: { between: { weibull: 2 h, shape: 1.5 }, counted: clock, repair: { erlang: 4 min, stages: 3 } }
      micro-stops: { chance: 1/3 %, lasting: { geometric: 20 s, step: 2 s } }
  feeds:
    blender:
      interval: { exponential: 100 % }
      outages: { between: { fixed: 30 min }, lasting: 90 s }
    dock:
      jitter: { uniform: [0 s, 1 s] }
      batch: { jitter: { triangular: [0 min, 0 min, 6 min] }, items: { uniform: [80 %, 120 %] } }
`;

/** Rationals by value, so that a difference is shown readably. */
export function plain(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_key, part: unknown) => {
      return typeof part === "object" && part !== null && "n" in part && "toFraction" in part ? `${part}` : part;
    }),
  );
}

export function changed(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`the example has no "${from}"`);
  return text.replace(from, () => to);
}
