/** The layout to build by what is wanted first, and why. */
import { betterIn, type Criterion as Decides, type Grain, keepsReserve, leastIn } from "../recommended/recommended.ts";
import { CRITERIA, type Criterion, FURTHER } from "./criteria.ts";
import type { Asked, Because, Better, Figured, Junctions } from "./layout-results.ts";
import { type LayoutResult, type Priority, TODAY } from "./layout-results.ts";
import { NO_GRAIN } from "./reserve.ts";
import { isToChoose, isWeighed, keepsLimits, makes, rounded } from "./weighed.ts";

export interface Recommendation {
  readonly recommended: string | null;
  readonly because: Because;
}

export interface Recommended extends Recommendation {
  /** Beside it, where better: the best of those that leave less stock. */
  readonly withoutReserve: string | null;
  readonly withoutReserveBecause: Because | null;
}

interface HeldTo {
  /** The line as it stands, which stays where nothing is better. */
  readonly today: string | null;
  readonly grain: Grain;
}

/** By the rule for starts: limits first, then what makes the most and leaves the stock that today's leaves; then what is wanted. */
export function recommendationOf(
  layouts: readonly LayoutResult[],
  priority: Priority,
  { today, grain }: HeldTo = { today: null, grain: NO_GRAIN },
): Recommended {
  // Nobody rebuilds for something worse than what stands, whatever lengths that is written with.
  const feasible = layouts.filter((layout) => isToChoose(layout, today));
  if (!layouts.some(isWeighed)) return nothing("none-buildable");
  const goesOn = (those: readonly LayoutResult[]): boolean => those.some((layout) => makes(layout) > 0);
  const keeping = feasible.filter(keepsLimits);
  const kept = goesOn(keeping) ? keeping : feasible;
  const leaving = kept.filter(leaves);
  const able = goesOn(leaving) ? leaving : kept;
  const most = Math.max(...able.map(makes));
  if (most === 0) return nothing("nothing-made");
  const making = able.filter((layout) => makes(layout) === most);
  const [first] = ordered(
    // What one costs is more than what is weighed.
    making.filter(({ id, undominated }) => undominated || id === today || priority === "money"),
    priority,
    { today, grain },
  );
  if (first === undefined) return nothing("none-unbeaten");
  const others = ordered(making, priority, { today, grain }).filter((layout) => layout !== first);
  const spare = kept.filter((layout) => makes(layout) >= most && !leaves(layout));
  const [bare] = ordered(spare, priority, { today, grain });
  const isWorthTelling =
    bare !== undefined && leaves(first) && betterIn(bare, first, CRITERIA[priority].map(decides), grain);
  const asked = [
    ...(kept.length < feasible.length ? (["limits"] as const) : []),
    ...(making.length < able.length ? (["most"] as const) : []),
    ...(able.length < kept.length ? (["stock"] as const) : []),
  ];
  return {
    recommended: first.id,
    because: chosenBecause(first, others, priority, asked, { today, grain }),
    withoutReserve: isWorthTelling ? bare.id : null,
    withoutReserveBecause: isWorthTelling ? compared(priority, bare, first, [], grain) : null,
  };
}

function nothing(why: "none-buildable" | "nothing-made" | "none-unbeaten"): Recommended {
  return { recommended: null, because: { why }, withoutReserve: null, withoutReserveBecause: null };
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

function chosenBecause(
  first: LayoutResult,
  inOrder: readonly LayoutResult[],
  priority: Priority,
  asked: readonly Asked[],
  { today, grain }: HeldTo,
): Because {
  // The same layout on longer belts is nothing to choose.
  const others = inOrder.filter(({ id }) => first.id !== TODAY || id !== first.layout);
  const other = (first.id === today ? undefined : others.find(({ id }) => id === "chain")) ?? others[0];
  if (other !== undefined) return compared(priority, first, other, asked, grain);
  return { why: "alone", id: first.id, asked, figure: CRITERIA[priority][0].of(first), priority };
}

function rankOf(value: number | null): number {
  return value === null ? Infinity : rounded(value);
}

/**
 * As far as the first thing in which they differ. What the priority does not ask for is told only where it decides, and
 * that the other one, beaten in all else, is better in something that is not weighed is passed over.
 */
function compared(
  priority: Priority,
  first: LayoutResult,
  other: LayoutResult,
  asked: readonly Asked[],
  grain: Grain,
): Better {
  const wanted = CRITERIA[priority];
  const same: Figured[] = [];
  const told = { why: "better", id: first.id, asked, other: other.id, same } as const;
  for (const criterion of new Set([...wanted, ...FURTHER])) {
    const own = criterion.of(first);
    if (own === null || betterIn(other, first, [decides(criterion)], grain)) continue;
    const { name } = criterion;
    if (betterIn(first, other, [decides(criterion)], grain)) {
      const built = [junctionsOf(first), junctionsOf(other)] as const;
      const isFirst = criterion === wanted[0];
      return { ...told, less: { criterion: name, isFirst, own, theirs: criterion.of(other), built } };
    }
    if (wanted.includes(criterion)) same.push({ criterion: name, value: own });
  }
  return { ...told, less: null };
}

function junctionsOf({ dividers, merges }: LayoutResult): Junctions {
  return { dividers: dividers ?? 0, merges: merges ?? 0 };
}
