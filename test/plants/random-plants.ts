/**
 * Random acyclic plants of one to three stages. Groups of machines take one to three kinds each, in different counts, and
 * make one or two; each kind travels on a line of its own from all that feed or make it to all that take it, through
 * merges and dividers of either rule, over belts or directly; where mixing is asked for, the first two raw kinds may share
 * a line. A kind that nobody takes leaves by itself or by an outlet.
 *
 * A plant is kept as a plain recipe, so that a failing one shrinks to something that can be read; `networkOf` builds it.
 */
import fc from "fast-check";
import type {
  Connection,
  DividerElement,
  FeedElement,
  MachineElement,
  MergeElement,
  Network,
} from "../../src/network/network.ts";
import type { BeltOrNone, ItemCount, Rule } from "../../src/scenario/scenario.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, merge } from "../engine/lines.ts";

export interface Plant {
  readonly feeds: readonly PlantFeed[];
  readonly groups: readonly Group[];
  /** Which kinds travel on it, and how it is laid out; together they have every kind once. */
  readonly lines: readonly { readonly kinds: readonly string[]; readonly style: LineStyle }[];
}

export interface PlantFeed {
  readonly items: Readonly<Record<string, number>>;
  readonly order: "spread" | "blocks";
  readonly perMin: string;
}

export interface Group {
  readonly takes: Readonly<Record<string, number>>;
  readonly makes: Readonly<Record<string, number>>;
  readonly machines: readonly PlantMachine[];
}

export interface PlantMachine {
  readonly cycleS: string;
  /** Room beyond what one cycle takes or makes. */
  readonly spareIn: number;
  readonly spareOut: number;
}

export interface LineStyle {
  readonly dividing: "flat" | "chain";
  readonly merging: "flat" | "chain";
  readonly dividers: Rule;
  readonly merges: Rule;
  readonly main: BeltStyle | null;
  readonly branch: BeltStyle | null;
  /** From machines and between merges, where there must be a belt. */
  readonly collect: BeltStyle;
  /** Whether a kind that no machine takes goes to an outlet. */
  readonly toOutlet: boolean;
}

export interface BeltStyle {
  readonly perMin: string;
  readonly transitS: number;
  /** Room beyond what is under way at the belt's rate. */
  readonly spare: number;
}

export interface PlantLimits {
  /** Kinds may be taken by several groups, which then compete for them. */
  readonly shared?: boolean;
  /** Products of one group may meet again in a later one, directly or by what is made of them. */
  readonly rejoining?: boolean;
  /** The first two raw kinds may travel on one line, fed apart or by one feed. */
  readonly mixed?: boolean;
  /** Every junction stands at a belt that brings it items one by one, or takes them so, and none of its others is slower. */
  readonly smooth?: boolean;
  readonly mostGroups?: number;
  readonly mostMachines?: number;
  readonly mostTaken?: number;
  readonly mostMade?: number;
  /** What every buffer has beyond a cycle's need, at least. */
  readonly leastSpare?: number;
  readonly feedRates?: readonly string[];
  readonly beltRates?: readonly string[];
  readonly rules?: readonly Rule[];
}

/** Rates and cycles with few small prime factors, so that plants repeat within minutes. */
const FEED_RATES = ["10", "15", "20", "30", "40", "60", "90", "120"];
const BELT_RATES = ["60", "90", "120", "180", "240"];
const CYCLES_S = ["1", "3/2", "2", "3", "4", "6"];

/** A recipe in raw numbers; which kinds they mean depends on what there is. */
interface Draws {
  readonly feeds: readonly string[];
  readonly secondFeed: string | null;
  readonly mixed: {
    readonly counts: readonly number[];
    readonly order: PlantFeed["order"];
    readonly isOne: boolean;
  } | null;
  readonly groups: readonly {
    readonly picks: readonly { readonly pick: number; readonly count: number }[];
    readonly made: readonly number[];
    readonly machines: readonly PlantMachine[];
  }[];
  readonly lines: readonly LineStyle[];
}

const MOST_KINDS = 12;

