/** A plant whose belts fork and never join, but for one that leads back, as trees; a long one in several rows. */
import type { DrawnBelt, PlantDrawing } from "../../analysis/plant-drawing.ts";
import { groupBy } from "../../quantity/counts.ts";

export interface Fork {
  readonly element: string;
  /** A belt goes to it in the next row. */
  readonly isElsewhere: boolean;
  readonly inlet: DrawnBelt | null;
  readonly outlets: readonly Fork[];
  /** Belts that lead back from it, and to it. */
  readonly back: DrawnBelt | null;
  readonly returned: DrawnBelt | null;
}

/** @returns `null` where belts join */
export function forksOf({ elements, belts }: PlantDrawing): Fork[] | null {
  const [back, ...others] = belts.filter(({ returns }) => returns);
  const onward = belts.filter(({ returns }) => !returns);
  const inlets = new Map(onward.map((belt) => [belt.to, belt]));
  if (others.length > 0 || inlets.size < onward.length || (back !== undefined && !inlets.has(back.to))) return null;
  const out = groupBy(onward, ({ from }) => from);
  const forkAt = (element: string): Fork => ({
    element,
    isElsewhere: false,
    inlet: inlets.get(element) ?? null,
    outlets: (out.get(element) ?? []).map(({ to }) => forkAt(to)),
    back: back?.from === element ? back : null,
    returned: back?.to === element ? back : null,
  });
  return elements.filter(({ id }) => !inlets.has(id)).map(({ id }) => forkAt(id));
}

/** Along each last outlet. */
export function trunkOf(root: Fork): Fork[] {
  const trunk: Fork[] = [];
  for (let fork: Fork | undefined = root; fork !== undefined; fork = fork.outlets.at(-1)) trunk.push(fork);
  return trunk;
}

/** @returns what is in each row; the trunks of all but the last end with what is elsewhere */
export function inRows(root: Fork, most: number): Fork[] {
  const trunk = trunkOf(root);
  const count = Math.min(most, Math.ceil(trunk.length / 2));
  const starts = new Set(Array.from({ length: count }, (_, i) => Math.round((i * trunk.length) / count)));
  const heads: Fork[] = [];
  let after: Fork | null = null;
  for (const [i, fork] of [...trunk.entries()].reverse()) {
    if (after !== null) {
      const last: Fork = starts.has(i + 1)
        ? { ...after, isElsewhere: true, outlets: [], back: null, returned: null }
        : after;
      after = { ...fork, outlets: [...fork.outlets.slice(0, -1), last] };
    } else after = fork;
    if (starts.has(i)) heads.unshift(after);
  }
  return heads;
}
