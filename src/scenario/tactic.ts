/** Priming tactics as a scenario states them; what their parts are stands in `tactic-parts.ts` alone. */
import { KEYS, partsFrom, type TacticParts } from "./tactic-parts.ts";

export type TacticPart = keyof TacticParts;

type Parts = { readonly [Part in TacticPart]: TacticParts[Part] | null };

export interface Tactic extends Parts {
  readonly id: string;
}

/** Something for each part, in the order that counts there: a part that is forgotten does not compile. */
export type OfEachPart<Given extends unknown[], Gives> = {
  readonly [Part in TacticPart]: (part: NonNullable<Tactic[Part]>, ...given: Given) => Gives;
};

/** Nothing done. */
export const NO_TACTIC: Tactic = { id: "none", prefill: null, ...partsFrom({}, () => null) };

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

/** A tactic as the body of its entry in a scenario file. */
export function tacticBody(tactic: Tactic): Readonly<Record<string, unknown>> {
  return Object.assign({}, ...ofParts(tactic, KEYS));
}

/** The same as plain data: amounts by machine stand in a map there, for documents that keep its order. */
export function tacticEntry(tactic: Tactic): Readonly<Record<string, unknown>> {
  const asPlain = ([key, value]: [string, unknown]) => [key, value instanceof Map ? Object.fromEntries(value) : value];
  return Object.fromEntries(Object.entries(tacticBody(tactic)).map(asPlain));
}

/** For what goes by what is stated, whatever its name. */
export function statedText(tactic: Tactic): string {
  return JSON.stringify(tacticEntry(tactic));
}
