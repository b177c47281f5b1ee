/**
 * The structure of the scenario file, once: what the reader checks against, and what the JSON Schema for editors is made
 * from. What one key's place cannot show (references, which keys go together) is checked after this, in the other files
 * of this floor.
 */
import { z } from "zod";
import {
  MAX_BUFFER_ITEMS,
  MAX_HOLD_UP_ITEMS,
  MAX_MACHINES,
  MAX_SHARE_OF_NEED,
  MAX_TACTICS,
  MAX_TICK_MIN,
} from "./limits.ts";
import {
  type beltShape,
  chainShape,
  type customBeltShape,
  customShape,
  lanesShape,
  loopShape,
  treeShape,
} from "./line-shapes.ts";
import { meansShape } from "./means-shapes.ts";
import { randomShape } from "./random-shapes.ts";
import { LENGTHS } from "./scenario.ts";
import { count, counts, keys, name, named, quantity, text, words } from "./shape-parts.ts";
import { tacticShape } from "./tactic-shapes.ts";

const batchShape = keys(
  {
    every: quantity("duration", "From one vehicle to the next."),
    items: count(MAX_BUFFER_ITEMS, "What a vehicle brings, items."),
    rate: quantity("rate", "How fast it is unloaded."),
    first: quantity("duration", "When the first one comes; 0 min if not stated.", {
      zero: true,
      otherwise: "0 min",
    }).optional(),
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
    "spread",
  ).optional(),
  rate: z
    .union([z.literal("as needed"), shareOfNeed, quantity("rate", "A steady feed's rate.", { anyDigits: true })], {
      error: "feed-rate",
    })
    .optional()
    .meta({
      description:
        "A steady feed's rate; as needed, or a share such as 110 % of need: what the machines to which it leads take at full speed, less what others give, in equal parts where several feeds are to give it.",
    }),
  profile: z
    .array(
      keys({
        from: quantity("duration", "When this rate begins, counted from the start.", { zero: true }),
        rate: quantity("rate", "The rate from then on; 0/min pauses.", { zero: true, anyDigits: true }),
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

const footprintShape = keys({
  length: quantity("length", "Along the belt that leads to it.").optional(),
  width: quantity("length", "Across that belt.").optional(),
}).meta({ id: "footprint" });

function footprint(about: string) {
  return footprintShape.meta({ description: about });
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
    .meta({
      default: "100 %",
      description: "Speed against the stated cycle, 100 % if not stated; a list gives each machine its own.",
    }),
  footprint: footprint("What each machine takes up on the floor; as floor.machine if not stated.").optional(),
}).meta({ description: "A machine, or a group of equal ones." });

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
  belt: quantity("length", "A belt's width; 800 mm if not stated.", { otherwise: "800 mm" }).optional(),
  aisle: quantity("length", "Left free along every row of machines; 1 m if not stated.", {
    zero: true,
    otherwise: "1 m",
  }).optional(),
  lengths: words(
    LENGTHS,
    "In layouts that are drawn up: belts as long as their way on the grid, or all as stated; from-grid if not stated.",
    "from-grid",
  ).optional(),
}).meta({
  description: "What elements take up, to compare layouts by. What is not stated is common sense, not measured.",
});

/** For editors only: the reader puts the table's machines in its place before it looks at the file. */
const tableSchema = {
  anyOf: [{ type: "string", pattern: "\\.(?:[cC][sS][vV]|[xX][lL][sS][xX])$" }, { type: "object" }],
  description: "A table with a row for each kind of machine, .csv or .xlsx, in the place of machines.",
};

export const scenarioShape = keys({
  $schema: z.string({ error: "text" }).optional().meta({ description: "For editors; the reader ignores it." }),
  title: text("What the reports are headed; the file's name if not stated.").optional(),
  horizon: z
    .union([z.literal("auto"), quantity("duration", "How long to simulate.")], { error: "horizon" })
    .optional()
    .meta({
      default: "auto",
      description: "How long to simulate; auto, or not stated: until the line has settled, 24 h at most.",
    }),
  tick: z
    .union([z.literal("auto"), quantity("duration", "Length of a tick.", { largest: MAX_TICK_MIN })], { error: "tick" })
    .optional()
    .meta({
      default: "auto",
      description: "How long a tick is; auto picks a length short enough for the line's fastest element.",
    }),
  seed: text("Names the random streams; 1 if not stated.", 1).optional(),
  feeds: named(feedShape, "Where items enter.", 1),
  machines: named(machineShape, "Machines and groups of machines; none where lines lead to outlets alone.", 1).meta({
    properties: { from: tableSchema },
  }),
  lines: named(
    z.discriminatedUnion("layout", [chainShape, treeShape, loopShape, lanesShape, customShape], { error: "layout" }),
    "What connects them.",
    1,
  ),
  outlets: named(outletShape, "Where finished items leave.").optional(),
  limits: limitsShape.optional(),
  floor: floorShape.optional(),
  random: randomShape.optional(),
  wanted: named(
    quantity("rate", "So many of them."),
    "What the plant is meant to make, by kind: fillfront size works out how many machines that takes.",
    1,
  ).optional(),
  means: meansShape.optional(),
  tactics: named(tacticShape, "Ways to prime the line, to compare with starting it empty.")
    .meta({ maxProperties: MAX_TACTICS })
    .optional(),
}).meta({
  description: "A chained feed line, its machines and what feeds it.",
  // Machines, or outlets alone, which the reader sees to.
  required: ["feeds", "lines"],
});

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
