/**
 * The structure of the scenario file, once: what the reader checks against, and what the JSON Schema for editors is made
 * from. What one key's place cannot show (references, which keys go together) is checked after this, in the other files
 * of this floor.
 */
import { z } from "zod";
import {
  MAX_BELT_ITEMS,
  MAX_BUFFER_ITEMS,
  MAX_HOLD_UP_ITEMS,
  MAX_MACHINES,
  MAX_SHARE_OF_NEED,
  MAX_TACTICS,
  MAX_TICK_MIN,
  MOST_TURNS,
  MOST_WAYS,
} from "./limits.ts";
import { randomShape } from "./random-shapes.ts";
import { LENGTHS } from "./scenario.ts";
import { count, counts, keys, name, named, names, quantity, text, words } from "./shape-parts.ts";
import { tacticShape } from "./tactic-shapes.ts";

const batchShape = keys(
  {
    every: quantity("duration", "From one vehicle to the next."),
    items: count(MAX_BUFFER_ITEMS, "What a vehicle brings, items."),
    rate: quantity("rate", "How fast it is unloaded."),
    first: quantity("duration", "When the first one comes; 0 min if not stated.", { zero: true }).optional(),
  },
  "batch",
).meta({ description: "Vehicles unloaded one after another, in place of rate." });

/** "110 % of need", as a share. */
const shareOfNeed = quantity("percentage", "Of what is needed.", {
  largest: MAX_SHARE_OF_NEED,
  followedBy: "of need",
  examples: ["110 % of need"],
}).transform((ofNeed) => ({ ofNeed }));

const feedShape = keys({
  item: name("The kind of item it feeds.").optional(),
  items: counts("Several kinds and their proportions, in place of item.", 1).optional(),
  order: words(
    ["spread", "blocks"],
    "How several kinds follow one another: as evenly as can be, or one block of each; spread if not stated.",
  ).optional(),
  rate: z
    .union([z.literal("as needed"), shareOfNeed, quantity("rate", "A steady feed's rate.")], { error: "feed-rate" })
    .optional()
    .meta({
      description:
        "A steady feed's rate; as needed, or a share of that, for what the machines on its lines take at full speed, less what other feeds give.",
    }),
  profile: z
    .array(
      keys({
        from: quantity("duration", "When this rate begins, counted from the start.", { zero: true }),
        rate: quantity("rate", "The rate from then on; 0/min pauses.", { zero: true }),
      }),
      { error: "list" },
    )
    .min(1, { error: "list" })
    .optional()
    .meta({ description: "Rates over time, in place of rate; the first from 0 min, each later than the one before." }),
  batch: batchShape.optional(),
  surge: count(
    MAX_BUFFER_ITEMS,
    "Room of a surge buffer between the feed and its line, items; no buffer if not stated.",
  ).optional(),
}).meta({ description: "Where items enter: states item or items, and rate, profile or batch." });

function footprint(about: string) {
  return keys({
    length: quantity("length", "Along the belt that leads to it.").optional(),
    width: quantity("length", "Across that belt.").optional(),
  }).meta({ description: about });
}

const machineShape = keys({
  count: count(
    MAX_MACHINES,
    "Equal machines, named name-1, name-2, …; without a count one machine with the group's name.",
  ).optional(),
  cycle: quantity("duration", "Length of one cycle at 100 % speed."),
  takes: counts("Items that a cycle takes, by kind.", 1),
  makes: counts("Items that a cycle makes, by kind.", 1),
  infeed: z
    .union([count(MAX_BUFFER_ITEMS, "Items, for each kind."), counts("Items, by kind.")], { error: "counts" })
    .meta({ description: "Room of the infeed buffer: one number for every kind taken, or one for each." }),
  outfeed: z
    .union([count(MAX_BUFFER_ITEMS, "Items, for each kind."), counts("Items, by kind.")], { error: "counts" })
    .optional()
    .meta({ description: "Room of the outfeed buffer, as infeed; two cycles' product if not stated." }),
  speed: z
    .union(
      [
        quantity("percentage", "Of every machine."),
        z.array(quantity("percentage", "Of one machine."), { error: "list" }),
      ],
      {
        error: "percentages",
      },
    )
    .optional()
    .meta({ description: "Speed against the stated cycle, 100 % if not stated; a list gives each machine its own." }),
  footprint: footprint("What each machine takes up on the floor; as floor.machine if not stated.").optional(),
}).meta({ description: "A machine, or a group of equal ones." });

const beltKeys = {
  rate: quantity("rate", "What it carries at most; speed / pitch if not stated.").optional(),
  length: quantity("length", "Its length; goes with speed and pitch.").optional(),
  speed: quantity("speed", "How fast it moves.").optional(),
  pitch: quantity("length", "From one item's front to the next one's, packed close.").optional(),
  capacity: count(MAX_BELT_ITEMS, "Room for items; with rate, in place of length, speed and pitch.").optional(),
  transit: quantity("duration", "From end to end, with capacity; capacity / rate if not stated.", {
    zero: true,
  }).optional(),
};

