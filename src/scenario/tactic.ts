/** Priming tactics as a scenario states them; any of their parts may be combined. */
import type { Rational } from "../quantity/rational.ts";

export interface Tactic {
  readonly id: string;
  readonly prefill: Prefill | null;
  readonly hold: Hold | null;
  readonly stagger: Stagger | null;
  readonly boost: Boost | null;
  readonly lowLevel: LowLevel | null;
  readonly metered: Metered | null;
  readonly farEndFirst: FarEndFirst | null;
  readonly secondFeed: SecondFeed | null;
}

export type TacticPart = Exclude<keyof Tactic, "id">;

/** Something for each part, in the order that counts there: a part that is forgotten does not compile. */
export type OfEachPart<Given extends unknown[], Gives> = {
  readonly [Part in TacticPart]: (part: NonNullable<Tactic[Part]>, ...given: Given) => Gives;
};

/** Nothing done. */
export const NO_TACTIC: Tactic = {
  id: "none",
  prefill: null,
  hold: null,
  stagger: null,
  boost: null,
  lowLevel: null,
  metered: null,
  farEndFirst: null,
  secondFeed: null,
};

/** What is there for the parts that a tactic has. */
export function ofParts<Given extends unknown[], Gives>(
  tactic: Tactic,
  each: OfEachPart<Given, Gives>,
  ...given: Given
): Gives[] {
  const of = <Part extends TacticPart>(part: Part): Gives[] => {
    const stated = tactic[part];
    return stated === null ? [] : [each[part](stated, ...given)];
  };
  return Object.keys(each)
    .filter(isPart)
    .flatMap((part) => of(part));
}

/** Those that a tactic has. */
export function statedParts(tactic: { readonly [Part in TacticPart]: unknown }): TacticPart[] {
  return Object.keys(NO_TACTIC)
    .filter(isPart)
    .filter((part) => tactic[part] !== null);
}

function isPart(key: string): key is TacticPart {
  return key !== "id" && Object.hasOwn(NO_TACTIC, key);
}

/** All machines of the plant, or the first or last few of each line in feeding order. */
export type Among = { readonly which: "all" } | { readonly which: "first" | "last"; readonly count: number };

/** Items placed in infeed buffers before the start. */
export interface Prefill {
  /** The same amount in every buffer among some machines, or amounts by machine or group id. */
  readonly amounts:
    | { readonly among: Among; readonly amount: Amount }
    | { readonly byMachine: readonly { readonly machine: string; readonly amount: Amount }[] };
  /** Whether the line's belts are loaded too. */
  readonly belts: boolean;
  /** How fast hands place them; `null`: it takes no time, since they do so before the shift at their own pace. */
  readonly byHandPerMin: Rational | null;
  /** Whether hands work before the shift, the start waits for them, or they work beside the running line. */
  readonly while: "before" | "stopped" | "running";
}

/** `null` is full. */
export type Amount = number | null;

/** Machines held off from the start on. */
export interface Hold {
  /** Each until its own buffers are full, all until all are full, or all for a time. */
  readonly until: "own-full" | "all-full" | { readonly afterMin: Rational };
  readonly release: "together" | "head-first" | "tail-first";
  /** Between one release and the next, where they are not together. */
  readonly everyMin: Rational;
}

/** Machines started one after another from the start on. */
export interface Stagger {
  readonly first: "head" | "tail";
  readonly everyMin: Rational;
}

/** The feeds run faster at first. */
export interface Boost {
  /** As a multiple of their own rate, 6/5 for 120 %. */
  readonly factor: Rational;
  readonly forMin: Rational;
}

/** Infeed buffers take items up to a lower level. */
export interface LowLevel {
  readonly level: number;
  readonly among: Among;
  /** `null` is for good. */
  readonly forMin: Rational | null;
}

/** Each branch carries only a little more than its machine needs. */
export interface Metered {
  /** As a multiple of the need, 21/20 for 105 %. */
  readonly factor: Rational;
}

/** Dividers let the through belt have all it can take before the branch, and are even afterwards. */
export interface FarEndFirst {
  /** Until the last machine's buffers are full, or for a time. */
  readonly until: "tail-full" | { readonly afterMin: Rational };
}

/** A share of the feed enters further down at first. */
export interface SecondFeed {
  readonly share: Rational;
  /** The machine whose inlet it joins; `null` for the last. */
  readonly at: string | null;
  readonly forMin: Rational;
}
