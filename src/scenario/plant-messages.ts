/** Findings of what a file says: feeds, machines, belts and lines, limits, tactics, and the network they make. */
import { clean, error, expectation, many, meant, one, quote, warning } from "./message-parts.ts";

export const PLANT_MESSAGES = {
  // Feeds.
  "feed-form": error<"found">(
    (arg) =>
      `a feed states one of rate, profile (rates over time) and batch (vehicles unloaded); this one states ${arg("found") || "none of them"}`,
  ),
  "need-of-several": error(
    () => "a feed of several kinds cannot give what is needed of each; state its rate, or a feed for each kind",
  ),
  "need-steady": error<"found">(
    (arg) =>
      `${quote(arg("found"))} can only be a steady feed's own rate, as in { item: pouch, rate: as needed }; vehicles and profiles state a rate such as 30/min`,
  ),
  "nothing-needed": error<"found" | "item">(
    (arg) =>
      `no machine to which ${quote(arg("found"))} leads takes ${quote(arg("item"))}, so that none is needed; state a rate such as 30/min`,
  ),
  "enough-given": error<"found" | "item">(
    (arg) =>
      `nothing is left for ${quote(arg("found"))} to give: other feeds, and machines that make ${quote(arg("item"))}, give all that is needed; state a rate such as 30/min, or lower theirs`,
  ),
  "need-apart": error<"found" | "item">(
    (arg) =>
      `how much of the need is for ${quote(arg("found"))} is open, since all that give ${quote(arg("item"))} do not lead to the same machines; state a rate such as 30/min`,
  ),
  "need-made": error<"found" | "item">(
    (arg) =>
      `how much is left for ${quote(arg("found"))} to give is open: machines make ${quote(arg("item"))}, too, and are fed less than they need; state a rate such as 30/min`,
  ),
  "near-need": warning<"found" | "needed">(
    (arg) =>
      `its machines need ${arg("needed")}, and ${arg("found")} is fed, so that buffers fill or drain for hours; "rate: as needed" feeds just that`,
  ),
  "feed-items": error<"found">(
    (arg) =>
      `a feed states either item, or items and their proportions such as { red: 3, blue: 2 }; this one states ${arg("found") || "neither"}`,
  ),
  "batch-slow": warning<"found" | "every" | "bring" | "unloaded">(
    (arg) =>
      `unloading a vehicle takes ${arg("found")}, so that vehicles cannot keep their interval of ${arg("every")}: of ${arg("bring")} at most ${arg("unloaded")} are unloaded; one that waits a whole interval puts off the ones after it`,
  ),
  "profile-start": error<"found">((arg) => `a profile starts from 0 min, not from ${quote(arg("found"))}`),
  "profile-order": error<"found" | "before">(
    (arg) => `each step of a profile starts later than the one before: ${arg("found")} after ${arg("before")}`,
  ),
  "profile-zero": error(() => "every rate of this profile is zero; the feed would never feed"),
  "feed-twice": error<"found" | "line">(
    (arg) =>
      `the feed ${quote(arg("found"))} feeds another belt already, on line ${arg("line")}; a divider can share it`,
  ),
  "unused-feed": warning<"found">((arg) => `no line uses the feed ${quote(arg("found"))}`),

  // Machines.
  "buffer-missing": error<"item" | "buffer">(
    (arg) =>
      `${arg("buffer")} states no room for ${quote(arg("item"))}; give every kind its own, or one number for all`,
  ),
  "buffer-item": error<"found" | "nearest" | "buffer">(
    (arg) => `${arg("buffer")}: no cycle has an item ${quote(arg("found"))}${meant(arg("nearest"), "")}`,
  ),
  "buffer-small": error<"found" | "needed" | "item" | "buffer">(
    (arg) =>
      `${arg("buffer")} has room for ${arg("found")}, but one cycle has ${arg("needed")} of ${quote(arg("item"))}`,
  ),
  "speed-count": error<"found" | "needed">(
    (arg) => `${many(arg("found"), "speed")} for ${many(arg("needed"), "machine")}; state one for each, or one for all`,
  ),

  // Belts and junctions.
  "belt-form": error<"found" | "otherwise">(
    (arg) =>
      `a belt states length, speed and pitch (and rate, if less than speed / pitch), or rate and capacity (and transit)${arg("otherwise") && `, or ${arg("otherwise")}`}; this one states ${arg("found") || "nothing"}`,
  ),
  "belt-too-fast": error<"found" | "limit">(
    (arg) => `${quote(arg("found"))}: at this speed and pitch the belt carries at most ${arg("limit")}`,
  ),
  "belt-slow": warning<"found" | "limit" | "needed">(
    (arg) =>
      `with room for ${many(arg("found"), "item")} the belt carries at most ${arg("limit")}; its rate needs room for ${arg("needed")}`,
  ),
  "divider-inlets": error<"found" | "count">(
    (arg) => `the divider ${quote(arg("found"))} needs exactly one belt to it; found ${arg("count")}`,
  ),
  "divider-outlets": error<"found" | "count">(
    (arg) => `the divider ${quote(arg("found"))} needs at least two belts from it; found ${arg("count")}`,
  ),
  "merge-inlets": error<"found" | "count">(
    (arg) => `the merge ${quote(arg("found"))} needs at least two belts to it; found ${arg("count")}`,
  ),
  "merge-outlets": error<"found" | "count">(
    (arg) => `the merge ${quote(arg("found"))} needs exactly one belt from it; found ${arg("count")}`,
  ),

  // Chains.
  "nothing-collected": error<"found" | "makes" | "takes">(
    (arg) =>
      `nobody on this line takes what ${quote(arg("found"))} makes, ${arg("makes")}; taken here: ${arg("takes")}; name a taker in "to", or another source`,
  ),
  "nothing-joins": error<"found">(
    (arg) =>
      `${quote(arg("found"))} is for machines whose products join something else on the way; "from" names no such machine, so remove this`,
  ),
  "unknown-end": error<"found" | "nearest">(
    (arg) => `${quote(arg("found"))} is no end of a chain${meant(arg("nearest"), `; state ${expectation("end")}`)}`,
  ),
  "end-ambiguous": error<"found">(
    (arg) => `${quote(arg("found"))} is an outlet's name, and means something else here; give the outlet another name`,
  ),
  "end-listed": error<"found">(
    (arg) =>
      `the chain ends at ${quote(arg("found"))}, which "to" lists already; remove it there, or state another end`,
  ),
  "return-missing": error(
    () =>
      `a return needs a belt, and this line's belt is none; state one for it, such as return: { rate: 60/min, capacity: 20 }`,
  ),

  // Trees, loops and lanes.
  "shared-kinds": error<"found">(
    (arg) =>
      `this line carries ${arg("found")}; its dividers take turns whatever the kind, so that one kind only might come to a machine or outlet; give each kind a line of its own, or state layout: chain`,
  ),
  "shared-no-need": error<"found" | "kinds">(
    (arg) => `${quote(arg("found"))} takes nothing that this line carries (${arg("kinds")}); remove it from "to"`,
  ),
  "shared-outlet": error<"found">(
    (arg) =>
      `the outlet ${quote(arg("found"))} takes whatever comes, and has no share beside machines' needs; end the line with machines alone, or with outlets alone, which share alike`,
  ),
  "shares-too-fine": error<"limit">(
    (arg) =>
      `the machines' needs are so uneven that their shares come to more than ${arg("limit")} parts or dividers; choose rounder cycles and speeds, or state layout: chain`,
  ),
  "tree-odd": error<"total" | "odd" | "ways" | "parts" | "back" | "below" | "above" | "more" | "weighed" | "what">(
    (arg) => {
      const others = arg("below") && `, or ${arg("below")} or ${arg("above")} ${arg("what")}`;
      const weighed = arg("weighed") && "; with layout: chain, fillfront layouts weighs these";
      const parts = arg("what") === "outlets" ? "the outlets are to get" : "the needs come to";
      return `${parts} ${arg("total")} equal parts, which dividers of ${arg("ways")} cannot make${arg("total") === arg("odd") ? "" : ` (${arg("total")} is divisible by ${arg("odd")})`}; what would do: ${arg("more") && `ways: ${arg("more")}, or `}layout: loop, with ${arg("back")} of ${arg("parts")} parts returned${others}, or a chain for the ${arg("what")} that are left over${weighed}`;
    },
  ),
  "weights-unknown": error<"found" | "belt" | "belts">(
    (arg) => `no belt ${quote(arg("belt"))} leads from ${quote(arg("found"))}; from it lead ${arg("belts")}`,
  ),
  "weights-missing": error<"found" | "belt" | "belts">(
    (arg) =>
      `the belt ${quote(arg("belt"))} from ${quote(arg("found"))} has no weight; state one for each of ${arg("belts")}`,
  ),
  "weights-outlet": error<"found">(
    (arg) =>
      `${quote(arg("found"))} needs nothing of what the chain carries, by which weighted dividers could share; remove it from "to", or state other dividers`,
  ),
  "weights-too-fine": error<"limit">(
    (arg) =>
      `the machines' needs are so uneven that weighted dividers would take more than ${arg("limit")} turns; choose rounder cycles and speeds, or state dividers: even`,
  ),
  "nothing-returns": warning<"total" | "weighed">((arg) => {
    const instead = arg("weighed")
      ? "and nothing returns; layout: tree says so"
      : "so that nothing returns: a tree does the same without a return";
    return `dividers part the flow into just the ${arg("total")} parts that are needed, ${instead}`;
  }),
  "belt-short": warning<"found" | "flow" | "rate" | "lack" | "input" | "over" | "alone">((arg) => {
    const alone = arg("alone") && `; ${quote(arg("alone"))} fed by a line of its own`;
    const cut =
      arg("input") && `; a feed cut to ${arg("input")} first${alone}; a chain beside it for ${arg("over")} of the feed`;
    return `${quote(arg("found"))} is to carry ${arg("flow")}, which is ${arg("lack")} more than its ${arg("rate")}; what would do: a belt of ${arg("flow")}${cut}`;
  }),
  "lanes-return": error<"count">(
    (arg) =>
      `with ${many(arg("count"), "outgoing lane")} nothing returns, since dividers make just as many parts; remove this`,
  ),
  "lane-short": warning<"found" | "flow" | "rate" | "lack" | "source" | "input" | "over" | "lanes">((arg) => {
    const cut = arg("source")
      ? `${quote(arg("source"))} cut to ${arg("input")} first, or ${arg("over")} of it on a lane more`
      : `all that comes in cut to ${arg("input")} first`;
    const lanes = arg("lanes") && `; ${many(arg("lanes"), "outgoing lane")}`;
    return `${quote(arg("found"))} is to carry ${arg("flow")}, which is ${arg("lack")} more than its ${arg("rate")}; what would do: a belt of ${arg("flow")}; ${cut}${lanes}`;
  }),

  // Limits.
  "place-ambiguous": error<"found" | "is">(
    (arg) => `${quote(arg("found"))} is a line, and ${one(arg("is"))} too; give one of them another name`,
  ),
  "no-surge": error<"found">(
    (arg) =>
      `the feed ${quote(arg("found"))} has no surge buffer, where items could lie; state its surge, or name a line or machine`,
  ),

  // Tactics.
  "reserved-name": error<"found">(
    (arg) => `${quote(arg("found"))} stands for the run without any tactic; give this one another name`,
  ),
  "needs-key": error<"found" | "needed">(
    (arg) => `${quote(arg("found"))} means something only with ${quote(arg("needed"))}; state that too, or remove this`,
  ),
  "prefill-form": error(
    () => "prefill-of goes with one amount for every buffer; amounts by machine say already which buffers",
  ),
  "belts-while-running": error(
    () => "belts move by then, and are not loaded while the line runs; remove prefill-belts, or let the line stand",
  ),
  "two-starts": error<"found" | "beside">(
    (arg) => `${arg("beside")} and ${arg("found")} both say when machines start; keep one of them`,
  ),
  "amount-too-large": error<"found" | "capacity" | "item" | "machine">(
    (arg) =>
      `${many(arg("found"), "item")} in a buffer of ${quote(arg("machine"))}, which has room for ${arg("capacity")} of ${quote(arg("item"))}`,
  ),

  // The network as a whole.
  "unreachable-machine": warning<"found" | "item">(
    (arg) => `no ${quote(arg("item"))} can come to the machine ${quote(arg("found"))}; it will never run`,
  ),
  "unreachable-outlet": warning<"found" | "item">(
    (arg) => `no ${quote(arg("item"))} can come to the outlet ${quote(arg("found"))}; nothing will ever leave there`,
  ),
  "plant-loop": error<"circle">(
    (arg) =>
      `what these machines make comes back to them: ${clean(arg("circle"), 200)}; take one of them out of a line's from or to`,
  ),
  "merge-direct": error<"found" | "belt">(
    (arg) =>
      `${quote(arg("belt"))} hands over to the merge ${quote(arg("found"))} without a belt, which only a feed can; state a belt`,
  ),
  "direct-too-deep": error<"found" | "limit">(
    (arg) =>
      `more than ${arg("limit")} dividers hand over directly one after another, at ${quote(arg("found"))}; put a belt between`,
  ),
  "tick-too-long": error<"found" | "limit" | "element">(
    (arg) => `a tick of ${arg("found")} is too long for ${quote(arg("element"))}; at most ${arg("limit")}, or auto`,
  ),
  "too-fine": error<"element">(
    (arg) =>
      `${quote(arg("element"))}: its time and the tick together are too fine or too long to count; choose rounder ones`,
  ),
  "horizon-too-short": error<"found" | "tick">(
    (arg) => `a horizon of ${arg("found")} holds not one tick of ${arg("tick")}`,
  ),
  "step-after-horizon": warning<"found" | "horizon">(
    (arg) => `the step from ${arg("found")} begins after the horizon of ${arg("horizon")} and is left out`,
  ),
  "vehicle-after-horizon": warning<"found" | "horizon">(
    (arg) => `the first vehicle comes at ${arg("found")}, after the horizon of ${arg("horizon")}: nothing is ever fed`,
  ),
  "run-too-long": error<"ticks" | "elements">(
    (arg) =>
      `${arg("ticks")} ticks of ${arg("elements")} elements are too many to step through; shorten the horizon or lengthen the tick`,
  ),
};
