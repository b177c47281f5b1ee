/** Belts as stated: by length, speed and pitch, by capacity and transit, or as a direct hand-over; their shape, read and written. */
import * as z from "zod/mini";
import { approximate, exact, type Rational, smaller, whole } from "../quantity/rational.ts";
import { formatDuration, formatLength, formatRate, formatSpeed, type LengthUnit } from "../quantity/units.ts";
import type { Path } from "./file-finding.ts";
import { MAX_BELT_ITEMS } from "./file-limits.ts";
import { isStated, type Reading, textAt } from "./reading.ts";
import type { BeltMetres, BeltOrNone, BeltSpec } from "./scenario.ts";
import { count, keys, quantity, withMeta } from "./shape-parts.ts";

export const beltKeys = {
  rate: z.optional(quantity("rate", "What it carries at most; speed / pitch if not stated.")),
  length: z.optional(quantity("length", "Its length; goes with speed and pitch.")),
  speed: z.optional(quantity("speed", "How fast it moves.")),
  pitch: z.optional(quantity("length", "From one item's front to the next one's, packed close.")),
  capacity: z.optional(count(MAX_BELT_ITEMS, "Room for items; with rate, in place of length, speed and pitch.")),
  transit: z.optional(
    quantity("duration", "From end to end, with capacity; capacity / rate if not stated.", {
      zero: true,
    }),
  ),
};

export const none = z.literal("none", { error: "belt" });

const beltShape = withMeta(keys(beltKeys), {
  id: "belt",
  description: "Either length, speed and pitch (and rate), or rate and capacity (and transit).",
});

export const returnBelt = withMeta(keys(beltKeys, "return-belt"), { id: "return-belt" });

export function belt(about: string) {
  return withMeta(
    z.union([withMeta(none, { description: "none: a direct hand-over." }), beltShape], { error: "belt" }),
    { description: about },
  );
}

export type RawBelt = z.output<typeof beltShape>;

const BELT_KEYS = ["rate", "length", "speed", "pitch", "capacity", "transit"] as const;

/**
 * @param raw what the place states, or "none"; `undefined` is returned where it has been found wrong
 * @param otherwise what else the place may state
 */
export function readBelt(
  raw: RawBelt | "none",
  path: Path,
  reading: Reading,
  otherwise: "none" | "" = "none",
): BeltOrNone | undefined {
  const { root, findings } = reading;
  if (findings.damaged(path)) return undefined;
  const stated = BELT_KEYS.filter((key) => isStated(root, path, key));
  if (raw === "none" && stated.length === 0) return null;
  if (raw !== "none") {
    const { rate, length, speed, pitch, capacity, transit } = raw;
    if (length !== undefined && speed !== undefined && pitch !== undefined) {
      if (capacity === undefined && transit === undefined)
        return beltOfLength(length, speed, pitch, rate, path, reading);
    } else if (rate !== undefined && capacity !== undefined) {
      if (length === undefined && speed === undefined && pitch === undefined) {
        return beltOfCapacity(rate, capacity, transit, path, reading);
      }
    }
  }
  const found = [...(raw === "none" ? ["none"] : []), ...stated].join(", ");
  findings.report("belt-form", { found, otherwise }, path);
  return undefined;
}

/**
 * Carries at most speed / pitch; takes length / speed from end to end; has room for length / pitch, a place begun counting
 * as a place, so that there is room for all that is under way at that rate.
 */
function beltOfLength(
  lengthM: Rational,
  speed: Rational,
  pitch: Rational,
  rate: Rational | undefined,
  path: Path,
  { findings, root }: Reading,
): BeltSpec | undefined {
  const most = speed.div(pitch);
  if (rate !== undefined && rate.compare(most) > 0) {
    const found = textAt(root, [...path, "rate"]) ?? formatRate(rate);
    findings.report("belt-too-fast", { found, limit: formatRate(most) }, [...path, "rate"]);
    return undefined;
  }
  const room = lengthM.div(pitch).ceil();
  if (room.compare(MAX_BELT_ITEMS) > 0) {
    const args = { found: exact(room), limit: String(MAX_BELT_ITEMS), what: "items on one belt" };
    findings.report("too-many", args, [...path, "length"]);
    return undefined;
  }
  return measuredBelt({ lengthM, speedMPerMin: speed, pitchM: pitch }, smaller(rate ?? most, most));
}

/** @param ratePerMin at most speed / pitch */
export function measuredBelt(metres: BeltMetres, ratePerMin: Rational): BeltSpec {
  const { lengthM, speedMPerMin, pitchM } = metres;
  const capacity = Number(lengthM.div(pitchM).ceil().n);
  return { ratePerMin, capacity, transitMin: lengthM.div(speedMPerMin), metres };
}

function beltOfCapacity(
  ratePerMin: Rational,
  capacity: number,
  transit: Rational | undefined,
  path: Path,
  { findings }: Reading,
): BeltSpec {
  const transitMin = transit ?? whole(capacity).div(ratePerMin);
  const underWay = ratePerMin.mul(transitMin);
  if (underWay.compare(capacity) > 0) {
    const limit = `${Number(approximate(whole(capacity).div(transitMin)).toFixed(1))}/min`;
    findings.report("belt-slow", { found: String(capacity), limit, needed: exact(underWay.ceil()) }, path);
  }
  return { ratePerMin, capacity, transitMin, metres: null };
}

/** By its length where the file has it so. */
export function beltBody(belt: BeltOrNone, unit: LengthUnit) {
  if (belt === null) return null;
  const { ratePerMin, capacity, transitMin, metres } = belt;
  if (metres !== null) {
    const { lengthM, speedMPerMin, pitchM } = metres;
    return {
      rate: formatRate(ratePerMin),
      length: formatLength(lengthM, unit),
      speed: formatSpeed(speedMPerMin, unit),
      pitch: formatLength(pitchM, unit),
    };
  }
  return { rate: formatRate(ratePerMin), capacity, transit: formatDuration(transitMin) };
}
