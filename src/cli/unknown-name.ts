import { nearest } from "../index.ts";
import { RefusedError } from "./exit.ts";

/** `no tactic is called "stoked", did you mean "stocked"? There are …` */
export function unknownName(what: string, found: string, known: readonly string[]): RefusedError {
  return new RefusedError(
    `no ${what} is called ${JSON.stringify(found)}${orMeant(found, known)}; there are ${known.join(", ")}`,
  );
}

/** A value of an option that knows only some words. @throws RefusedError */
export function oneOf<const W extends string>(option: string, found: string, known: readonly W[]): W {
  const word = known.find((one) => one === found);
  if (word !== undefined) return word;
  throw new RefusedError(`${option} ${JSON.stringify(found)}: expected ${known.join(", ")}${orMeant(found, known)}`);
}

function orMeant(found: string, known: readonly string[]): string {
  const meant = nearest(found, known);
  return meant === "" ? "" : `, did you mean ${JSON.stringify(meant)}?`;
}
