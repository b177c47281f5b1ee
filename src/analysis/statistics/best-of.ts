/**
 * Which of several variants on the same luck is the best, if that can be said: the one with the best mean is compared with each
 * other. The levels of these k − 1 intervals are raised (Bonferroni) so that a variant is wrongly called the best in at most
 * 1 − level of all studies.
 */
import { USUAL_LEVEL } from "./interval.ts";
import { mean, type Numbers } from "./moments.ts";
import { type PairedDifference, pairedDifference } from "./paired.ts";

export interface BestOf {
  /** Place of the variant with the best mean, the first of equals. */
  readonly leader: number;
  /** The leader is told apart from every other. */
  readonly isBest: boolean;
  /** The leader (a) against each other variant (b), in the order given. */
  readonly against: readonly { readonly variant: number; readonly paired: PairedDifference }[];
  /** Places of the variants not told apart from the leader. */
  readonly notToldApart: readonly number[];
  /** How many would tell the leader from each other nine times in ten, if differences are what they seem; `null` as there. */
  readonly about: number | null;
  /** Level of each comparison. */
  readonly eachLevel: number;
}

/** @param aim whether little or much is good; @throws RangeError without variants, or for lists of unlike lengths */
export function bestOf(variants: readonly Numbers[], aim: "least" | "most", level = USUAL_LEVEL): BestOf {
  const means = variants.map(mean);
  const leader = means.indexOf(aim === "least" ? Math.min(...means) : Math.max(...means));
  const leading = variants[leader];
  if (leading === undefined) throw new RangeError("no variants");
  const eachLevel = levelForEach(level, variants.length - 1);
  const against = variants.flatMap((other, variant) =>
    variant === leader ? [] : [{ variant, paired: pairedDifference(leading, other, eachLevel) }],
  );
  const open = against.filter(({ paired }) => paired.verdict === "not told apart");
  const needed = open.map(({ paired }) => paired.about);
  return {
    leader,
    isBest: open.length === 0,
    against,
    notToldApart: open.map(({ variant }) => variant),
    about:
      open.length === 0
        ? null
        : needed.reduce((most, one) => (most === null || one === null ? null : Math.max(most, one)), 0),
    eachLevel,
  };
}

/**
 * The level of a look at a comparison. Whoever goes on where nothing was told apart looks again, and each look can name a false
 * winner: so the first spends half of the allowed error, the second a quarter, and so on, never more than all of it together
 * (spending of alpha: K. K. G. Lan, D. L. DeMets, Biometrika 70, 1983, from memory; added up by Bonferroni's inequality).
 * @param look from 1
 */
export function levelOfLook(look: number, level = USUAL_LEVEL): number {
  return 1 - (1 - level) / 2 ** look;
}

/** The level of each of several intervals that hold all together at a level, by Bonferroni's inequality. */
export function levelForEach(level: number, intervals: number): number {
  return intervals > 1 ? 1 - (1 - level) / intervals : level;
}
