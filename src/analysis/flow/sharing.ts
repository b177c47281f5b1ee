/**
 * How a divider shares its inflow and a merge its room. `even` is max-min fair: nobody's share can rise without
 * lowering one that is no greater (D. Bertsekas, R. Gallager, Data Networks, 2nd ed., 1992, section 6.5, whose
 * filling procedure `shareEvenly` is); with weights, a share for each unit of weight. `ordered` serves the first as far as it goes, then the next.
 */
import type { Rule } from "../../scenario/scenario.ts";
import { compare, countOf, NONE } from "./number.ts";
import { lesser, type Sloped, type SlopedLimit, scale, split, subtract } from "./slopes.ts";

/**
 * @param amount items/min to share out
 * @param limits what each can take
 * @returns each one's share; the shares add up to `amount` or to all limits, whichever is less
 */
export function share(
  rule: Rule,
  amount: Sloped,
  limits: readonly SlopedLimit[],
  weights: readonly number[] | null = null,
): Sloped[] {
  return rule === "even" ? shareEvenly(amount, limits, weights) : shareInOrder(amount, limits);
}

function shareInOrder(amount: Sloped, limits: readonly SlopedLimit[]): Sloped[] {
  let rest = amount;
  return limits.map((limit) => {
    const taken = limit === null ? rest : lesser(rest, limit);
    rest = subtract(rest, taken);
    return taken;
  });
}

function shareEvenly(amount: Sloped, limits: readonly SlopedLimit[], weights: readonly number[] | null): Sloped[] {
  const weightOf = (index: number): number => weights?.[index] ?? 1;
  const shares: Sloped[] = new Array(limits.length).fill(NONE);
  let rest = amount;
  let open = limits.map((limit, index) => ({ limit, index }));
  while (open.length > 0) {
    const level = split(
      rest,
      open.reduce((sum, { index }) => sum + weightOf(index), 0),
    );
    const ownOf = (index: number): Sloped => (weightOf(index) === 1 ? level : scale(level, countOf(weightOf(index))));
    const stillOpen: typeof open = [];
    for (const one of open) {
      if (one.limit !== null && compare(one.limit, ownOf(one.index)) <= 0) {
        shares[one.index] = one.limit;
        rest = subtract(rest, one.limit);
      } else {
        stillOpen.push(one);
      }
    }
    if (stillOpen.length === open.length) {
      for (const { index } of open) shares[index] = ownOf(index);
      break;
    }
    open = stillOpen;
  }
  return shares;
}

/**
 * What each inlet of a merge may bring, given what the others offer: the share that it would get if it offered without
 * end. What inlets bring within these limits is the merge's sharing.
 *
 * @param room what the merge can pass on
 * @param offers what each inlet would bring if nothing held it up
 */
export function inletLimits(rule: Rule, room: SlopedLimit, offers: readonly SlopedLimit[]): SlopedLimit[] {
  if (room === null || offers.length === 1) return offers.map(() => room);
  return offers.map((_, index) => share(rule, room, offers.with(index, null))[index] ?? NONE);
}