export function randomPlants(limits: PlantLimits = {}): fc.Arbitrary<Plant> {
  const { mostGroups = 4, mostMachines = 4, mostTaken = 3, mostMade = 2, leastSpare = 0 } = limits;
  const { feedRates = FEED_RATES, beltRates = BELT_RATES, rules = ["even", "ordered"] } = limits;
  const rate = fc.constantFrom(...feedRates);
  const rule = fc.constantFrom<Rule>(...rules);
  const spare = fc.integer({ min: leastSpare, max: leastSpare + 12 });
  const beltStyle = fc.record({
    perMin: fc.constantFrom(...beltRates),
    transitS: fc.integer({ min: 0, max: 5 }),
    spare: fc.integer({ min: 1, max: 4 }),
  });
  const group = fc.record({
    picks: fc.array(fc.record({ pick: fc.nat(50), count: fc.integer({ min: 1, max: mostTaken }) }), {
      minLength: 1,
      maxLength: 3,
    }),
    made: fc.array(fc.integer({ min: 1, max: mostMade }), { minLength: 1, maxLength: 2 }),
    machines: fc.array(fc.record({ cycleS: fc.constantFrom(...CYCLES_S), spareIn: spare, spareOut: spare }), {
      minLength: 1,
      maxLength: mostMachines,
    }),
  });
  const line = fc.record({
    dividing: fc.constantFrom("flat" as const, "chain" as const),
    merging: fc.constantFrom("flat" as const, "chain" as const),
    dividers: rule,
    merges: rule,
    main: fc.option(beltStyle),
    branch: fc.option(beltStyle),
    collect: beltStyle,
    toOutlet: fc.boolean(),
  });
  const count = fc.integer({ min: 1, max: 3 });
  const mixed = fc.record({
    counts: fc.tuple(count, count),
    order: fc.constantFrom<PlantFeed["order"]>("spread", "blocks"),
    isOne: fc.boolean(),
  });
  return fc
    .record({
      feeds: fc.array(rate, { minLength: 1, maxLength: 3 }),
      secondFeed: fc.option(rate, { freq: 1 }),
      mixed: limits.mixed ? fc.option(mixed, { freq: 4 }) : fc.constant(null),
      groups: fc.array(group, { minLength: 1, maxLength: mostGroups }),
      lines: fc.array(line, { minLength: MOST_KINDS, maxLength: MOST_KINDS }),
    })
    .map((draws) => plantOf(limits.smooth ? { ...draws, lines: draws.lines.map(smoothed) } : draws, limits));
}

function smoothed(style: LineStyle): LineStyle {
  const main = style.main ?? style.collect;
  const noSlower = (belt: BeltStyle): BeltStyle =>
    Number(belt.perMin) < Number(main.perMin) ? { ...belt, perMin: main.perMin } : belt;
  return { ...style, main, branch: style.branch && noSlower(style.branch), collect: noSlower(style.collect) };
}

/** Groups take from the kinds that are there by then, each kind once unless kinds are shared. */
function plantOf({ feeds, secondFeed, mixed, groups, lines }: Draws, limits: PlantLimits): Plant {
  const { shared = false, rejoining = true } = limits;
  const single = (kind: string, perMin: string): PlantFeed => ({ items: { [kind]: 1 }, order: "spread", perMin });
  const fed = feeds.map((perMin, index) => single(`raw-${index + 1}`, perMin));
  let open = fed.flatMap(({ items }) => Object.keys(items));
  const kinds = [...open];
  const together = mixed !== null && open.length > 1 ? open.slice(0, 2) : [];
  const [first, second] = together;
  if (mixed?.isOne && first !== undefined && second !== undefined) {
    const [one = 1, other = 1] = mixed.counts;
    fed.splice(0, 2, { items: { [first]: one, [second]: other }, order: mixed.order, perMin: feeds[0] ?? "" });
  }
  if (secondFeed !== null) fed.splice(1, 0, single("raw-1", secondFeed));
  const made: Group[] = [];
  /** Kinds with the same number have something to do with one another. */
  const family = new Map(kinds.map((kind, index) => [kind, index]));
  for (const [index, drawn] of groups.entries()) {
    const takes: Record<string, number> = {};
    for (const { pick, count } of drawn.picks) {
      const related = rejoining ? [] : Object.keys(takes).map((kind) => family.get(kind));
      const left = open.filter((kind) => !(kind in takes) && !related.includes(family.get(kind)));
      const kind = left[pick % Math.max(1, left.length)];
      if (kind !== undefined) takes[kind] = count;
    }
    if (Object.keys(takes).length === 0) break;
    const makes = Object.fromEntries(drawn.made.map((count, place) => [`made-${index + 1}${"ab"[place]}`, count]));
    if (!shared) open = open.filter((kind) => !(kind in takes));
    open.push(...Object.keys(makes));
    kinds.push(...Object.keys(makes));
    const joined = Object.keys(takes).map((kind) => family.get(kind));
    for (const kind of kinds) {
      if (kind in makes || joined.includes(family.get(kind))) family.set(kind, kinds.length + index);
    }
    made.push({ takes, makes, machines: drawn.machines });
  }
  const onLines = [together, ...kinds.filter((kind) => !together.includes(kind)).map((kind) => [kind])];
  return {
    feeds: fed,
    groups: made,
    lines: onLines.flatMap((carried, index) => {
      const style = lines[index % MOST_KINDS];
      return style === undefined || carried.length === 0 ? [] : [{ kinds: carried, style }];
    }),
  };
}

