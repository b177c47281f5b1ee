/** The structure of a file's lines, layout by layout, and of their belts. */
import { z } from "zod";
import { MAX_BELT_ITEMS, MOST_TURNS, MOST_WAYS } from "./limits.ts";
import { count, counts, keys, name, named, names, quantity, words } from "./shape-parts.ts";

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

export const beltShape = keys(beltKeys).meta({
  id: "belt",
  description: "Either length, speed and pitch (and rate), or rate and capacity (and transit).",
});

const returnBelt = keys(beltKeys, "return-belt").meta({ id: "return-belt" });

function belt(about: string) {
  return z
    .union([none.meta({ description: "none: a direct hand-over." }), beltShape], { error: "belt" })
    .meta({ description: about });
}

export const chainShape = keys({
  layout: z.literal("chain").meta({ description: "A belt passes machine after machine; at each, a divider." }),
  from: names("Feeds, machine groups and single machines whose products it collects, in the order in which they join."),
  to: names("Machine groups, single machines or outlets, in feeding order."),
  belt: belt("The through belts, from divider to divider."),
  branch: belt("The belts from a divider to its machine; as belt if not stated.").optional(),
  collect: belt("The collecting belts, from merge to merge; as belt if not stated.").optional(),
  dividers: words(
    ["even", "through-first", "branch-first", "weighted"],
    "How each divider shares: by turns, one side first, or by turns weighted by what the machines on either side need; even if not stated.",
    "even",
  ).optional(),
  merges: words(
    ["even", "belt-first", "joining-first"],
    "How each merge of the collecting belt serves the belt and what joins it; even if not stated.",
    "even",
  ).optional(),
  end: z
    .union([z.enum(["stop", "return"]), name("An outlet.")], { error: "end" })
    .optional()
    .meta({
      default: "stop",
      description:
        "What the chain's far end does with what nobody took: items stop there, return to the head, or leave by an outlet; stop if not stated.",
    }),
  return: returnBelt
    .meta({ description: "The belt from the far end back to the head, with end: return; as belt if not stated." })
    .optional(),
}).meta({ description: "A chain." });

const fan = z.int({ error: "ways" }).min(2, { error: "ways" }).max(MOST_WAYS, { error: "ways" });
const ways = z
  .union([fan, z.array(fan, { error: "ways" }).min(1, { error: "ways" })], { error: "ways" })
  .optional()
  .meta({
    default: 3,
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
    "even",
  ).optional(),
  ways,
};

export const treeShape = keys({
  layout: z
    .literal("tree")
    .meta({ description: "Even dividers one below the other: each machine has its share at once." }),
  ...sharedKeys,
}).meta({ description: "A tree; each machine's share of the flow is its need." });

export const loopShape = keys({
  layout: z.literal("loop").meta({
    description: "A tree with more outlets than are wanted; the spare ones lead back before the first divider.",
  }),
  ...sharedKeys,
  return: returnBelt
    .optional()
    .meta({ description: "The belt back to the merge before the first divider; as belt if not stated." }),
}).meta({ description: "A return loop, for numbers that dividers of two and three ways do not part evenly." });

export const lanesShape = keys({
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
  return: returnBelt.optional().meta({
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

export const customBeltShape = keys({
  from: name("A feed, a machine, or a divider or merge of this line."),
  to: name("A machine, an outlet, or a divider or merge of this line."),
  only: names("Item kinds that it lets in; all if not stated.").optional(),
  belt: none.optional().meta({ description: "none: a direct hand-over." }),
  ...beltKeys,
}).meta({ description: "A belt from one element to another." });

export const customShape = keys({
  layout: z.literal("custom").meta({ description: "Dividers, merges and belts one by one." }),
  dividers: named(dividerRule, "Dividers and their rules: one belt to each, two or more from it.").optional(),
  merges: named(rule, "Merges and their rules: two or more belts to each, one from it.").optional(),
  belts: named(customBeltShape, "The belts, in the order of a divider's outlets and a merge's inlets.", 1),
}).meta({ description: "A network written down element by element." });
