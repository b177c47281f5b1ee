/** What lies one step from a start: one dose up or down, a means less, one machine's buffer filled, left, or moved to another. */

import type { Dose } from "../tactic-parts.ts";
import { type Code, type Grid, handledBy } from "./grid.ts";

export function neighboursOf(grid: Grid, code: Code): Code[] {
  return code.known === null ? [...placementsBeside(grid, code), ...dosesBeside(grid, code)] : [];
}

/** Those among them that take less: a weaker dose, a means or a buffer less. */
export function weakerThan(grid: Grid, code: Code): Code[] {
  if (code.known !== null) return [];
  const weaker = dosesBeside(grid, code).filter(({ doses }) => doses.every((dose, i) => dose <= (code.doses[i] ?? 0)));
  return [...weaker, ...fewer(code)];
}

function dosesBeside({ dials }: Grid, code: Code): Code[] {
  return dials.flatMap(({ doses }, d) => {
    const now = code.doses[d] ?? 0;
    const own = doses[now - 1];
    const beside = doses.flatMap((dose, i) =>
      (own === undefined ? isWeakest(dose) : isNext(own, dose)) ? [i + 1] : [],
    );
    return [...(now > 0 ? [0] : []), ...beside].map((dose) => ({ ...code, doses: code.doses.with(d, dose) }));
  });
}

/** Each means at every other dose. */
export function otherDoses({ dials }: Grid, code: Code): Code[] {
  return dials.flatMap(({ doses }, d) =>
    doses.flatMap((_, i) => (code.doses[d] === i + 1 ? [] : [{ ...code, doses: code.doses.with(d, i + 1) }])),
  );
}

function isWeakest({ at }: Dose): boolean {
  return at[0] === 0;
}

function isNext(a: Dose, b: Dose): boolean {
  if (a.family !== b.family) return false;
  const apart = a.at.map((step, i) => Math.abs(step - (b.at[i] ?? 0)));
  return apart.reduce((sum, one) => sum + one, 0) === 1;
}

/** A buffer more, a buffer less, a buffer elsewhere. */
function placementsBeside(grid: Grid, code: Code): Code[] {
  return [...more(grid, code), ...fewer(code), ...moved(grid, code)];
}

export function more(grid: Grid, code: Code): Code[] {
  return grid.machines.flatMap(({ portion }, i) =>
    code.placed[i] === 0 ? within(grid, { ...code, placed: code.placed.with(i, portion) }) : [],
  );
}

function fewer(code: Code): Code[] {
  return code.placed.flatMap((amount, i) => (amount > 0 ? [{ ...code, placed: code.placed.with(i, 0) }] : []));
}

export function moved(grid: Grid, code: Code): Code[] {
  return code.placed.flatMap((amount, from) =>
    amount === 0
      ? []
      : grid.machines.flatMap(({ portion }, to) =>
          code.placed[to] === 0 ? within(grid, { ...code, placed: code.placed.with(from, 0).with(to, portion) }) : [],
        ),
  );
}

/** Some of one machine's items at another, and so many more where hands have them left. */
export function shifted(grid: Grid, code: Code, count: number): Code[] {
  const roomAt = (i: number): number => Math.max(0, ...(grid.machines[i]?.rooms ?? [])) - (code.placed[i] ?? 0);
  const to = grid.machines.flatMap((_, i) => (roomAt(i) >= count ? [i] : []));
  const from = code.placed.flatMap((amount, i) => (amount >= count ? [i] : []));
  const at = (i: number, by: number): number => (code.placed[i] ?? 0) + by;
  return [
    ...to.map((i) => ({ ...code, placed: code.placed.with(i, at(i, count)) })),
    ...from.map((i) => ({ ...code, placed: code.placed.with(i, at(i, -count)) })),
    ...from.flatMap((i) =>
      to
        .filter((j) => j !== i)
        .map((j) => ({ ...code, placed: code.placed.with(i, at(i, -count)).with(j, at(j, count)) })),
    ),
  ].flatMap((one) => within(grid, one));
}

function within(grid: Grid, code: Code): Code[] {
  return handledBy(grid, code.placed) <= grid.mostItems ? [code] : [];
}

/** All ways to fill some of the buffers, from none on. */
export function allPlacements(grid: Grid, most: number): readonly (readonly number[])[] | null {
  let all: readonly (readonly number[])[] = [[]];
  for (const { portion } of grid.machines) {
    all = all
      .flatMap((placed) => [
        [...placed, 0],
        [...placed, portion],
      ])
      .filter((placed) => {
        return handledBy(grid, placed) <= grid.mostItems;
      });
    if (all.length > most) return null;
  }
  return all;
}

/** Every dose of every means with every other; `null`: more than `most`. */
export function allDoses({ dials }: Grid, most: number): readonly (readonly number[])[] | null {
  const count = dials.reduce((product, { doses }) => product * (doses.length + 1), 1);
  if (count > most) return null;
  return dials.reduce<readonly (readonly number[])[]>(
    (all, { doses }) => all.flatMap((some) => [0, ...doses.map((_, i) => i + 1)].map((dose) => [...some, dose])),
    [[]],
  );
}
