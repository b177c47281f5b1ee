/** The layout to build by what is wanted first, and why, in figures. */
import type { LengthUnit } from "../../quantity/units.ts";
import { betterIn, type Criterion as Decides, type Grain, keepsReserve, leastIn } from "../recommended/recommended.ts";
import {
  ALONE,
  CRITERIA,
  type Criterion,
  counted,
  DIGITS,
  ELEMENTS,
  FURTHER,
  MOST_DIGITS,
  SETTLING,
} from "./criteria.ts";
import { type LayoutResult, type Priority, TODAY } from "./layout-results.ts";
import { NO_GRAIN } from "./reserve.ts";
import { isWeighed, keepsLimits, makes, rounded } from "./weighed.ts";

export interface Recommendation {
  readonly recommended: string | null;
  /** In a sentence, without a full stop. */
  readonly because: string;
}

export interface Recommended extends Recommendation {
  /** Beside it, where better: the best of those that leave less stock. */
  readonly withoutReserve: string | null;
  readonly withoutReserveBecause: string | null;
}

interface HeldTo {
  /** The line as it stands, which stays where nothing is better. */
  readonly today: string | null;
  readonly grain: Grain;
}

/**
 * By the rule for starts: limits first, then what makes the most and leaves the stock that today's leaves; then what is wanted.
 * @param unit of lengths, as the file has them
 */
export function recommendationOf(
  layouts: readonly LayoutResult[],
  priority: Priority,
  unit: LengthUnit = "m",
  { today, grain }: HeldTo = { today: null, grain: NO_GRAIN },
): Recommended {
  // Nobody rebuilds for something worse than what stands, whatever lengths that is written with.
  const feasible = layouts.filter((layout) => isWeighed(layout) || (layout.feasible && layout.id === today));
  if (!layouts.some(isWeighed)) return nothing("none of the layouts can be built as the line is");
  const goesOn = (those: readonly LayoutResult[]): boolean => those.some((layout) => makes(layout) > 0);
  const keeping = feasible.filter(keepsLimits);
  const kept = goesOn(keeping) ? keeping : feasible;
  const leaving = kept.filter(leaves);
  const able = goesOn(leaving) ? leaving : kept;
  const most = Math.max(...able.map(makes));
  if (most === 0) return nothing("nothing is made in the long run, whatever the layout");
  const making = able.filter((layout) => makes(layout) === most);
  const [first] = ordered(
    // What one costs is more than what is weighed.
    making.filter(({ id, undominated }) => undominated || id === today || priority === "money"),
    priority,
    { today, grain },
  );
  if (first === undefined) return nothing("none of the layouts makes the most and is unbeaten");
  const others = ordered(making, priority, { today, grain }).filter((layout) => layout !== first);
  const spare = kept.filter((layout) => makes(layout) >= most && !leaves(layout));
  const [bare] = ordered(spare, priority, { today, grain });
  const isWorthTelling =
    bare !== undefined && leaves(first) && betterIn(bare, first, CRITERIA[priority].map(decides), grain);
  return {
    ...chosenText(
      first,
      others,
      priority,
      { grain, unit, today },
      {
        limits: kept.length < feasible.length,
        stock: able.length < kept.length,
        most: making.length < able.length,
      },
    ),
    withoutReserve: isWorthTelling ? bare.id : null,
    withoutReserveBecause: isWorthTelling
      ? `${bare.id} ${comparedText(priority, bare, first, { grain, unit, today })}`
      : null,
  };
}

function nothing(because: string): Recommended {
  return { recommended: null, because, withoutReserve: null, withoutReserveBecause: null };
}

/** Where it is not known, stock decides nothing. */
function leaves({ reserve_kept: kept }: LayoutResult): boolean {
  return kept === null || keepsReserve({ reserveKept: kept });
}

/** The best first, then the best of the others, and so on. */
function ordered(those: readonly LayoutResult[], priority: Priority, { today, grain }: HeldTo): LayoutResult[] {
  const left = [...those];
  const inOrder: LayoutResult[] = [];
  while (left.length > 0) {
    const equals = leastIn(left, CRITERIA[priority].map(decides), grain);
    const standing = equals.find(({ id }) => id === today);
    const [first] = standing ? [standing] : leastIn(equals, FURTHER.map(decides), grain);
    if (first === undefined) break;
    inOrder.push(first);
    left.splice(left.indexOf(first), 1);
  }
  return inOrder;
}

function decides({ of, apart }: Criterion): Decides<LayoutResult> {
  return { of: (layout) => rankOf(of(layout)), apart: (grain) => apart?.(grain) ?? 0 };
}

