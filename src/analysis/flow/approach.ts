/**
 * Patterns that are approached but never reached. Where a plant swings and each swing leaves the levels closer to where
 * the last one left them, no state ever comes back exactly. As long as states and supply take the same course, one
 * swing's levels follow from the last one's by a linear map; once the differences from swing to swing all shrink by one
 * and the same factor, exactly, they go on doing so, and the levels that they shrink towards are a geometric series'.
 */
import { type Amount, compare, equal, minus, NONE, over, plus, times } from "./number.ts";

export type Levels = ReadonlyMap<number, Amount>;

export type Approach =
  /** The levels of the pattern at a visit like this one. */
  | { readonly what: "pattern"; readonly levels: Levels }
  /** Events that crowd towards a moment which they never reach. */
  | { readonly what: "moment" };

interface Visit {
  readonly levels: Levels;
  readonly timeMin: Amount;
}

/** Items by which the levels may be off the pattern when it is taken for reached. */
const CLOSE: Amount = { n: 1n, d: 1000n };

export class ApproachWatch {
  /** The last two visits, by states and supply. */
  readonly #visits = new Map<string, readonly Visit[]>();

  /** @param key of the states and the supply of now */
  visit(key: string, levels: Levels, timeMin: Amount): Approach | null {
    const [first, second] = this.#visits.get(key) ?? [];
    const now: Visit = { levels, timeMin };
    this.#visits.set(key, second === undefined ? [...(this.#visits.get(key) ?? []), now] : [second, now]);
    if (first === undefined || second === undefined) return null;
    const factor = commonFactor(first.levels, second.levels, levels);
    if (factor === null) return null;
    const left = over(factor, minus({ n: 1n, d: 1n }, factor));
    const toGo = (buffer: number, level: Amount) => times(minus(level, second.levels.get(buffer) ?? NONE), left);
    for (const [buffer, level] of levels) if (compare(size(toGo(buffer, level)), CLOSE) > 0) return null;
    const lasts = minus(timeMin, second.timeMin);
    const lasted = minus(second.timeMin, first.timeMin);
    if (equal(lasts, times(lasted, factor))) return { what: "moment" };
    return {
      what: "pattern",
      levels: new Map([...levels].map(([buffer, level]) => [buffer, plus(level, toGo(buffer, level))])),
    };
  }
}

/** The factor by which every difference shrinks; `null` if there is none, or nothing differs. */
function commonFactor(first: Levels, second: Levels, third: Levels): Amount | null {
  let factor: Amount | null = null;
  for (const [buffer, level] of third) {
    const before = second.get(buffer) ?? NONE;
    const earlier = minus(before, first.get(buffer) ?? NONE);
    const later = minus(level, before);
    if (earlier.n === 0n && later.n === 0n) continue;
    if (earlier.n === 0n || later.n === 0n) return null;
    const own = over(later, earlier);
    if (factor !== null && !equal(own, factor)) return null;
    factor = own;
  }
  return factor !== null && compare(size(factor), { n: 1n, d: 1n }) < 0 ? factor : null;
}

function size({ n, d }: Amount): Amount {
  return { n: n < 0n ? -n : n, d };
}
