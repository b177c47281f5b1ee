/** What a line is, for the terminal: elements, needs against feed, belts without headroom, machines out of reach. */

import type {
  BatchFacts,
  BeltFacts,
  CutFacts,
  ItemFacts,
  LanesFacts,
  LimitFacts,
  LineFacts,
  OverfedFacts,
} from "../../analysis/line-facts.ts";
import type { MixedLine } from "../../analysis/mixed-lines.ts";
import { groupBy } from "../../quantity/counts.ts";
import { rational } from "../../quantity/rational.ts";
import { formatRate } from "../../quantity/units.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import {
  approximately,
  below,
  duration,
  items,
  listed,
  listedShort,
  number,
  rate,
  significant,
} from "../text/figures.ts";
import { table } from "../text/table.ts";
import { COLUMNS, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";

/** A sentence about the line; in the answer it goes without its label and full stop. */
interface Said extends Omit<AnswerLine, "text"> {
  readonly sentence: string;
}

/** @returns lines with a line break at the end of each */
export function lineFactsText(facts: LineFacts, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const said: readonly Said[] = [
    {
      what: "Line",
      sentence: `${elements(facts)}; tick ${facts.tick_s}\u00a0s, horizon ${duration(facts.horizon_min)}.`,
    },
    ...enough(facts),
    ...headroom(facts),
    ...reach(facts),
    ...planned(facts),
  ];
  const page = {
    title: facts.title,
    answer: said.map(inAnswer),
    table: needs(facts, style),
    details: said.map(({ sentence, isBad }) =>
      wrap(sentence, COLUMNS).map(isBad === true ? style.warning : (line) => line),
    ),
  };
  return pageText(page, style, shown);
}

function inAnswer({ what, sentence, ...rest }: Said): AnswerLine {
  const text = sentence
    .replace(new RegExp(`^(?:The |Outgoing )?${what}:? `, "i"), "")
    .replace(/^(?:Enough|Every|The|There|Machines|A|Line) /, (word) => word.toLowerCase())
    .replace(/\.$/, "");
  return { what, text, ...rest };
}

function elements({ elements: counts }: LineFacts): string {
  const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;
  return [
    counted(counts.feeds, "feed"),
    counted(counts.machines, "machine"),
    counted(counts.dividers, "divider"),
    counted(counts.merges, "merge"),
    counted(counts.surge_buffers, "surge buffer"),
    counted(counts.belts, "belt"),
    counted(counts.hand_overs, "direct hand-over"),
    counted(counts.outlets, "outlet"),
  ]
    .filter((part) => !part.startsWith("0 "))
    .join(", ");
}

function needs({ items, mixed_lines: mixed }: LineFacts, style: Style): string[] {
  const stuck = new Set(mixed.flatMap(({ without_outlet: kinds }) => kinds));
  const figure = (value: string): string => (value === "0" ? "–" : significant(approximately(value)));
  const column = (heading: string[], cell: (item: ItemFacts) => string) => ({
    heading,
    cells: items.map(cell),
    align: "right" as const,
    importance: 1,
  });
  const { heading, rows } = table(
    [
      { heading: ["item"], cells: items.map(({ item }) => item), align: "left", importance: 2 },
      column(["fed", "/min"], ({ fed_per_min: fed, fed_at_most_per_min: most }) =>
        most === fed ? figure(fed) : `${figure(fed)}, at most ${figure(most)}`,
      ),
      column(["made", "/min"], ({ made_per_min: made }) => figure(made)),
      column(["needed", "/min"], ({ needed_per_min: needed }) => figure(needed)),
      column(["", "so there is"], (item) => balance(item, stuck.has(item.item))),
    ],
    COLUMNS,
  );
  return [...heading.map(style.heading), ...rows];
}

/** Whether there is as much of each kind as machines take. */
function enough({ items: all, mixed_lines: mixed }: LineFacts): Said[] {
  const stuck = new Set(mixed.flatMap(({ without_outlet: kinds }) => kinds));
  const taken = all.filter(({ needed_per_min: needed }) => needed !== "0");
  if (taken.length === 0) return [];
  const wrong = taken.flatMap((item) => {
    const text = balance(item, stuck.has(item.item));
    return /too (?:little|much)/.test(text) ? [`${oneLine(item.item)} ${text}`] : [];
  });
  return wrong.length === 0
    ? [{ what: "Feed", sentence: "Enough of every kind that machines take." }]
    : [{ what: "Feed", sentence: `${listedShort(wrong)}.`, isBad: true }];
}

/** @param isStuck whether it shares a belt with another kind, and no outlet takes it */
function balance(item: ItemFacts, isStuck: boolean): string {
  const needed = approximately(item.needed_per_min);
  const there = approximately(item.fed_per_min) + approximately(item.made_per_min);
  if (needed === 0) return there > 0 ? "product" : "–";
  const difference = there - needed;
  if (Math.abs(difference) < needed * 1e-9) return "just enough";
  if (difference > 0 && isStuck) return `${rate(difference)} too much, with nowhere to go`;
  return difference > 0 ? `${rate(difference)} to spare` : `${rate(-difference)} too little`;
}

function headroom(facts: LineFacts): Said[] {
  const { cuts, no_flow: noFlow } = facts;
  // A belt that cuts its rate out of a flow is to have none.
  const belts = facts.belts.filter(({ id }) => cuts.every(({ belt }) => belt !== id));
  const said = (sentence: string, isBad = false): Said => ({ what: "Belts", sentence, isBad });
  if (noFlow !== null) {
    const [why, ...further] = facts.overfed.length === 0 ? [`${noFlow}.`] : facts.overfed.map(overfedText);
    return [said([`The flow on the belts is not known beforehand: ${why}`, ...further].join(" "))];
  }
  const [tightest] = belts.toSorted((a, b) => headroomOf(a) - headroomOf(b));
  if (tightest === undefined) return [said("There are no belts.")];
  const full = belts.filter((belt) => headroomOf(belt) <= 0);
  if (full.length === 0) {
    const most = `${rate(approximately(tightest.flow_per_min ?? "0"))} of ${rate(approximately(tightest.at_most_per_min))}`;
    const which = cuts.length === 0 ? "Every belt" : "Every belt but that of a rate cut";
    return [
      said(`${which} has headroom; the least is ${rate(headroomOf(tightest))}, on ${oneLine(tightest.id)} (${most}).`),
    ];
  }
  const head = headBelt(facts, full);
  const others = full.filter((belt) => belt !== head?.belt);
  const names = others.map(({ id, at_most_per_min: most }) => `${oneLine(id)} (${rate(approximately(most))})`);
  const texts = head === null ? [] : [head.text];
  if (others.length > 0) texts.push(`Belts without headroom once settled: ${names.join(", ")}.`);
  return texts.map((text) => said(text, true));
}

function overfedText({ line, belt, ...facts }: OverfedFacts): string {
  const [fed, takes, planned, most] = [
    facts.fed_per_min,
    facts.takes_per_min,
    facts.planned_per_min,
    facts.at_most_per_min,
  ].map((perMin) => rate(approximately(perMin)));
  return `the feed of ${oneLine(line)} brings ${fed}, more than the ${takes} that its machines take, and what they refuse comes back too. Fed just ${takes}, ${oneLine(belt)} would carry ${planned} of ${most}.`;
}

function headroomOf({ headroom_per_min: left }: BeltFacts): number {
  return left === null ? Infinity : approximately(left);
}

/**
 * Behind a single feed, the belt at its limit that carries more than every other, and so all of the feed, if it keeps
 * some of it back: what is needed for good, or a rush that is over later.
 */
function headBelt({ belts, items, elements: counts }: LineFacts, full: readonly BeltFacts[]) {
  const carried = ({ flow_per_min: flow }: BeltFacts): number => approximately(flow ?? "0");
  const most = Math.max(...belts.map(carried));
  const [belt, ...others] = full.filter((one) => !below(carried(one), most));
  const fed = items.find(({ fed_at_most_per_min: rush }) => approximately(rush) > 0);
  if (counts.feeds !== 1 || belt === undefined || others.length > 0 || fed === undefined) return null;
  const limit = approximately(belt.at_most_per_min);
  const wanted = Math.min(approximately(fed.fed_per_min), approximately(fed.needed_per_min));
  const rush = approximately(fed.fed_at_most_per_min);
  if (below(limit, wanted)) {
    return { belt, text: `${belt.id} carries only ${significant(limit)} of the ${rate(wanted)} needed.` };
  }
  if (!below(limit, rush)) return null;
  return { belt, text: `The feed's rush of ${rate(rush)} is more than ${belt.id} carries (${rate(limit)}).` };
}

/** What is built in on purpose: trees, lanes, rate cuts, vehicles, surge buffers, limits. */
function planned({ cuts, batches, lanes, limits, mixed_lines: mixed, plans, least_belts: least }: LineFacts): Said[] {
  const told = (what: string, sentences: readonly string[]): Said[] =>
    sentences.map((sentence) => ({ what, sentence, isMore: true }));
  return [
    ...mixed.map((line) => ({ what: "Mind", sentence: mixText(line), isBad: line.without_outlet.length > 0 })),
    ...told("Limits", limitTexts(limits)),
    ...told("Rate cut", cuts.map(cutText)),
    ...told("Vehicles", batches.map(batchText)),
    ...told("Lanes", lanes.flatMap(lanesTexts)),
    ...told("Least", leastBeltTexts(least)),
    ...told("Dividers", plans.map(planText)),
  ];
}

/** The least that would do, a sentence a line. */
function leastBeltTexts(least: LineFacts["least_belts"]): string[] {
  return [...groupBy(least, ({ line }) => line)].map(([line, own]) => {
    const parts = own.map(({ key, least_per_min: needed, rate_per_min: carried }) => {
      const isShort = rational(needed).compare(rational(carried)) > 0;
      return `${key} ${formatRate(rational(needed))}${isShort ? ` (it carries ${formatRate(rational(carried))})` : ""}`;
    });
    return `The least belts that would do in ${oneLine(line)}: ${listed(parts)}.`;
  });
}

/** Whether fewer dividers could do. */
function planText({ line, dividers, at_least: least }: LineFacts["plans"][number]): string {
  const of = `Dividers of ${oneLine(line)}: ${dividers}, the fewest`;
  return dividers === least
    ? `${of} for parts no finer than its shares need.`
    : `${of} found; at least ${least} are needed.`;
}

/** Outgoing lanes of the same rate together; nothing where rates are not known exactly. */
function lanesTexts({ line, outgoing }: LanesFacts): string[] {
  const byRate = new Map<string, string[]>();
  for (const { to, flow_per_min: flow } of outgoing) {
    if (flow === null) return [];
    byRate.set(flow, [...(byRate.get(flow) ?? []), oneLine(to)]);
  }
  const parts = [...byRate].map(([flow, to]) => {
    return `${rate(approximately(flow))}${to.length > 1 ? " each" : ""} to ${listedShort(to, 8)}`;
  });
  return [`Outgoing lanes of ${oneLine(line)}: ${parts.join("; ")}.`];
}

function mixText({ line, items: kinds }: MixedLine): string {
  return `Line ${oneLine(line)} carries ${listedShort(kinds.map(oneLine))} on one belt: a kind that finds no room stands there and holds up the others; fillfront run shows whether it does.`;
}

function cutText({ divider, belt, cut_per_min: cut, arriving_per_min: arriving }: CutFacts): string {
  const most = approximately(cut);
  const what = `${oneLine(divider)} takes ${rate(most)} out of its flow, what ${oneLine(belt)} carries`;
  if (arriving === null) return `${what}, and passes on the rest.`;
  const comes = approximately(arriving);
  return below(comes, most)
    ? `${what}; only ${rate(comes)} arrives, so that nothing is passed on.`
    : `${what}; ${rate(comes)} arrives, and ${rate(comes - most)} is passed on.`;
}

function batchText({ feed, vehicles, surge_room: room }: BatchFacts): string {
  const buffer = room === null ? "no surge buffer" : `a surge buffer for ${items(room)}`;
  if (vehicles === null) return `${oneLine(feed)} has ${buffer}.`;
  const [every, unloading, bring] = [vehicles.every_min, vehicles.unloading_per_min, vehicles.bring_per_min].map(
    approximately,
  );
  return `A vehicle with ${items(vehicles.items)} comes to ${oneLine(feed)} every ${duration(every ?? 0)}, ${rate(bring ?? 0)} on average; it is unloaded at ${rate(unloading ?? 0)}, with ${buffer}.`;
}

function limitTexts(limits: readonly LimitFacts[]): string[] {
  if (limits.length === 0) return [];
  const texts = limits.map(({ what, place, item, limit }) => {
    const kind = item === null ? "items" : oneLine(item);
    const at = place === null ? "" : ` at ${oneLine(place)}`;
    return what === "hold-up"
      ? `${number(limit)} ${kind}${at}`
      : `${duration(limit)} for ${item === null ? "any item" : kind}`;
  });
  return [`Limits: ${listedShort(texts, 8)}.`];
}

function reach({ unreachable, elements: { machines } }: LineFacts): Said[] {
  if (machines === 0) return [];
  return unreachable.length === 0
    ? [{ what: "Reach", sentence: "Every machine can be reached." }]
    : [
        {
          what: "Reach",
          sentence: `Machines that can't be reached: ${unreachable.map(oneLine).join(", ")}.`,
          isBad: true,
        },
      ];
}