const none = z.literal("none", { error: "belt" });

const beltShape = keys(beltKeys).meta({
  description: "Either length, speed and pitch (and rate), or rate and capacity (and transit).",
});

const returnShape = keys(beltKeys, "return-belt").meta({
  description: "The belt from the far end back to the head, with end: return; as belt if not stated.",
});

function belt(about: string) {
  return z
    .union([none.meta({ description: "A direct hand-over." }), beltShape], { error: "belt" })
    .meta({ description: about });
}

const chainShape = keys({
  layout: z.literal("chain").meta({ description: "A belt passes machine after machine; at each, a divider." }),
  from: names("Feeds, machine groups and single machines whose products it collects, in the order in which they join."),
  to: names("Machine groups, single machines or outlets, in feeding order."),
  belt: belt("The through belts, from divider to divider."),
  branch: belt("The belts from a divider to its machine; as belt if not stated.").optional(),
  collect: belt("The collecting belts, from merge to merge; as belt if not stated.").optional(),
  dividers: words(
    ["even", "through-first", "branch-first", "weighted"],
    "How each divider shares: by turns, one side first, or by turns weighted by what the machines on either side need; even if not stated.",
  ).optional(),
  merges: words(
    ["even", "belt-first", "joining-first"],
    "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
  ).optional(),
  end: z
    .union([z.enum(["stop", "return"]), name("An outlet.")], { error: "end" })
    .optional()
    .meta({
      description:
        "What the chain's far end does with what nobody took: items stop there, return to the head, or leave by an outlet; stop if not stated.",
    }),
  return: returnShape.optional(),
}).meta({ description: "A chain." });

const fan = z.int({ error: "ways" }).min(2, { error: "ways" }).max(MOST_WAYS, { error: "ways" });
const ways = z
  .union([fan, z.array(fan, { error: "ways" }).min(1, { error: "ways" })], { error: "ways" })
  .optional()
  .meta({
    description:
      "How many outlets the site's dividers can have: up to 2 to 12, so that 3 is 2 and 3, or a list of those that can be had, such as [2, 5]; 3 if not stated.",
  });

const sharedKeys = {
  from: names("Feeds, machine groups and single machines whose products it collects, in the order in which they join."),
  to: names(
    "Machine groups and single machines, or outlets alone, in the order in which the dividers' outlets lead to them.",
  ),
  belt: belt("The belts from divider to divider."),
  branch: belt(
    "The belts from a divider to its machine, or to a merge of several before it; as belt if not stated.",
  ).optional(),
  collect: belt("The collecting belts, from merge to merge; as belt if not stated.").optional(),
  merges: words(
    ["even", "belt-first", "joining-first"],
    "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
  ).optional(),
  ways,
};

const treeShape = keys({
  layout: z
    .literal("tree")
    .meta({ description: "Even dividers one below the other: each machine has its share at once." }),
  ...sharedKeys,
}).meta({ description: "A tree; each machine's share of the flow is its need." });

const loopShape = keys({
  layout: z.literal("loop").meta({
    description: "A tree with more outlets than are wanted; the spare ones lead back before the first divider.",
  }),
  ...sharedKeys,
  return: keys(beltKeys, "return-belt")
    .optional()
    .meta({ description: "The belt back to the merge before the first divider; as belt if not stated." }),
}).meta({ description: "A return loop, for numbers that dividers of two and three ways do not part evenly." });

const lanesShape = keys({
  layout: z.literal("lanes").meta({
    description: "Incoming lanes evened out: each is parted evenly, and each outgoing lane gathers its part of all.",
  }),
  from: names("Feeds, machine groups and single machines; each feed and each machine is an incoming lane."),
  to: names("Machine groups, single machines and outlets; each machine and each outlet ends an outgoing lane."),
  belt: belt("The belts of incoming lanes, between their dividers, and of outgoing lanes."),
  branch: belt(
    "The belts across, from a lane's dividers to an outgoing lane's merge; as belt if not stated.",
  ).optional(),
  ways,
  return: keys(beltKeys, "return-belt").optional().meta({
    description:
      "Where dividers cannot make as many parts as there are outgoing lanes: each lane's belt back before its first divider; as belt if not stated.",
  }),
}).meta({ description: "Lanes: an even share of every incoming lane for every outgoing one." });

const rule = words(["even", "ordered"], "Taking turns, or the first belt in the file's order that can.");

const dividerRule = z
  .union([rule, keys({ weighted: counts("So many turns for each belt from it.", 1, MOST_TURNS) })], {
    error: "divider-rule",
  })
  .meta({ description: "even, ordered, or { weighted: { left: 3, right: 2 } }: so many turns for each belt from it." });

