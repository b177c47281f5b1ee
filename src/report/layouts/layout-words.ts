/** A layout in words: how it is drawn up, what is assumed of it, why it cannot be built or makes less, and what is weighed. */
import { waysText } from "../../quantity/counts.ts";
import { rational } from "../../quantity/rational.ts";
import { formatRate } from "../../quantity/units.ts";
import type {
  Assumption,
  Does,
  LayoutResult,
  LayoutStudy,
  Reason,
  WeightName,
} from "../../study/layouts/layout-results.ts";
import { fourDigits } from "../text/tactic-words.ts";

/** In a phrase, with what is assumed. */
export function doesText({ does, assuming }: Pick<LayoutResult, "does" | "assuming">): string {
  if (assuming === null) return drawnText(does);
  return `${drawnText(does)}, ${assuming.what === "stated-lengths" ? "as the line stands" : assumingText(assuming)}`;
}

/** Each under the plant's title and what it does. */
export function titledLayouts<One extends { readonly title: string }>(
  { title, layouts }: LayoutStudy,
  all: ReadonlyMap<string, One>,
): Map<string, One> {
  const does = new Map(layouts.map((layout) => [layout.id, doesText(layout)]));
  return new Map([...all].map(([id, one]) => [id, { ...one, title: `${title}: ${does.get(id) ?? ""}` }]));
}

const SERVING: Readonly<Record<Extract<Does, { as: "chain" }>["dividers"], string>> = {
  even: "a chain of even dividers",
  weighted: "a chain of dividers weighted by the machines' needs",
  "branch-first": "a chain of dividers that serve the branch first",
  "through-first": "a chain of dividers that serve the through belt first",
};

function drawnText(does: Does): string {
  switch (does.as) {
    case "chain":
      return SERVING[does.dividers];
    case "tree":
    case "loop": {
      const dividers = does.ways === null ? "" : ` of dividers of ${waysText(does.ways)}`;
      const returned = does.as === "tree" ? null : does.returned;
      return `a ${does.as}${dividers}${returned === null ? "" : `, with ${returned.parts} of ${returned.of} parts returned`}`;
    }
    case "tree-of-chains": {
      const { groups, size, otherSize, of } = does;
      return `a tree of ${groups} chains of ${otherSize === null ? "" : `${otherSize} or `}${size} ${of}s`;
    }
    case "chain-of-trees": {
      const { groups, size, otherSize, of } = does;
      const other = otherSize === 1 ? `a single ${of}` : `of ${otherSize}`;
      return `a chain of ${groups} trees of ${size} ${of}s${otherSize === null ? "" : `, the last one ${other}`}`;
    }
  }
}

/** "if a belt of 405/min in place of 390/min". */
export function assumingText(assuming: Assumption): string {
  switch (assuming.what) {
    case "stated-lengths":
      return "belts of the stated lengths";
    case "faster-belts": {
      const rate = (perMin: string): string => formatRate(rational(perMin));
      const belts = assuming.belts.map((one) => `a belt of ${rate(one.per_min)} in place of ${rate(one.before)}`);
      return `if ${belts.join(" and ")}`;
    }
    case "one-more":
      return `if one ${assuming.of} more`;
    case "one-fewer":
      return `if one ${assuming.of} fewer`;
    case "cut-first": {
      const { cut, left, of } = assuming;
      return `if ${cut === 1 ? `one ${of} is` : `${cut} ${of}s are`} cut off first, in a chain before a tree of ${left}`;
    }
  }
}

/** Without a full stop. */
export function reasonText(reason: Reason): string {
  if (reason.why !== "makes-less") return reason.findings.join(reason.why === "drawn-so" ? "; and " : "; ");
  const { makes, best, best_makes: most } = reason;
  const own = makes === 0 ? "it comes to a standstill" : `it is slower for good: it settles at ${fourDigits(makes)}`;
  return `${own}, where ${best} makes ${fourDigits(most)}`;
}

/** What is weighed, in its order. */
export const WEIGHED: Readonly<Record<WeightName, string>> = {
  output: "settled output",
  limits: "limits kept",
  settling: "settling time",
  loss: "ramp-up loss",
  "hold-up": "settled hold-up",
  reserve: "stock left in the buffers",
  evenness: "evenness on half the feed",
  junctions: "dividers and merges",
  floor: "floor",
  "torn-out": "elements torn out for one more",
};
