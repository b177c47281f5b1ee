/** What a line is, for the terminal: elements, needs against feed, belts without headroom, machines out of reach. */
import type { BeltFacts, ItemFacts, LineFacts } from "../analysis/line-facts.ts";
import { approximately, below, duration, plain, rate, significant } from "./figures.ts";
import { PLAIN_STYLE, type Style } from "./summary.ts";
import { table } from "./table.ts";
import { oneLine, wrap } from "./text-width.ts";

const COLUMNS = 80;

/** @returns lines with a line break at the end of each */
export function lineFactsText(facts: LineFacts, style: Style = PLAIN_STYLE): string {
  const lines = [
    ...wrap(oneLine(facts.title), COLUMNS).map(style.title),
    "",
    ...wrap(`${elements(facts)}; tick ${facts.tick_s}\u00a0s, horizon ${duration(facts.horizon_min)}.`, COLUMNS),
    "",
    ...needs(facts.items, style),
    "",
    ...headroom(facts, style),
    "",
    ...reach(facts, style),
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function elements({ elements: counts }: LineFacts): string {
  const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;
  return [
    counted(counts.feeds, "feed"),
    counted(counts.machines, "machine"),
    counted(counts.dividers, "divider"),
    counted(counts.merges, "merge"),
    counted(counts.belts, "belt"),
    counted(counts.hand_overs, "direct hand-over"),
    counted(counts.outlets, "outlet"),
  ]
    .filter((part) => !part.startsWith("0 "))
    .join(", ");
}

function needs(items: readonly ItemFacts[], style: Style): string[] {
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
      column(["", "so there is"], (item) => balance(item)),
    ],
    COLUMNS,
  );
  return [...heading.map(style.heading), ...rows];
}

function balance(item: ItemFacts): string {
  const needed = approximately(item.needed_per_min);
  const there = approximately(item.fed_per_min) + approximately(item.made_per_min);
  if (needed === 0) return there > 0 ? "product" : "–";
  const difference = there - needed;
  if (Math.abs(difference) < needed * 1e-9) return "just enough";
  return difference > 0 ? `${rate(difference)} to spare` : `${rate(-difference)} too little`;
}

function headroom(facts: LineFacts, style: Style): string[] {
  const { belts, no_flow: noFlow } = facts;
  if (noFlow !== null) return wrap(`The flow on the belts is not known beforehand: ${noFlow}.`, COLUMNS);
  const [tightest] = belts.toSorted((a, b) => headroomOf(a) - headroomOf(b));
  if (tightest === undefined) return ["There are no belts."];
  const full = belts.filter((belt) => headroomOf(belt) <= 0);
  if (full.length === 0) {
    const most = `${rate(approximately(tightest.flow_per_min ?? "0"))} of ${rate(approximately(tightest.rate_per_min))}`;
    return wrap(
      `Every belt has headroom; the least is ${rate(headroomOf(tightest))}, on ${tightest.id} (${most}).`,
      COLUMNS,
    );
  }
  const head = headBelt(facts, full);
  const others = full.filter((belt) => belt !== head?.belt);
  const names = others.map(({ id, rate_per_min: most }) => `${id} (${rate(approximately(most))})`).join(", ");
  const texts = head === null ? [] : [head.text];
  if (others.length > 0) texts.push(`Belts without headroom once settled: ${names}.`);
  return texts.flatMap((text) => wrap(text, COLUMNS).map(style.warning));
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
  const limit = approximately(belt.rate_per_min);
  const wanted = Math.min(approximately(fed.fed_per_min), approximately(fed.needed_per_min));
  const rush = approximately(fed.fed_at_most_per_min);
  if (below(limit, wanted)) {
    return { belt, text: `${belt.id} carries only ${significant(limit)} of the ${rate(wanted)} needed.` };
  }
  if (!below(limit, rush)) return null;
  return { belt, text: `The feed's rush of ${rate(rush)} is more than ${belt.id} carries (${rate(limit)}).` };
}

function reach({ unreachable }: LineFacts, style: Style): string[] {
  if (unreachable.length === 0) return ["Every machine can be reached."];
  return wrap(`Machines that can't be reached: ${unreachable.join(", ")}.`, COLUMNS).map(style.warning);
}
