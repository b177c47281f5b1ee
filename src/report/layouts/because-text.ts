/** Why a layout is recommended, in a sentence without a full stop. */
import { inMinorUnits, measured } from "../../quantity/money.ts";
import { areaIn, type LengthUnit, lengthIn } from "../../quantity/units.ts";
import type {
  Asked,
  Because,
  Better,
  CriterionName,
  Decided,
  Junctions,
  LayoutMoney,
  LayoutPrimed,
  LayoutResult,
  LayoutStudy,
  NotTold,
  Priority,
} from "../../study/layouts/layout-results.ts";
import { type Told, tacticText } from "../text/tactic-words.ts";
import { TODAY } from "./layout-figures.ts";
import { assumingText, doesText, reasonText } from "./layout-words.ts";

type Of = Pick<LayoutStudy, "length_unit" | "layouts">;

export function becauseText(because: Because, study: Of): string {
  switch (because.why) {
    case "none-buildable":
      return "none of the layouts can be built as the line is";
    case "nothing-made":
      return "nothing is made in the long run, whatever the layout";
    case "none-unbeaten":
      return "none of the layouts makes the most and is unbeaten";
    case "too-few-replications":
      return "too few replications have what is wanted to tell the layouts apart";
    case "none-leads":
      return "none leads";
    case "leads":
      return because.breaksLimits
        ? `${because.id} leads, but breaks limits that others keep`
        : `${because.id} ${LEADS[because.priority]}, told apart from every other layout`;
    case "alone": {
      const { id, asked, figure, priority } = because;
      const only = `${subjectOf(id)} is the only one ${asked.length === 0 ? "that can be built" : `to ${askedText(asked)}`}`;
      const { criterion, words } = ALONE[priority];
      return figure === null ? only : `${only}; ${words} ${CRITERIA[criterion].text(figure, DIGITS, inUnits(study))}`;
    }
    case "better": {
      const among = because.asked.length === 0 ? "" : `, of those that ${askedText(because.asked)},`;
      return `${subjectOf(because.id)}${among} ${comparedText(because, inUnits(study))}`;
    }
    case "not-told":
      return notTold(because);
  }
}

/** What `layouts --json` prints. */
export interface LayoutsTold
  extends Omit<LayoutStudy, "layouts" | "recommended_because" | "best_without_reserve_because"> {
  readonly layouts: readonly LayoutTold[];
  /** In a sentence. */
  readonly recommended_because: string;
  /** What it is better in, in a sentence. */
  readonly best_without_reserve_because: string | null;
}

interface LayoutTold extends Omit<LayoutResult, "does" | "assuming" | "reason" | "primed"> {
  /** In a phrase. */
  readonly does: string;
  readonly assuming: string | null;
  readonly reason: string | null;
  readonly primed: Told<LayoutPrimed> | null;
}

export function layoutsTold(study: LayoutStudy): LayoutsTold {
  const { recommended_because: because, best_without_reserve_because: other, layouts } = study;
  return {
    ...study,
    layouts: layouts.map((layout) => ({
      ...layout,
      does: doesText(layout),
      assuming: layout.assuming && assumingText(layout.assuming),
      reason: layout.reason && reasonText(layout.reason),
      primed: layout.primed && { ...layout.primed, does: tacticText(layout.primed.does) },
    })),
    recommended_because: becauseText(because, study),
    best_without_reserve_because: other && becauseText(other, study),
  };
}

interface Units {
  readonly length: LengthUnit;
  readonly money: LayoutMoney | undefined;
}

function inUnits({ length_unit: length, layouts }: Of): Units {
  return { length, money: layouts.flatMap(({ money }) => money ?? [])[0] };
}

interface CriterionWords {
  /** Before the figure: where it is the least of all, as little as another's, and less than another's. */
  readonly best: string;
  readonly same: string;
  readonly less: string;
  /** @param digits so many that count */
  readonly text: (value: number, digits: number, units: Units) => string;
}

const CRITERIA: Readonly<Record<CriterionName, CriterionWords>> = {
  settling: {
    best: "settles soonest, at",
    same: "settles as soon, at",
    less: "settles sooner, at",
    text: duration,
  },
  loss: {
    best: "loses least on the way,",
    same: "loses as much on the way,",
    less: "loses less on the way,",
    text: counted("item"),
  },
  floor: {
    best: "takes the least floor,",
    same: "takes as much floor,",
    less: "takes less floor,",
    text: (area, digits, { length }) => `${figure(areaIn(length, area), digits)} ${length}²`,
  },
  belt: {
    best: "takes the least belt,",
    same: "takes as much belt,",
    less: "takes less belt,",
    text: (metres, digits, { length }) => `${figure(lengthIn(length, metres), digits)} ${length}`,
  },
  junctions: {
    best: "has the fewest dividers and merges,",
    same: "has as many dividers and merges,",
    less: "has fewer dividers and merges,",
    text: String,
  },
  evenness: {
    best: "shares half the feed most evenly, with Jain's index at",
    same: "shares half the feed as evenly, with Jain's index at",
    less: "shares half the feed more evenly, with Jain's index at",
    text: (less, digits) => figure(-less, digits),
  },
  "hold-up": {
    best: "holds least once settled,",
    same: "holds as much once settled,",
    less: "holds less once settled,",
    text: counted("item"),
  },
  "torn-out": {
    best: "has the least torn out for growth,",
    same: "has as much torn out for growth,",
    less: "has less torn out for growth,",
    text: counted("element"),
  },
  added: {
    best: "has the least added for it,",
    same: "has as much added for it,",
    less: "has less added for it,",
    text: counted("element"),
  },
  money: {
    best: "costs least, the change and what starts lose,",
    same: "costs as much, the change and what starts lose,",
    less: "costs less, the change and what starts lose,",
    text: (value, _digits, { money }) =>
      money === undefined
        ? ""
        : `${inMinorUnits(measured(value), money.currency)} ${money.currency} in ${money.years} years`,
  },
};

