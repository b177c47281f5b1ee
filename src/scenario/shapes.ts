/**
 * The structure of the scenario file, once: what the reader checks against, and what the JSON Schema for editors is made
 * from. What one key's place cannot show (references, which keys go together) is checked after this, in the other files
 * of this floor.
 */
import * as z from "zod/mini";
import { costsShape } from "./costs-shape.ts";
import {
  MAX_BUFFER_ITEMS,
  MAX_HOLD_UP_ITEMS,
  MAX_MACHINES,
  MAX_SHARE_OF_NEED,
  MAX_TACTICS,
  MAX_TICK_MIN,
} from "./file-limits.ts";
import { lineShape } from "./lines.ts";
import { meansShape } from "./means.ts";
import { randomShape } from "./random-shapes.ts";
import { LENGTHS } from "./scenario.ts";
import { count, counts, keys, name, named, quantity, text, withMeta, words } from "./shape-parts.ts";
import { tacticShape } from "./tactic-parts.ts";

const batchShape = withMeta(
  keys(
    {
      every: quantity("duration", "From one vehicle to the next."),
      items: count(MAX_BUFFER_ITEMS, "What a vehicle brings, items."),
      rate: quantity("rate", "How fast it is unloaded."),
      first: z.optional(
        quantity("duration", "When the first one comes; 0 min if not stated.", {
          zero: true,
          otherwise: "0 min",
        }),
      ),
    },
    "batch",
  ),
  { description: "Vehicles unloaded one after another, in place of rate." },
);

/** "110 % of need", as a share. */
const shareOfNeed = z.pipe(
  quantity("percentage", "Of what is needed.", {
    largest: MAX_SHARE_OF_NEED,
    followedBy: "of need",
    examples: ["110 % of need"],
  }),
  z.transform((ofNeed) => ({ ofNeed })),
);

export const feedShape = withMeta(
  keys({
    item: z.optional(name("The kind of item it feeds.")),
    items: z.optional(counts("Several kinds and their proportions, in place of item.", 1)),
    order: z.optional(
      words(
        ["spread", "blocks"],
        "How several kinds follow one another: as evenly as can be, or one block of each; spread if not stated.",
        "spread",
      ),
    ),
    rate: withMeta(
      z.optional(
        z.union([z.literal("as needed"), shareOfNeed, quantity("rate", "A steady feed's rate.", { anyDigits: true })], {
          error: "feed-rate",
        }),
      ),
      {
        description:
          "A steady feed's rate; as needed, or a share such as 110 % of need: what the machines to which it leads take at full speed, less what others give, in equal parts where several feeds are to give it.",
      },
    ),
    profile: withMeta(
      z.optional(
        z
          .array(
            keys({
              from: quantity("duration", "When this rate begins, counted from the start.", { zero: true }),
              rate: quantity("rate", "The rate from then on; 0/min pauses.", { zero: true, anyDigits: true }),
            }),
            { error: "list" },
          )
          .check(z.minLength(1, { error: "list" })),
      ),
      {
        description: "Rates over time, in place of rate; the first from 0 min, each later than the one before.",
      },
    ),
    batch: z.optional(batchShape),
    surge: z.optional(
      count(MAX_BUFFER_ITEMS, "Room of a surge buffer between the feed and its line, items; no buffer if not stated."),
    ),
  }),
  { description: "Where items enter: states item or items, and rate, profile or batch." },
);

const footprintShape = withMeta(
  keys({
    length: z.optional(quantity("length", "Along the belt that leads to it.")),
    width: z.optional(quantity("length", "Across that belt.")),
  }),
  { id: "footprint" },
);

function footprint(about: string) {
  return withMeta(footprintShape, { description: about });
}

export const machineShape = withMeta(
  keys({
    count: z.optional(
      count(
        MAX_MACHINES,
        "Equal machines, named name-1, name-2, …; without a count one machine with the group's name.",
      ),
    ),
    cycle: quantity("duration", "Length of one cycle at 100 % speed."),
    takes: counts("Items that a cycle takes, by kind.", 1),
    makes: counts("Items that a cycle makes, by kind.", 1),
    infeed: withMeta(
      z.union([count(MAX_BUFFER_ITEMS, "Items, for each kind."), counts("Items, by kind.")], { error: "counts" }),
      { description: "Room of the infeed buffer: one number for every kind taken, or one for each." },
    ),
    outfeed: withMeta(
      z.optional(
        z.union([count(MAX_BUFFER_ITEMS, "Items, for each kind."), counts("Items, by kind.")], { error: "counts" }),
      ),
      { description: "Room of the outfeed buffer, as infeed; two cycles' product if not stated." },
    ),
    speed: withMeta(
      z.optional(
        z.union(
          [
            quantity("percentage", "Of every machine."),
            z.array(quantity("percentage", "Of one machine."), { error: "list" }),
          ],
          {
            error: "percentages",
          },
        ),
      ),
      {
        default: "100 %",
        description: "Speed against the stated cycle, 100 % if not stated; a list gives each machine its own.",
      },
    ),
    footprint: z.optional(footprint("What each machine takes up on the floor; as floor.machine if not stated.")),
  }),
  { description: "A machine, or a group of equal ones." },
);

