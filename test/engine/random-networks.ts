/**
 * Random custom networks: one to three feeds of two kinds, a tree of dividers, outlets and machines at its ends, now and
 * then a return to the root, and now and then a packer that collects what the machines make.
 */
import fc from "fast-check";
import type {
  Connection,
  DividerElement,
  FeedElement,
  MachineElement,
  MergeElement,
  Network,
  OutletElement,
} from "../../src/network/network.ts";
import { withSurges } from "../../src/network/surges.ts";
import { rational } from "../../src/quantity/rational.ts";
import type { BeltOrNone, Rule } from "../../src/scenario/scenario.ts";
import { connection } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, merge } from "./lines.ts";

const KINDS = ["pouch", "label"];

type End =
  | { readonly what: "outlet" | "return" }
  | {
      readonly what: "machine";
      readonly takes: Readonly<Record<string, number>>;
      readonly makes: number;
      readonly cycleS: string;
      readonly spareRoom: number;
      readonly isCollected: boolean;
    };

interface Branch {
  readonly belt: BeltOrNone;
  readonly only: readonly string[] | null;
  readonly to: End | { readonly what: "divider"; readonly rule: Rule; readonly branches: readonly Branch[] };
}

interface Shape {
  readonly feeds: readonly { readonly perMin: string; readonly kind: string; readonly belt: BeltOrNone }[];
  readonly joinRule: Rule;
  readonly root: Branch;
  readonly packer: { readonly takes: number; readonly cycleS: string; readonly rule: Rule };
}

interface Figures {
  readonly rates: readonly string[];
  readonly cyclesS: readonly string[];
  /** Items; buffers have room for as many more than a cycle needs. */
  readonly mostRoom: number;
}

/** Figures of which a line repeats within minutes. */
const SHORT_PERIODS: Figures = {
  rates: ["10", "15", "20", "30", "60", "90", "120"],
  cyclesS: ["1", "3/2", "2", "3", "4", "6"],
  mostRoom: 12,
};

export const AWKWARD: Figures = {
  rates: ["7", "45/4", "20", "97.3", "110", "1000/7"],
  cyclesS: ["0.7", "1", "13/9", "2.1", "7"],
  mostRoom: 6,
};

export function randomNetwork(figures: Figures = SHORT_PERIODS): fc.Arbitrary<Network> {
  const rate = fc.constantFrom(...figures.rates);
  const cycleS = fc.constantFrom(...figures.cyclesS);
  const rule = fc.constantFrom<Rule>("even", "ordered");
  const someBelt = fc
    .tuple(rate, fc.integer({ min: 1, max: 9 }), fc.integer({ min: 0, max: 9 }))
    .map(([perMin, capacity, transitS]) => belt(perMin, capacity, String(transitS)));
  const beltOrNone = fc.option(someBelt);
  const count = fc.integer({ min: 1, max: 3 });
  const takes = fc.oneof(
    { weight: 4, arbitrary: count.map((pouch) => ({ pouch })) },
    { weight: 1, arbitrary: fc.tuple(count, count).map(([pouch, label]) => ({ pouch, label })) },
  );
  const end: fc.Arbitrary<End> = fc.oneof(
    { weight: 1, arbitrary: fc.constantFrom<End>({ what: "outlet" }, { what: "return" }) },
    {
      weight: 4,
      arbitrary: fc.record({
        what: fc.constant("machine" as const),
        takes,
        makes: count,
        cycleS,
        spareRoom: fc.integer({ min: 0, max: figures.mostRoom }),
        isCollected: fc.boolean(),
      }),
    },
  );
  const only = fc.oneof(
    { weight: 5, arbitrary: fc.constant(null) },
    { weight: 1, arbitrary: fc.subarray(KINDS, { minLength: 1 }) },
  );
  const { branch } = fc.letrec<{ branch: Branch }>((tie) => ({
    branch: fc.record({
      belt: beltOrNone,
      only,
      to: fc.oneof(
        { maxDepth: 3, withCrossShrink: true },
        end,
        fc.record({
          what: fc.constant("divider" as const),
          rule,
          branches: fc.array(tie("branch"), { minLength: 2, maxLength: 3 }),
        }),
      ),
    }),
  }));
  const oneFeed = fc.record({ perMin: rate, kind: fc.constantFrom("pouch", "pouch", "label"), belt: beltOrNone });
  return fc
    .record({
      feeds: fc.array(oneFeed, { minLength: 1, maxLength: 3 }),
      joinRule: rule,
      root: branch,
      packer: fc.record({ takes: count, cycleS, rule }),
    })
    .map(networkOf);
}

/** What becomes of a plain feed. */
interface FeedForm {
  readonly label: number;
  readonly order: FeedElement["order"];
  readonly vehicles: { readonly everyMin: string; readonly items: number; readonly firstMin: string } | null;
  readonly surge: number | null;
}

/**
 * The same networks with mixed feeds, vehicles, surge buffers and limits. (Apart from `randomNetwork`, whose seeds keep
 * their meaning.)
 */