/** Where there is nothing to compare with: what is wanted first, and what stands before its figure. */
const ALONE: Readonly<Record<Priority, { readonly criterion: CriterionName; readonly words: string }>> = {
  fast: { criterion: "settling", words: "it settles at" },
  small: { criterion: "floor", words: "it takes" },
  even: { criterion: "evenness", words: "it shares half the feed with Jain's index at" },
  cheap: { criterion: "junctions", words: "it takes dividers and merges," },
  grow: { criterion: "torn-out", words: "growth tears out" },
  money: { criterion: "money", words: "it costs, with what starts lose," },
};

const LEADS: Readonly<Record<Priority, string>> = {
  fast: "loses least on the way",
  small: "takes least",
  even: "shares half the feed most evenly",
  cheap: "takes the fewest dividers and merges",
  grow: "has the least torn out",
  money: "costs least",
};

const ASKED: Readonly<Record<Asked, string>> = {
  limits: "keep all limits",
  most: "make the most",
  stock: "leave today's stock in the buffers",
};

function askedText(asked: readonly Asked[]): string {
  return asked.map((one) => ASKED[one]).join(" and ");
}

function comparedText({ other, same, less }: Better, units: Units): string {
  const parts = same.map(({ criterion, value }) => {
    return `${CRITERIA[criterion].same} ${CRITERIA[criterion].text(value, DIGITS, units)}`;
  });
  if (less === null) return joined([...parts, `is otherwise no worse than ${nameOf(other)}`]);
  const { criterion, isFirst, built } = less;
  const words = CRITERIA[criterion];
  const all = joined([...parts, `${isFirst ? words.best : words.less} ${insteadText(less, other, units)}`]);
  return criterion === "junctions" ? all : `${all}, with ${builtText(built)}`;
}

/** Digits that count, unless it takes more to tell two figures apart. */
const DIGITS = 3;
const MOST_DIGITS = 9;

/** "24 s instead of 5.9 min for the chain", with as many digits as it takes to tell them apart. */
function insteadText({ criterion, own, theirs }: Decided, other: string, units: Units): string {
  const text = (value: number, digits: number): string => CRITERIA[criterion].text(value, digits, units);
  if (theirs === null) {
    const isTime = criterion === "settling";
    const lacks = isTime ? `${nameOf(other)} does not settle` : `that of ${nameOf(other)} is not known`;
    return `${text(own, DIGITS)}, where ${lacks} within the horizon`;
  }
  let digits = DIGITS;
  while (digits < MOST_DIGITS && text(own, digits) === text(theirs, digits)) digits++;
  return `${text(own, digits)} instead of ${text(theirs, digits)} for ${nameOf(other)}`;
}

function builtText(built: Decided["built"]): string {
  const text = ({ dividers, merges }: Junctions): string =>
    `${counted("divider")(dividers)}${merges === 0 ? "" : ` and ${counted("merge")(merges)}`}`;
  const [own, theirs] = built.map(text);
  return own === theirs ? `${own} in both` : `${own} instead of ${theirs}`;
}

function notTold({ id, priority, today, open, simplest }: NotTold): string {
  const nothing = "nothing is told to do better than the line as written";
  if (today === "leads") return `${nothing}, which likely ${LEADS[priority]}`;
  if (today === "open") return `${nothing}; likely ${id} ${LEADS[priority]}`;
  const floor = simplest === null ? "" : `; of these ${simplest} takes the least floor`;
  return `${id} likely ${LEADS[priority]}, not told apart from ${open.join(" and ")}${floor}`;
}

export function subjectOf(id: string): string {
  return id === TODAY ? "the line as written" : id;
}

function nameOf(id: string): string {
  return id === "chain" || id === "tree" || id === "loop" ? `the ${id}` : subjectOf(id);
}

function joined(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")}, and ${parts.at(-1)}`;
}

/** Seconds below a minute, and a digit less of them. */
function duration(minutes: number, digits: number): string {
  return minutes * 60 < 59.95 ? `${figure(minutes * 60, digits - 1)} s` : `${figure(minutes, digits)} min`;
}

function counted(what: string): (value: number, digits?: number) => string {
  return (value, digits = DIGITS) => {
    const shown = digits > DIGITS || Math.abs(value) < 10 ? figure(value, digits) : String(Math.round(value));
    return `${shown} ${what}${shown === "1" ? "" : "s"}`;
  };
}

function figure(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits)));
}