const outletShape = withMeta(keys({ item: name("The kind of item that leaves here.") }), {
  description: "Where finished items leave.",
});

const mostHoldUp = (about: string) => counts(about, 1, MAX_HOLD_UP_ITEMS);

const limitsShape = withMeta(
  keys({
    "hold-up": z.optional(mostHoldUp("Items that may lie in the whole plant at once, by kind.")),
    at: z.optional(
      named(
        mostHoldUp(
          "Items that may lie on this line's belts, in these machines' buffers or in this feed's surge buffer, by kind.",
        ),
        "The same by place: a line, a machine, a group of machines, or a feed with a surge buffer.",
        1,
      ),
    ),
    dwell: withMeta(
      z.optional(
        z.union(
          [
            z.pipe(
              quantity("duration", "For every kind."),
              z.transform((forAll) => ({ forAll })),
            ),
            z.pipe(
              named(quantity("duration", "For this kind."), "By kind of item.", 1),
              z.transform((byItem) => ({ byItem })),
            ),
          ],
          { error: "dwell" },
        ),
      ),
      {
        description: "How long an item may be between feed and machine: one time for every kind, or one for each.",
      },
    ),
  }),
  { description: "What may lie on the line at once, and for how long.", minProperties: 1 },
);

const floorShape = withMeta(
  keys({
    machine: z.optional(footprint("Of a machine; 3 m by 2 m if not stated.")),
    divider: z.optional(footprint("Of a divider; 1 m by 1 m if not stated.")),
    merge: z.optional(footprint("Of a merge; 1 m by 1 m if not stated.")),
    belt: z.optional(quantity("length", "A belt's width; 800 mm if not stated.", { otherwise: "800 mm" })),
    aisle: z.optional(
      quantity("length", "Left free along every row of machines; 1 m if not stated.", {
        zero: true,
        otherwise: "1 m",
      }),
    ),
    lengths: z.optional(
      words(
        LENGTHS,
        "In layouts that are drawn up: belts as long as their way on the grid, or all as stated; from-grid if not stated.",
        "from-grid",
      ),
    ),
  }),
  {
    description: "What elements take up, to compare layouts by. What is not stated is common sense, not measured.",
  },
);

/** For editors only: the reader puts the table's machines in its place before it looks at the file. */
const tableSchema = {
  anyOf: [{ type: "string", pattern: "\\.(?:[cC][sS][vV]|[xX][lL][sS][xX])$" }, { type: "object" }],
  description: "A table with a row for each kind of machine, .csv or .xlsx, in the place of machines.",
};

export const scenarioShape = withMeta(
  keys({
    $schema: withMeta(z.optional(z.string({ error: "text" })), { description: "For editors; the reader ignores it." }),
    title: z.optional(text("What the reports are headed; the file's name if not stated.")),
    horizon: withMeta(
      z.optional(z.union([z.literal("auto"), quantity("duration", "How long to simulate.")], { error: "horizon" })),
      {
        default: "auto",
        description: "How long to simulate; auto, or not stated: until the line has settled, 24 h at most.",
      },
    ),
    tick: withMeta(
      z.optional(
        z.union([z.literal("auto"), quantity("duration", "Length of a tick.", { largest: MAX_TICK_MIN })], {
          error: "tick",
        }),
      ),
      {
        default: "auto",
        description: "How long a tick is; auto picks a length short enough for the line's fastest element.",
      },
    ),
    seed: z.optional(text("Names the random streams; 1 if not stated.", 1)),
    feeds: named(feedShape, "Where items enter.", 1),
    machines: withMeta(
      named(machineShape, "Machines and groups of machines; none where lines lead to outlets alone.", 1),
      {
        properties: { from: tableSchema },
      },
    ),
    lines: named(lineShape, "What connects them.", 1),
    outlets: z.optional(named(outletShape, "Where finished items leave.")),
    limits: z.optional(limitsShape),
    floor: z.optional(floorShape),
    random: z.optional(randomShape),
    wanted: z.optional(
      named(
        quantity("rate", "So many of them."),
        "What the plant is meant to make, by kind: fillfront size works out how many machines that takes.",
        1,
      ),
    ),
    means: z.optional(meansShape),
    costs: z.optional(costsShape),
    tactics: z.optional(
      withMeta(named(tacticShape, "Ways to prime the line, to compare with starting it empty."), {
        maxProperties: MAX_TACTICS,
      }),
    ),
  }),
  {
    description: "A chained feed line, its machines and what feeds it.",
    // Machines, or outlets alone, which the reader sees to.
    required: ["feeds", "lines"],
  },
);

/** A scenario whose structure is right; nothing else of it has been checked. */
export type RawScenario = z.output<typeof scenarioShape>;
export type RawFeed = z.output<typeof feedShape>;
export type RawMachine = z.output<typeof machineShape>;
export type RawFootprint = NonNullable<RawMachine["footprint"]>;
export type RawLimits = z.output<typeof limitsShape>;
export type { RawTactic } from "./tactic-parts.ts";
