/** Parts of a sweep, run apart from one another, joined to the sweep that one run would have given. */
import type { Sweep, SweepHead, SweepPoint } from "./sweep-results.ts";

export type Gathered =
  | { readonly ok: true; readonly sweep: Sweep }
  /** Parts of different sweeps: the first that differs from the first one, counted from 0, and in what. */
  | { readonly ok: false; readonly why: "differing"; readonly part: number; readonly what: keyof SweepHead }
  /** The same point with other figures, in a part and one before it. */
  | { readonly ok: false; readonly why: "contradicting"; readonly part: number; readonly point: number }
  /** Points that no part has, and the parts of the sweep that are not there. */
  | {
      readonly ok: false;
      readonly why: "missing";
      readonly points: readonly number[];
      readonly shards: readonly string[];
    };

const HEAD: readonly (keyof SweepHead)[] = [
  "scenario_sha256",
  "quantities",
  "horizon_min",
  "seed",
  "scenario",
  "title",
  "made_by",
  "of_points",
];

export function gatherSweep(parts: readonly Sweep[]): Gathered {
  const [first] = parts;
  if (first === undefined) return { ok: false, why: "missing", points: [], shards: [] };
  const found = new Map<number, SweepPoint>();
  for (const [index, part] of parts.entries()) {
    const what = HEAD.find((key) => !same(part[key], first[key]));
    if (what !== undefined) return { ok: false, why: "differing", part: index, what };
    for (const point of part.points) {
      const before = found.get(point.point);
      if (before !== undefined && !same(before, point)) {
        return { ok: false, why: "contradicting", part: index, point: point.point };
      }
      found.set(point.point, point);
    }
  }
  const all = Array.from({ length: first.of_points }, (_, i) => i + 1);
  const points = all.flatMap((point) => found.get(point) ?? []);
  if (points.length < all.length) {
    const missing = all.filter((point) => !found.has(point));
    return { ok: false, why: "missing", points: missing, shards: missingShards(parts) };
  }
  return { ok: true, sweep: { ...first, shard: null, points } };
}

/** Of parts that were all made for the same number of parts. */
function missingShards(parts: readonly Sweep[]): string[] {
  const ofs = new Set(parts.map(({ shard }) => shard?.split("/")[1]));
  const [of] = ofs;
  if (of === undefined || ofs.size > 1) return [];
  const there = new Set(parts.map(({ shard }) => shard));
  return Array.from({ length: Number(of) }, (_, i) => `${i + 1}/${of}`).filter((shard) => !there.has(shard));
}

/** Plain data with its keys in one order, as the reader of parts gives it. */
function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
