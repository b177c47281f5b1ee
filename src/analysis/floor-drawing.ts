/** A line on the grid on which its floor is counted, in metres: what stands where, and which way each belt takes. */
import { beltWays, type Point } from "../network/belt-ways.ts";
import { floorPlan, type PlaceKind } from "../network/floor-plan.ts";
import type { Network } from "../network/network.ts";
import { approximate, sum } from "../quantity/rational.ts";
import type { LengthUnit } from "../quantity/units.ts";
import type { Scenario } from "../scenario/scenario.ts";

/** Metres, from the corner where the feed comes in: x along the flow, y across. */
export interface FloorDrawing {
  readonly title: string;
  /** In which texts tell lengths. */
  readonly length_unit: LengthUnit;
  readonly line: string;
  readonly length_m: number;
  readonly width_m: number;
  readonly floor_m2: number;
  /** Of all belts' ways together. */
  readonly belt_m: number;
  readonly belt_width_m: number;
  readonly crossings: number;
  /** Free of footprints, along the rows. */
  readonly aisles: readonly { readonly from_m: number; readonly to_m: number }[];
  readonly places: readonly DrawnPlace[];
  readonly belts: readonly DrawnWay[];
}

export interface DrawnPlace {
  readonly id: string;
  readonly kind: PlaceKind;
  readonly x_m: number;
  readonly y_m: number;
  readonly length_m: number;
  readonly width_m: number;
}

export interface DrawnWay {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  /** Of its way on the grid; `null` for a direct hand-over, which is drawn all the same. */
  readonly way_m: number | null;
  /** As the file states it; `null` where it does not. */
  readonly stated_m: number | null;
  readonly returns: boolean;
  /** Corners; those of belts in one gap or aisle stand a little apart, so that they can be told apart. */
  readonly points: readonly (readonly [number, number])[];
}

export function floorDrawing(scenario: Scenario, network: Network, line: string): FloorDrawing {
  const plan = floorPlan(scenario, network, line);
  const own = network.connections.filter((connection) => connection.line === line);
  const ways = beltWays(plan, own);
  const drawn = own.flatMap((connection) => {
    const way = ways.get(connection.id);
    return way === undefined ? [] : [{ ...connection, ...way }];
  });
  const corners = apart(drawn.map(({ from, points }) => ({ from, points: points.map(inMetres) })));
  const back = new Set(plan.grid.back.map(({ from, to }) => `${from}\n${to}`));
  return {
    title: scenario.title,
    length_unit: scenario.lengthUnit,
    line,
    length_m: approximate(plan.lengthM),
    width_m: approximate(plan.widthM),
    floor_m2: approximate(plan.m2),
    belt_m: approximate(sum(drawn.filter(({ belt }) => belt !== null).map(({ lengthM }) => lengthM))),
    belt_width_m: approximate(scenario.floor.beltM),
    crossings: plan.crossings,
    aisles: plan.rows.map(({ fromM, sizeM, freeM }) => {
      const from = fromM.add(sizeM);
      return { from_m: approximate(from), to_m: approximate(from.add(freeM)) };
    }),
    places: plan.places.map(({ id, kind, xM, yM, lengthM, widthM }) => ({
      ...{ id, kind, x_m: approximate(xM), y_m: approximate(yM) },
      ...{ length_m: approximate(lengthM), width_m: approximate(widthM) },
    })),
    belts: drawn.map(({ id, from, to, belt, lengthM }, index) => ({
      ...{ id, from, to },
      way_m: belt === null ? null : approximate(lengthM),
      stated_m: belt?.metres ? approximate(belt.metres.lengthM) : null,
      returns: back.has(`${from}\n${to}`),
      points: corners[index] ?? [],
    })),
  };
}

function inMetres({ xM, yM }: Point): [number, number] {
  return [approximate(xM), approximate(yM)];
}

interface Track {
  readonly from: string;
  readonly points: [number, number][];
  /** The piece from this corner to the next. */
  readonly piece: number;
  readonly low: number;
  readonly high: number;
  readonly isDown: boolean;
}

/** How far tracks stand apart at most, metres. */
const APART_M = 0.2;

/**
 * Pieces in one gap or aisle that would lie on one another are moved apart; those from one element stay together. The lowest
 * of those that go down comes first, so that none crosses another without need.
 */
function apart(ways: readonly { readonly from: string; readonly points: [number, number][] }[]): [number, number][][] {
  for (const axis of [0, 1] as const) {
    const lanes = new Map<string, Track[]>();
    for (const { from, points } of ways) {
      for (let piece = 1; piece < points.length - 2; piece++) {
        const [a, b] = [points[piece], points[piece + 1]];
        if (a === undefined || b === undefined || a[axis] !== b[axis]) continue;
        const [start, end] = [a[1 - axis] ?? 0, b[1 - axis] ?? 0];
        const key = a[axis].toFixed(6);
        const track = {
          from,
          points,
          piece,
          low: Math.min(start, end),
          high: Math.max(start, end),
          isDown: end >= start,
        };
        lanes.set(key, [...(lanes.get(key) ?? []), track]);
      }
    }
    for (const tracks of lanes.values()) spread(tracks, axis);
  }
  return ways.map(({ points }) => points);
}

function spread(tracks: readonly Track[], axis: 0 | 1): void {
  const startOf = ({ isDown, low, high }: Track): number => (isDown ? -low : high);
  const ordered = tracks.toSorted((a, b) => Number(b.isDown) - Number(a.isDown) || startOf(a) - startOf(b));
  const placed: { readonly track: Track; readonly at: number }[] = [];
  for (const track of ordered) {
    const same = placed.find((one) => one.track.from === track.from);
    const beside = placed.filter(({ track: other }) => other.low < track.high && track.low < other.high);
    placed.push({ track, at: same?.at ?? Math.max(-1, ...beside.map(({ at }) => at)) + 1 });
  }
  const most = Math.max(...placed.map(({ at }) => at));
  const step = Math.min(APART_M, 0.6 / (most + 1));
  for (const { track, at } of placed) {
    for (const corner of track.points.slice(track.piece, track.piece + 2)) corner[axis] += (at - most / 2) * step;
  }
}
