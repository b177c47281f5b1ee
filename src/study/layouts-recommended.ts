/** The layout to build by what is wanted first, and why, in figures. */
import type { LayoutResult, Priority } from "./layout-results.ts";
import { elementsIn, junctions, makes, rounded } from "./layouts-weighed.ts";

interface Criterion {
  /** The less the better; `null` is worse than any. */
  readonly of: (layout: LayoutResult) => number | null;
  /** "settles soonest, at" … */
  readonly best: string;
  /** Where another is as good: "settles as soon, at" … */
  readonly same: string;
  readonly text: (layout: LayoutResult) => string;
}

const SETTLING: Criterion = {
  of: ({ settling_min: settling }) => settling,
  best: "settles soonest, at",
  same: "settles as soon, at",
  text: ({ settling_min: settling }) => (settling === null ? "no time within the horizon" : minutes(settling)),
};
const LOSS: Criterion = {
  of: ({ ramp_up_loss: loss }) => loss,
  best: "loses least on the way,",
  same: "loses as much on the way,",
  text: ({ ramp_up_loss: loss }) => (loss === null ? "an unknown number of items" : count(loss, "item")),
};
const FLOOR: Criterion = {
  of: ({ floor_m2: floor }) => floor,
  best: "takes the least floor,",
  same: "takes as much floor,",
  text: ({ floor_m2: floor }) => (floor === null ? "an unknown area" : `${figure(floor)} m²`),
};
const ELEMENTS: Criterion = {
  of: junctions,
  best: "has the fewest dividers and merges,",
  same: "has as many dividers and merges,",
  text: (layout) => String(junctions(layout) ?? "unknown"),
};
const EVENNESS: Criterion = {
  of: ({ evenness_at_half_feed: evenness }) => (evenness === null ? null : -evenness),
  best: "shares half the feed most evenly, with Jain's index at",
  same: "shares half the feed as evenly, with Jain's index at",
  text: ({ evenness_at_half_feed: evenness }) => (evenness === null ? "no known value" : figure(evenness)),
};
const HOLD_UP: Criterion = {
  of: ({ hold_up_settled: holdUp }) => holdUp,
  best: "holds least once settled,",
  same: "holds as much once settled,",
  text: ({ hold_up_settled: holdUp }) => (holdUp === null ? "an unknown number of items" : count(holdUp, "item")),
};
const PEAK: Criterion = {
  of: ({ hold_up_peak: peak }) => peak,
  best: "holds least at its peak,",
  same: "holds as much at its peak,",
  text: ({ hold_up_peak: peak }) => (peak === null ? "an unknown number of items" : count(peak, "item")),
};
const TORN_OUT: Criterion = {
  of: ({ one_more: more }) => more && elementsIn(more.torn_out),
  best: "has the least torn out for one machine more,",
  same: "has as much torn out for one machine more,",
  text: ({ one_more: more }) =>
    more === null ? "an unknown number of elements" : count(elementsIn(more.torn_out), "element"),
};
const ADDED: Criterion = {
  of: ({ one_more: more }) => more && elementsIn(more.added),
  best: "has the least added for it,",
  same: "has as much added for it,",
  text: ({ one_more: more }) =>
    more === null ? "an unknown number of elements" : count(elementsIn(more.added), "element"),
};

/** What is wanted first, then what decides between equals. */
const CRITERIA: Readonly<Record<Priority, readonly Criterion[]>> = {
  fast: [SETTLING, LOSS],
  small: [FLOOR, ELEMENTS],
  even: [EVENNESS, SETTLING],
  "low-stock": [HOLD_UP, PEAK],
  growth: [TORN_OUT, ADDED, SETTLING],
};

/** Between those that are alike in all that the priority asks for. */
const FURTHER: readonly Criterion[] = [SETTLING, LOSS, ELEMENTS, FLOOR, HOLD_UP];

export interface Recommendation {
  readonly recommended: string | null;
  /** In a sentence, without a full stop. */
  readonly because: string;
}

export function recommendationOf(layouts: readonly LayoutResult[], priority: Priority): Recommendation {
  const feasible = layouts.filter((layout) => layout.feasible);
  if (feasible.length === 0) return { recommended: null, because: "none of the layouts can be built as the line is" };
  const most = Math.max(...feasible.map(makes));
  if (most === 0) return { recommended: null, because: "nothing is made in the long run, whatever the layout" };
  const inOrder = (all: readonly LayoutResult[]): LayoutResult[] =>
    all
      .filter((layout) => makes(layout) === most)
      .toSorted((a, b) => compared([...CRITERIA[priority], ...FURTHER], a, b));
  const [first] = inOrder(feasible.filter(({ undominated }) => undominated));
  if (first === undefined) return { recommended: null, because: "none of the layouts makes the most and is unbeaten" };
  const others = inOrder(feasible.filter((layout) => layout !== first));
  const other = others.find(({ id }) => id === "chain") ?? others[0];
  return { recommended: first.id, because: reasonFor(first, other, feasible.length, priority) };
}

function compared(criteria: readonly Criterion[], a: LayoutResult, b: LayoutResult): number {
  for (const { of } of criteria) {
    const [ofA, ofB] = [rankOf(of(a)), rankOf(of(b))];
    if (ofA !== ofB) return ofA < ofB ? -1 : 1;
  }
  return 0;
}

function rankOf(value: number | null): number {
  return value === null ? Infinity : rounded(value);
}

function reasonFor(first: LayoutResult, other: LayoutResult | undefined, feasible: number, priority: Priority): string {
  const [wanted] = CRITERIA[priority];
  if (wanted === undefined) return "";
  if (other === undefined) {
    const alone = feasible === 1 ? "is the only one that can be built" : "makes the most in the long run";
    return `${first.id} ${alone}; it ${wanted.best.replace(/ (?:soonest|least|most evenly)/, "")} ${wanted.text(first)}`;
  }
  return `${first.id} ${comparedText(CRITERIA[priority], first, other)}, with ${dividersText(first, other)}`;
}

/** As far as the first criterion in which they differ. */
function comparedText(criteria: readonly Criterion[], first: LayoutResult, other: LayoutResult): string {
  const parts: string[] = [];
  for (const criterion of criteria) {
    const own = criterion.text(first);
    if (compared([criterion], first, other) === 0) {
      parts.push(`${criterion.same} ${own}`);
      continue;
    }
    parts.push(`${criterion.best} ${own} instead of ${criterion.text(other)} for ${nameOf(other)}`);
    return parts.join(" and ");
  }
  return `${parts.join(" and ")}, as ${nameOf(other)} does`;
}

function dividersText(first: LayoutResult, other: LayoutResult): string {
  const text = ({ dividers, merges }: LayoutResult): string =>
    `${count(dividers ?? 0, "divider")}${merges ? ` and ${count(merges, "merge")}` : ""}`;
  const [own, there] = [text(first), text(other)];
  return own === there ? `${own} as there` : `${own} instead of ${there}`;
}

function nameOf({ id }: LayoutResult): string {
  return id === "chain" || id === "tree" || id === "loop" ? `the ${id}` : id;
}

function minutes(value: number): string {
  return `${figure(value)} min`;
}

function count(value: number, what: string): string {
  const shown = Math.abs(value) >= 10 ? String(Math.round(value)) : figure(value);
  return `${shown} ${what}${shown === "1" ? "" : "s"}`;
}

function figure(value: number): string {
  return String(Number(value.toPrecision(3)));
}