export function randomPlant(figures: Figures = SHORT_PERIODS): fc.Arbitrary<Network> {
  const form: fc.Arbitrary<FeedForm> = fc.record({
    label: fc.integer({ min: 0, max: 3 }),
    order: fc.constantFrom<FeedElement["order"]>("spread", "blocks"),
    vehicles: fc.option(
      fc.record({
        everyMin: fc.constantFrom("1/4", "1/2", "1", "2"),
        items: fc.integer({ min: 1, max: 60 }),
        firstMin: fc.constantFrom("0", "0", "1/7", "3/4"),
      }),
    ),
    surge: fc.option(fc.integer({ min: 1, max: 40 })),
  });
  const limits = fc.record({ pouches: fc.integer({ min: 0, max: 40 }), dwellS: fc.integer({ min: 1, max: 90 }) });
  return fc
    .tuple(randomNetwork(figures), fc.tuple(form, form, form), limits)
    .map(([line, forms, given]) => plantOf(line, forms, given));
}

function plantOf(
  line: Network,
  forms: readonly FeedForm[],
  { pouches, dwellS }: { readonly pouches: number; readonly dwellS: number },
): Network {
  const feeds = line.feeds.map((element, f): FeedElement => {
    const { label = 0, order = "spread", vehicles = null } = forms[f] ?? {};
    return {
      ...element,
      items:
        label > 0
          ? [
              { item: "pouch", count: 2 },
              { item: "label", count: label },
            ]
          : element.items,
      order,
      batch: vehicles && {
        everyMin: rational(vehicles.everyMin),
        items: vehicles.items,
        firstMin: rational(vehicles.firstMin),
      },
    };
  });
  const plant = withSurges(
    { ...line, feeds },
    feeds.map((element, f) => ({ ...element, surge: forms[f]?.surge ?? null })),
  );
  const belts = plant.connections.filter(({ id }) => plant.surges.every(({ connection: queue }) => queue !== id));
  const limit = { item: "pouch", most: pouches, machines: [] };
  return {
    ...plant,
    holdUpLimits: [
      {
        ...limit,
        place: null,
        connections: plant.connections.map(({ id }) => id),
        machines: plant.machines.map(({ id }) => id),
      },
      { ...limit, place: "line", connections: belts.map(({ id }) => id) },
      { ...limit, place: "machine", connections: [], machines: plant.machines.slice(0, 2).map(({ id }) => id) },
      ...plant.surges.map(({ feed: place, connection: id }) => ({ ...limit, place, connections: [id] })),
    ],
    dwellLimits: [{ item: null, limitMin: rational(String(dwellS)).div(60n) }],
  };
}

function networkOf({ feeds, joinRule, root, packer }: Shape): Network {
  const dividers: DividerElement[] = [];
  const machines: MachineElement[] = [];
  const outlets: OutletElement[] = [];
  const connections: Connection[] = [];
  const returns: Connection[] = [];
  const collected: string[] = [];
  let named = 0;

  const addEnd = (end: End, id: string): string => {
    if (end.what !== "machine") {
      outlets.push({ id, item: null });
      return id;
    }
    const room = Math.max(...Object.values(end.takes)) + end.spareRoom;
    const makes = { carton: end.makes };
    machines.push(machine(id, end.cycleS, { takes: end.takes, makes, infeed: room, outfeed: end.makes }));
    if (end.isCollected) collected.push(id);
    return id;
  };
  const addBranch = (from: string, { belt: given, only, to }: Branch): void => {
    const id = `${to.what}-${++named}`;
    const from_ = { id: `to-${id}`, belt: given, only };
    if (to.what === "return") {
      returns.push(connection(from, "join", { ...from_, belt: given ?? belt("60", 5, "1") }));
      return;
    }
    connections.push(connection(from, id, from_));
    if (to.what === "divider") {
      dividers.push(divider(id, to.rule));
      for (const branch of to.branches) addBranch(id, branch);
    } else {
      addEnd(to, id);
    }
  };
  addBranch("join", root);

  const fed = feeds.map(({ perMin, kind }, i): FeedElement => feed(`feed-${i + 1}`, perMin, kind));
  const inlets = [...returns, ...feeds.map((given, i) => connection(`feed-${i + 1}`, "join", { belt: given.belt }))];
  const merges: MergeElement[] = [];
  // A merge needs two inlets and somewhere else to go.
  if (inlets.length > 1 && root.to.what !== "return") {
    merges.push(merge("join", joinRule));
    connections.unshift(...inlets);
  } else {
    const start = connections[0];
    connections.splice(0, 1, ...(start ? [{ ...start, from: "feed-1" }] : []));
  }

  if (collected.length > 0) {
    const takes = { carton: packer.takes };
    machines.push(machine("packer", packer.cycleS, { takes, makes: { crate: 1 }, infeed: packer.takes + 2 }));
    const into = collected.length > 1 ? "gather" : "packer";
    for (const id of collected) connections.push(connection(id, into, { belt: belt("60", 4, "1") }));
    if (collected.length > 1) {
      merges.push(merge("gather", packer.rule));
      connections.push(connection("gather", "packer"));
    }
  }
  return {
    items: [...KINDS, "carton", "crate"],
    feeds: fed,
    dividers,
    merges,
    machines,
    outlets,
    connections,
    lines: ["line"],
    surges: [],
    holdUpLimits: [],
    dwellLimits: [],
  };
}