interface Told {
  readonly today: string | null;
  readonly grain: Grain;
  readonly unit: LengthUnit;
}

function chosenText(
  first: LayoutResult,
  inOrder: readonly LayoutResult[],
  priority: Priority,
  as: Told,
  by: { readonly limits: boolean; readonly stock: boolean; readonly most: boolean },
): Recommendation {
  const wanted = [
    ...(by.limits ? ["keep all limits"] : []),
    ...(by.most ? ["make the most"] : []),
    ...(by.stock ? ["leave today's stock in the buffers"] : []),
  ].join(" and ");
  // The same layout on longer belts is nothing to choose.
  const others = inOrder.filter(({ id }) => first.id !== TODAY || id !== first.layout);
  const other = (first.id === as.today ? undefined : others.find(({ id }) => id === "chain")) ?? others[0];
  if (other === undefined) {
    const only = `${subjectOf(first)} is the only one ${wanted === "" ? "that can be built" : `to ${wanted}`}`;
    return { recommended: first.id, because: `${only}${aloneText(first, priority, as.unit)}` };
  }
  const among = wanted === "" ? "" : `, of those that ${wanted},`;
  return { recommended: first.id, because: `${subjectOf(first)}${among} ${comparedText(priority, first, other, as)}` };
}

function rankOf(value: number | null): number {
  return value === null ? Infinity : rounded(value);
}

function aloneText(only: LayoutResult, priority: Priority, unit: LengthUnit): string {
  const [{ of, text }] = CRITERIA[priority];
  const value = of(only);
  return value === null ? "" : `; ${ALONE[priority]} ${text(value, DIGITS, unit, only)}`;
}

/**
 * As far as the first thing in which they differ. What the priority does not ask for is told only where it decides, and
 * that the other one, beaten in all else, is better in something that is not weighed is passed over.
 */
function comparedText(priority: Priority, first: LayoutResult, other: LayoutResult, { grain, unit }: Told): string {
  const wanted = CRITERIA[priority];
  const parts: string[] = [];
  for (const criterion of new Set([...wanted, ...FURTHER])) {
    const [own, theirs] = [criterion.of(first), criterion.of(other)];
    const isLess = betterIn(first, other, [decides(criterion)], grain);
    if (own === null || betterIn(other, first, [decides(criterion)], grain)) continue;
    if (!isLess) {
      if (wanted.includes(criterion)) parts.push(`${criterion.same} ${criterion.text(own, DIGITS, unit, first)}`);
      continue;
    }
    parts.push(
      `${criterion === wanted[0] ? criterion.best : criterion.less} ${insteadText(criterion, [own, theirs], other, unit)}`,
    );
    return `${joined(parts)}${criterion === ELEMENTS ? "" : `, with ${dividersText(first, other)}`}`;
  }
  return joined([...parts, `is otherwise no worse than ${nameOf(other)}`]);
}

/** "24 s instead of 5.9 min for the chain", with as many digits as it takes to tell them apart. */
function insteadText(
  { of, text: inUnit }: Criterion,
  [own, theirs]: readonly [number, number | null],
  other: LayoutResult,
  unit: LengthUnit,
): string {
  const text = (value: number, digits: number): string => inUnit(value, digits, unit, other);
  if (theirs === null) {
    const lacks = of === SETTLING.of ? `${nameOf(other)} does not settle` : `that of ${nameOf(other)} is not known`;
    return `${text(own, DIGITS)}, where ${lacks} within the horizon`;
  }
  let digits = DIGITS;
  while (digits < MOST_DIGITS && text(own, digits) === text(theirs, digits)) digits++;
  return `${text(own, digits)} instead of ${text(theirs, digits)} for ${nameOf(other)}`;
}

function dividersText(first: LayoutResult, other: LayoutResult): string {
  const text = ({ dividers, merges }: LayoutResult): string =>
    `${counted("divider")(dividers ?? 0)}${merges ? ` and ${counted("merge")(merges)}` : ""}`;
  const [own, theirs] = [text(first), text(other)];
  return own === theirs ? `${own} in both` : `${own} instead of ${theirs}`;
}

function subjectOf({ id }: Pick<LayoutResult, "id">): string {
  return id === TODAY ? "the line as written" : id;
}

function nameOf({ id }: LayoutResult): string {
  if (id === TODAY) return "the line as written";
  return id === "chain" || id === "tree" || id === "loop" ? `the ${id}` : id;
}

function joined(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")}, and ${parts.at(-1)}`;
}