const customBeltShape = keys({
  from: name("A feed, a machine, or a divider or merge of this line."),
  to: name("A machine, an outlet, or a divider or merge of this line."),
  only: names("Item kinds that it lets in; all if not stated.").optional(),
  belt: none.optional().meta({ description: "none: a direct hand-over." }),
  ...beltKeys,
}).meta({ description: "A belt from one element to another." });

const customShape = keys({
  layout: z.literal("custom").meta({ description: "Dividers, merges and belts one by one." }),
  dividers: named(dividerRule, "Dividers and their rules: one belt to each, two or more from it.").optional(),
  merges: named(rule, "Merges and their rules: two or more belts to each, one from it.").optional(),
  belts: named(customBeltShape, "The belts, in the order of a divider's outlets and a merge's inlets.", 1),
}).meta({ description: "A network written down element by element." });

const outletShape = keys({ item: name("The kind of item that leaves here.") }).meta({
  description: "Where finished items leave.",
});

const mostHeld = (about: string) => counts(about, 1, MAX_HOLD_UP_ITEMS);

const limitsShape = keys({
  "hold-up": mostHeld("Items that may lie in the whole plant at once, by kind.").optional(),
  at: named(
    mostHeld(
      "Items that may lie on this line's belts, in these machines' buffers or in this feed's surge buffer, by kind.",
    ),
    "The same by place: a line, a machine, a group of machines, or a feed with a surge buffer.",
    1,
  ).optional(),
  dwell: z
    .union(
      [
        quantity("duration", "For every kind.").transform((forAll) => ({ forAll })),
        named(quantity("duration", "For this kind."), "By kind of item.", 1).transform((byItem) => ({ byItem })),
      ],
      { error: "dwell" },
    )
    .optional()
    .meta({
      description: "How long an item may be between feed and machine: one time for every kind, or one for each.",
    }),
}).meta({ description: "What may lie on the line at once, and for how long.", minProperties: 1 });

const floorShape = keys({
  machine: footprint("Of a machine; 3 m by 2 m if not stated.").optional(),
  divider: footprint("Of a divider; 1 m by 1 m if not stated.").optional(),
  merge: footprint("Of a merge; 1 m by 1 m if not stated.").optional(),
  belt: quantity("length", "A belt's width; 800 mm if not stated.").optional(),
  aisle: quantity("length", "Left free along every row of machines; 1 m if not stated.", { zero: true }).optional(),
  lengths: words(
    LENGTHS,
    "In layouts that are drawn up: belts as long as their way on the grid, or all as stated; from-grid if not stated.",
  ).optional(),
}).meta({
  description: "What elements take up, to compare layouts by. What is not stated is common sense, not measured.",
});

export const scenarioShape = keys({
  $schema: z.string({ error: "text" }).optional().meta({ description: "For editors; the reader ignores it." }),
  title: text("What the reports are headed; the file's name if not stated.").optional(),
  horizon: z
    .union([z.literal("auto"), quantity("duration", "How long to simulate.")], { error: "horizon" })
    .optional()
    .meta({ description: "How long to simulate; auto, or not stated: until the line has settled, 24 h at most." }),
  tick: z
    .union([z.literal("auto"), quantity("duration", "Length of a tick.", { largest: MAX_TICK_MIN })], { error: "tick" })
    .optional()
    .meta({ description: "auto picks a length short enough for the line's fastest element." }),
  seed: text("Names the random streams; 1 if not stated.").optional(),
  feeds: named(feedShape, "Where items enter.", 1),
  machines: named(machineShape, "Machines and groups of machines.", 1),
  lines: named(
    z.discriminatedUnion("layout", [chainShape, treeShape, loopShape, lanesShape, customShape], { error: "layout" }),
    "What connects them.",
    1,
  ),
  outlets: named(outletShape, "Where finished items leave.").optional(),
  limits: limitsShape.optional(),
  floor: floorShape.optional(),
  random: randomShape.optional(),
  tactics: named(tacticShape, "Ways to prime the line, to compare with starting it empty.")
    .meta({ maxProperties: MAX_TACTICS })
    .optional(),
}).meta({ title: "fillfront scenario", description: "A chained feed line, its machines and what feeds it." });

/** A scenario whose structure is right; nothing else of it has been checked. */
export type RawScenario = z.output<typeof scenarioShape>;
export type RawFeed = z.output<typeof feedShape>;
export type RawMachine = z.output<typeof machineShape>;
export type RawFootprint = NonNullable<RawMachine["footprint"]>;
export type RawLimits = z.output<typeof limitsShape>;
export type RawBelt = z.output<typeof beltShape>;
export type RawChain = z.output<typeof chainShape>;
export type RawTree = z.output<typeof treeShape>;
export type RawLoop = z.output<typeof loopShape>;
export type RawLanes = z.output<typeof lanesShape>;
export type RawCustom = z.output<typeof customShape>;
export type { RawTactic } from "./tactic-shapes.ts";
export type RawCustomBelt = z.output<typeof customBeltShape>;
