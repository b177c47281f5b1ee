/** Belts as stated: by length, speed and pitch, by capacity and transit, or as a direct hand-over. */
import { approximate, exact, type Rational, smaller, whole } from "../quantity/rational.ts";
import { formatRate } from "../quantity/units.ts";
import type { Path } from "./file-finding.ts";
import { MAX_BELT_ITEMS } from "./file-limits.ts";
import { isStated, type Reading, textAt } from "./reading.ts";
import type { BeltMetres, BeltOrNone, BeltSpec } from "./scenario.ts";
import type { RawBelt } from "./shapes.ts";

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