/** Feeds `feed-1 …`, machines `m1.1 …` by group; a line is called by its kinds. */
export function networkOf(plant: Plant): Network {
  const feeds = plant.feeds.map(({ items, order, perMin }, index): FeedElement => {
    const counts = Object.entries(items).map(([item, count]) => ({ item, count }));
    return { ...feed(`feed-${index + 1}`, perMin), items: counts, order };
  });
  const machines = plant.groups.flatMap(({ takes, makes, machines: members }, g) =>
    members.map((given, index) => machineOf(`m${g + 1}.${index + 1}`, takes, makes, given)),
  );
  const lines = plant.lines.map(({ kinds, style }) => {
    const carries = (counts: readonly ItemCount[]): boolean => counts.some(({ item }) => kinds.includes(item));
    const fed = feeds.filter(({ items }) => carries(items)).map(({ id }) => id);
    const makers = machines.filter(({ makes }) => carries(makes)).map(({ id }) => id);
    const takers = machines.filter(({ takes }) => carries(takes));
    const outlet = takers.length === 0 && (fed.length > 0 || style.toOutlet) ? [`${kinds.join("+")}.out`] : [];
    const consumers = new Map<string, readonly string[]>([
      ...takers.map(({ id, takes }) => [id, kinds.filter((kind) => takes.some(({ item }) => item === kind))] as const),
      ...outlet.map((id) => [id, kinds] as const),
    ]);
    return { outlet, ...lineOf(kinds, fed, makers, consumers, style) };
  });
  return network({
    items: plant.lines.flatMap(({ kinds }) => kinds),
    feeds,
    machines,
    dividers: lines.flatMap((line) => line.dividers),
    merges: lines.flatMap((line) => line.merges),
    outlets: lines.flatMap(({ outlet }) => outlet.map((id) => ({ id, item: null }))),
    connections: lines.flatMap((line) => line.connections),
  });
}

function machineOf(id: string, takes: Group["takes"], makes: Group["makes"], given: PlantMachine): MachineElement {
  const plain = machine(id, given.cycleS, { takes, makes });
  const room = (counts: Group["takes"], spare: number) =>
    Object.entries(counts).map(([item, count]) => ({ item, count: count + spare }));
  return { ...plain, infeed: room(takes, given.spareIn), outfeed: room(makes, given.spareOut) };
}

interface Elements {
  readonly dividers: readonly DividerElement[];
  readonly merges: readonly MergeElement[];
  readonly connections: readonly Connection[];
}

/** @param takers by consumer, the line's kinds that it takes */
function lineOf(
  kinds: readonly string[],
  feeds: readonly string[],
  makers: readonly string[],
  takers: ReadonlyMap<string, readonly string[]>,
  style: LineStyle,
): Elements {
  const dividers: DividerElement[] = [];
  const merges: MergeElement[] = [];
  const connections: Connection[] = [];
  const line = kinds.join("+");
  const consumers = [...takers.keys()];
  const [main, branch, collect] = [style.main, style.branch, style.collect].map(beltOf);
  // Nothing but the line's kinds comes from a machine that makes two, nor goes to one that doesn't take both.
  const connect = (from: string, to: string, given: BeltOrNone | undefined): void => {
    const only = takers.get(to) ?? kinds;
    connections.push({ ...connection(from, to, { belt: given ?? null, only }), id: `${line}:${from}>${to}` });
  };
  if (consumers.length === 0) return { dividers, merges, connections };

  const join = (id: string, inlets: readonly string[]): string => {
    merges.push(merge(id, style.merges));
    for (const from of inlets) connect(from, id, feeds.includes(from) ? branch : collect);
    return id;
  };
  const [first, ...others] = [...feeds, ...makers];
  if (first === undefined) throw new Error(`nobody feeds or makes ${line}`);
  const isFlat = style.merging === "flat" && others.length > 0;
  const head = isFlat
    ? join(`${line}.merge`, [first, ...others])
    : others.reduce((joined, from, index) => join(`${line}.merge-${index + 1}`, [joined, from]), first);

  const last = consumers.at(-1) ?? "";
  const dividerAt = (place: number): string => `${line}.divider-${place + 1}`;
  if (consumers.length === 1) {
    connect(head, last, main);
  } else if (style.dividing === "flat") {
    dividers.push(divider(dividerAt(0), style.dividers));
    connect(head, dividerAt(0), main);
    for (const consumer of consumers) connect(dividerAt(0), consumer, branch);
  } else {
    connect(head, dividerAt(0), main);
    for (const [place, consumer] of consumers.slice(0, -1).entries()) {
      dividers.push(divider(dividerAt(place), style.dividers));
      connect(dividerAt(place), consumer, branch);
      connect(dividerAt(place), place + 2 < consumers.length ? dividerAt(place + 1) : last, main);
    }
  }
  return { dividers, merges, connections };
}

function beltOf(style: BeltStyle | null): BeltOrNone {
  if (style === null) return null;
  const { perMin, transitS, spare } = style;
  return belt(perMin, Math.ceil((Number(perMin) * transitS) / 60) + spare, String(transitS));
}
