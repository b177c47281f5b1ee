/** The structure of a file's lines, layout by layout, and of their belts. */
import * as z from "zod/mini";
import { MAX_BELT_ITEMS, MOST_TURNS, MOST_WAYS } from "./file-limits.ts";
import { count, counts, keys, name, named, names, quantity, withMeta, words } from "./shape-parts.ts";

const beltKeys = {
  rate: z.optional(quantity("rate", "What it carries at most; speed / pitch if not stated.")),
  length: z.optional(quantity("length", "Its length; goes with speed and pitch.")),
  speed: z.optional(quantity("speed", "How fast it moves.")),
  pitch: z.optional(quantity("length", "From one item's front to the next one's, packed close.")),
  capacity: z.optional(count(MAX_BELT_ITEMS, "Room for items; with rate, in place of length, speed and pitch.")),
  transit: z.optional(
    quantity("duration", "From end to end, with capacity; capacity / rate if not stated.", {
      zero: true,
    }),
  ),
};

const none = z.literal("none", { error: "belt" });

export const beltShape = withMeta(keys(beltKeys), {
  id: "belt",
  description: "Either length, speed and pitch (and rate), or rate and capacity (and transit).",
});

const returnBelt = withMeta(keys(beltKeys, "return-belt"), { id: "return-belt" });

function belt(about: string) {
  return withMeta(
    z.union([withMeta(none, { description: "none: a direct hand-over." }), beltShape], { error: "belt" }),
    { description: about },
  );
}

export const chainShape = withMeta(
  keys({
    layout: withMeta(z.literal("chain"), { description: "A belt passes machine after machine; at each, a divider." }),
    from: names(
      "Feeds, machine groups and single machines whose products it collects, in the order in which they join.",
    ),
    to: names("Machine groups, single machines or outlets, in feeding order."),
    belt: belt("The through belts, from divider to divider."),
    branch: z.optional(belt("The belts from a divider to its machine; as belt if not stated.")),
    collect: z.optional(belt("The collecting belts, from merge to merge; as belt if not stated.")),
    dividers: z.optional(
      words(
        ["even", "through-first", "branch-first", "weighted"],
        "How each divider shares: by turns, one side first, or by turns weighted by what the machines on either side need; even if not stated.",
        "even",
      ),
    ),
    merges: z.optional(
      words(
        ["even", "belt-first", "joining-first"],
        "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
        "even",
      ),
    ),
    end: withMeta(z.optional(z.union([z.enum(["stop", "return"]), name("An outlet.")], { error: "end" })), {
      default: "stop",
      description:
        "What the chain's far end does with what nobody took: items stop there, return to the head, or leave by an outlet; stop if not stated.",
    }),
    return: z.optional(
      withMeta(returnBelt, {
        description: "The belt from the far end back to the head, with end: return; as belt if not stated.",
      }),
    ),
  }),
  { description: "A chain." },
);

const fan = z
  .int({ error: "ways" })
  .check(z.gte(2, { error: "ways" }))
  .check(z.lte(MOST_WAYS, { error: "ways" }));
const ways = withMeta(
  z.optional(
    z.union([fan, z.array(fan, { error: "ways" }).check(z.minLength(1, { error: "ways" }))], { error: "ways" }),
  ),
  {
    default: 3,
    description:
      "How many outlets the site's dividers can have: up to 2 to 12, so that 3 is 2 and 3, or a list of those that can be had, such as [2, 5]; 3 if not stated.",
  },
);

const sharedKeys = {
  from: names("Feeds, machine groups and single machines whose products it collects, in the order in which they join."),
  to: names(
    "Machine groups and single machines, or outlets alone, in the order in which the dividers' outlets lead to them.",
  ),
  belt: belt("The belts from divider to divider."),
  branch: z.optional(
    belt("The belts from a divider to its machine, or to a merge of several before it; as belt if not stated."),
  ),
  collect: z.optional(belt("The collecting belts, from merge to merge; as belt if not stated.")),
  merges: z.optional(
    words(
      ["even", "belt-first", "joining-first"],
      "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
      "even",
    ),
  ),
  ways,
};

export const treeShape = withMeta(
  keys({
    layout: withMeta(z.literal("tree"), {
      description: "Even dividers one below the other: each machine has its share at once.",
    }),
    ...sharedKeys,
  }),
  { description: "A tree; each machine's share of the flow is its need." },
);

export const loopShape = withMeta(
  keys({
    layout: withMeta(z.literal("loop"), {
      description: "A tree with more outlets than are wanted; the spare ones lead back before the first divider.",
    }),
    ...sharedKeys,
    return: withMeta(z.optional(returnBelt), {
      description: "The belt back to the merge before the first divider; as belt if not stated.",
    }),
  }),
  { description: "A return loop, for numbers that dividers of two and three ways do not part evenly." },
);

export const lanesShape = withMeta(
  keys({
    layout: withMeta(z.literal("lanes"), {
      description: "Incoming lanes evened out: each is parted evenly, and each outgoing lane gathers its part of all.",
    }),
    from: names("Feeds, machine groups and single machines; each feed and each machine is an incoming lane."),
    to: names("Machine groups, single machines and outlets; each machine and each outlet ends an outgoing lane."),
    belt: belt("The belts of incoming lanes, between their dividers, and of outgoing lanes."),
    branch: z.optional(
      belt("The belts across, from a lane's dividers to an outgoing lane's merge; as belt if not stated."),
    ),
    ways,
    return: withMeta(z.optional(returnBelt), {
      description:
        "Where dividers cannot make as many parts as there are outgoing lanes: each lane's belt back before its first divider; as belt if not stated.",
    }),
  }),
  { description: "Lanes: an even share of every incoming lane for every outgoing one." },
);

const rule = words(["even", "ordered"], "Taking turns, or the first belt in the file's order that can.");

const dividerRule = withMeta(
  z.union([rule, keys({ weighted: counts("So many turns for each belt from it.", 1, MOST_TURNS) })], {
    error: "divider-rule",
  }),
  {
    description: "even, ordered, or { weighted: { left: 3, right: 2 } }: so many turns for each belt from it.",
  },
);

export const customBeltShape = withMeta(
  keys({
    from: name("A feed, a machine, or a divider or merge of this line."),
    to: name("A machine, an outlet, or a divider or merge of this line."),
    only: z.optional(names("Item kinds that it lets in; all if not stated.")),
    belt: withMeta(z.optional(none), { description: "none: a direct hand-over." }),
    ...beltKeys,
  }),
  { description: "A belt from one element to another." },
);

export const customShape = withMeta(
  keys({
    layout: withMeta(z.literal("custom"), { description: "Dividers, merges and belts one by one." }),
    dividers: z.optional(named(dividerRule, "Dividers and their rules: one belt to each, two or more from it.")),
    merges: z.optional(named(rule, "Merges and their rules: two or more belts to each, one from it.")),
    belts: named(customBeltShape, "The belts, in the order of a divider's outlets and a merge's inlets.", 1),
  }),
  { description: "A network written down element by element." },
);
